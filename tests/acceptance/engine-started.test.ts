// An engine that somebody starts unasked while the machine charges, and a side that loses its sensor then.
import { describe, expect, test } from 'vitest';
import type { Observer } from '../../app/run/loop.ts';
import { runScenario } from './run-scenario.ts';

const charging = (equipment: string, fault: object, more: object = {}, ...observers: Observer[]) =>
  runScenario(
    {
      seed: 4,
      equipment,
      weather: { ambientC: 20 },
      ticket: { refrigerant: 'R-134a', nominalChargeG: 600, service: 'evacuate-and-charge' },
      vehicle: { chargeG: 0 },
      tank: { contentKg: 8 },
      faults: [{ stage: 'charge', ...fault }],
      ...more,
    },
    observers,
  );
type Job = Awaited<ReturnType<typeof charging>>;
const codes = ({ notices }: Job): readonly string[] => notices.map(({ code }) => code);

describe.each(['good', 'hobby'])('An engine that runs while the machine charges (%s)', (equipment) => {
  test('is what is named, once, and a charge goes on to its target when it has stopped', async () => {
    const job = await charging(equipment, { fault: 'engine-started-early', forS: 300 });
    expect(codes(job).filter((code) => code === 'charge-stalled-engine')).toHaveLength(1);
    expect(codes(job)).not.toContain('charge-stalled-supply');
    expect(codes(job)).not.toContain('charge-stalled-coupler');
    expect(job.outcome).toBe('completed');
    expect(Math.abs(job.truth.vehicleRefrigerantG - 600)).toBeLessThan(equipment === 'good' ? 8 : 20);
  });

  test('and that goes on running ends the job, with nothing vented and nobody asked to start it', async () => {
    const asked = new Set<string>();
    const noting: Observer = ({ progress }) => progress.prompt !== undefined && asked.add(progress.prompt.id);
    const job = await charging(equipment, { fault: 'engine-started-early' }, {}, noting);
    expect(codes(job)).toContain('charge-stalled-engine');
    expect(job.outcome).toBe('stopped');
    expect(job.truth.ventedG).toBe(0);
    expect(asked).not.toContain('start-engine');
  });
});

test.each(['good', 'hobby'])(
  'A vehicle that is merely warmer than the tank is NOT one (%s)',
  async (equipment) => {
    const job = await runScenario({
      seed: 6,
      equipment,
      weather: { ambientC: 35 },
      ticket: { refrigerant: 'R-134a', nominalChargeG: 650, service: 'evacuate-and-charge' },
      vehicle: { chargeG: 0 },
      tank: { contentKg: 8, temperatureC: 15 },
    });
    expect(codes(job)).not.toContain('charge-stalled-engine');
  },
);

test('A side without a reading is named as what ends the charge, and no engine is asked for', async () => {
  const warm = { weather: { ambientC: 28 }, tank: { contentKg: 8, temperatureC: 20 } };
  const job = await charging('good', { fault: 'high-sensor-short', afterS: 60 }, warm);
  expect(codes(job)).toContain('charge-stalled-blind');
  expect(codes(job)).not.toContain('charge-waits-engine');
  expect(job.outcome).toBe('stopped');
});
