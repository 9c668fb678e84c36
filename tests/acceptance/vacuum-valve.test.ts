// Whole jobs in which the vacuum valve stands open though it is told to shut: little is vented, and nothing is let in after.
import { describe, expect, test } from 'vitest';
import { runScenario } from './run-scenario.ts';

const COMMON = { seed: 4, weather: { ambientC: 20 }, tank: { contentKg: 8 } };
const VEHICLE = { volumeL: 1.5, oilG: 30, accumulatorHeatCapacityJPerK: 2000, accumulatorUaWPerK: 10 };
const WHOLE = {
  ...COMMON,
  ticket: { refrigerant: 'R-134a', nominalChargeG: 300 },
  vehicle: { ...VEHICLE, chargeG: 250 },
};
const EMPTY = {
  ...COMMON,
  ticket: { refrigerant: 'R-134a', nominalChargeG: 300, service: 'evacuate-and-charge', leakCheck: true },
  vehicle: { ...VEHICLE, chargeG: 0 },
};

type Job = Awaited<ReturnType<typeof runScenario>>;
const stuck = (file: object, stage: string, afterS: number): Promise<Job> =>
  runScenario({ ...file, faults: [{ fault: 'vacuum-valve-stuck-open', stage, afterS }] });
const texts = ({ notices }: Job): string =>
  notices.map(({ code, text, remedy }) => `${code} ${text} ${remedy}`).join('\n');

describe('A vacuum valve that stands open', () => {
  test.each([
    { stage: 'settle', afterS: 2, file: WHOLE },
    { stage: 'charge', afterS: 1, file: EMPTY },
  ])('is found when the manifold is next closed: in $stage', async ({ stage, afterS, file }) => {
    const job = await stuck(file, stage, afterS);
    expect(texts(job)).toContain('IL-46');
    expect(job.outcome).toBe('stopped');
    expect(job.truth.pumpExhaustG).toBeLessThan(10);
  });

  test.each(['evacuate', 'hold'])('lets nothing be charged after the %s that it spoils', async (stage) => {
    const job = await stuck(EMPTY, stage, 60);
    expect(texts(job)).toMatch(/vacuum.valve/);
    expect(job.outcome).toBe('stopped');
    expect(job.truth.vehicleRefrigerantG).toBeLessThan(1);
  });
});

describe('Nothing of it is said', () => {
  test.each([
    { what: 'in a whole job', file: WHOLE },
    { what: 'in a charge after a search', file: EMPTY },
  ])('and NOT where it shuts: $what', async ({ file }) => {
    const job = await runScenario(file);
    expect(texts(job)).not.toMatch(/IL-46|vacuum-gone|vacuum-came-back|machine-leaks/);
    expect(job.outcome).toBe('completed');
  });
});
