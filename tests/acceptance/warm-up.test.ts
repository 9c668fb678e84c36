// Cold vehicles that the engine warms before their recovery, and their twins that nobody warms.
import { describe, expect, test } from 'vitest';
import { VALVES } from '../../controller/signals.ts';
import { runScenario } from './run-scenario.ts';

const COLD = {
  seed: 3,
  weather: { ambientC: 10 },
  ticket: { refrigerant: 'R-134a', nominalChargeG: 600, service: 'recover', engine: 'can-run' },
  vehicle: { chargeG: 600, oilG: 120, accumulatorHeatCapacityJPerK: 300 },
  tank: { contentKg: 8 },
};
type Ticket = object;
/** From the question to the start: what a scenario that says nothing has. */
const DELAY_MS = 10_000;

async function recovered(ticket: Ticket, more: object = {}) {
  const asked: string[] = [];
  let openWhileRunning = 0;
  let askedMs = 0;
  let stoppedMs = 0;
  const job = await runScenario({ ...COLD, ...more, ticket: { ...COLD.ticket, ...ticket } }, [
    ({ progress, commands, events, nowMs }) => {
      const id = progress.prompt?.id;
      if (id !== undefined && asked.at(-1) !== id) asked.push(id);
      const warming = id === 'warm-vehicle';
      if (warming && askedMs === 0) askedMs = nowMs;
      if (events.some((event) => event.type === 'confirmed' && event.prompt === 'warm-vehicle'))
        stoppedMs = nowMs;
      if (warming && VALVES.some((valve) => commands[valve].on)) openWhileRunning += 1;
    },
  ]);
  const gone = (cycles: number): number =>
    job.recovery!.cycles.slice(0, cycles).reduce((sum, { recoveredG }) => sum + recoveredG, 0) / 600;
  const codes = job.notices.map(({ code }) => code);
  return { job, codes, asked, openWhileRunning, gone, ranMin: (stoppedMs - askedMs - DELAY_MS) / 60_000 };
}

describe('600 g in a cold vehicle with an accumulator', () => {
  test.each(['good', 'hobby'])(
    'warmed for 15 min at most gives up more than 95 %% in two cycles (%s)',
    async (equipment) => {
      const { job, gone, ranMin, asked, codes } = await recovered({ warmUp: true }, { equipment });
      expect(job.outcome).toBe('completed');
      expect(codes).not.toContain('liquid-trapped');
      expect(gone(2)).toBeGreaterThan(0.95);
      expect(job.truth.vehicleRefrigerantG).toBeLessThan(0.05 * 600);
      expect(ranMin).toBeGreaterThan(10);
      expect(ranMin).toBeLessThanOrEqual(15);
      expect(asked.filter((id) => id !== 'read-catch-bottle')).toEqual([
        'identify-refrigerant',
        'connect-hoses',
        'warm-vehicle',
        'close-couplers',
      ]);
    },
  );

  test('not warmed it takes three cycles and more, and the advice is to warm it another time', async () => {
    const { job, gone, asked } = await recovered({});
    expect(job.recovery!.cycles.length).toBeGreaterThanOrEqual(3);
    expect(gone(2)).toBeLessThan(0.95);
    expect(asked).not.toContain('warm-vehicle');
    const advice = job.notices.find(({ code }) => code === 'liquid-trapped')!;
    expect(advice.remedy).toMatch(/let the engine warm the vehicle/);
  });

  test('a vehicle whose engine cannot run is NOT told to let it run', async () => {
    const { job } = await recovered({ engine: 'cannot-run' });
    const advice = job.notices.find(({ code }) => code === 'liquid-trapped')!;
    expect(advice.remedy).not.toMatch(/engine/);
  });

  test('while the engine runs no valve of the machine opens, and nothing is vented', async () => {
    const { job, openWhileRunning } = await recovered({ warmUp: true });
    expect(openWhileRunning).toBe(0);
    expect(job.truth.ventedG).toBe(0);
  });
});

test('where the engine has warmed too little for a large charge, the second draw shows what is trapped', async () => {
  const { codes } = await recovered(
    { warmUp: true, nominalChargeG: 900 },
    { vehicle: { ...COLD.vehicle, chargeG: 900, volumeL: 3.5 } },
  );
  expect(codes.slice(0, 4)).toEqual([
    'warm-up-enough',
    'restarted-on-rise',
    'restarted-on-rise',
    'liquid-trapped',
  ]);
});

describe('What is NOT warmed', () => {
  test('an empty vehicle: nobody is asked', async () => {
    const { asked, codes } = await recovered({ warmUp: true }, { vehicle: { chargeG: 0 } });
    expect(codes).toContain('vehicle-empty');
    expect(asked).not.toContain('warm-vehicle');
  });

  test('a compressor that stays off: the engine is stopped after minutes, and the recovery goes on', async () => {
    const cold = { weather: { ambientC: 3 } };
    const { codes, ranMin, job } = await recovered({ warmUp: true }, cold);
    expect(codes).toContain('warm-up-in-vain');
    expect(ranMin).toBeLessThan(5);
    expect(job.masses.recoveredG).toBeGreaterThan(500);
  });
});
