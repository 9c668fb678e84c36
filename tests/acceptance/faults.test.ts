// Whole jobs in which something goes wrong: what a scenario asks for happens, when it says, and no more is vented than ever.
import { describe, expect, test } from 'vitest';
import { fluidData, prepare } from '../../app/run/prepare.ts';
import { printedRecord } from '../../app/run/printed.ts';
import { runSession } from '../../app/run/session.ts';
import { toScenario } from '../../app/scenario/scenario.ts';
import { unitsFor } from '../../app/units.ts';
import { FAULT_NAMES, FAULTS } from '../../sim/faults.ts';
import { runScenario } from './run-scenario.ts';

const SCAN_S = 0.1;
/** A small vehicle with a warm accumulator: a short job. */
const JOB = {
  seed: 4,
  weather: { ambientC: 20 },
  ticket: { refrigerant: 'R-134a', nominalChargeG: 150 },
  vehicle: { chargeG: 100, volumeL: 1.5, accumulatorHeatCapacityJPerK: 2000, accumulatorUaWPerK: 10 },
  tank: { contentKg: 8 },
};
const RECOVER = { ...JOB, ticket: { ...JOB.ticket, service: 'recover' } };
const fluid = fluidData('R-134a');

const entry = (fault: string, more: object = {}) => ({
  fault,
  ...(FAULTS[fault as keyof typeof FAULTS].output ? { output: 'recoveryValve' } : {}),
  ...more,
});
type Job = Awaited<ReturnType<typeof runScenario>>;
const startOf = (job: Job, stage: string): number =>
  job.stages.find((visit) => visit.stage === stage)!.startedAtS;
const withoutWallTimes = (job: Job) => ({ ...job, wallS: 0, tablesS: 0 });

describe.each([...FAULT_NAMES])('%s for twenty seconds of a recovery', (fault) => {
  test('comes and goes when it should, breaks nothing and vents nothing', async () => {
    const job = await runScenario({
      ...RECOVER,
      faults: [entry(fault, { stage: 'recover', afterS: 30, forS: 20 })],
    });
    const onAtS = startOf(job, 'recover') + 30;
    const [only] = job.faults!;
    expect(only).toMatchObject({ fault, onAtS: expect.closeTo(onAtS, 6) });
    if (fault !== 'power-lost') expect(only!.offAtS).toBeCloseTo(onAtS + 20, 6);
    expect(job.notices.map(({ text }) => text).join()).not.toContain('controller fault');
    expect(job.truth.ventedG).toBeLessThan(fault === 'drain-float-stuck' ? 0.3 : 1e-9);
    expect(Math.abs(job.truth.massDriftG)).toBeLessThan(1e-3);
  });
});

test('a time between two scans is met by the next one', async () => {
  const job = await runScenario({ ...RECOVER, faults: [entry('scale-leaned-on', { atS: 61.23, forS: 5 })] });
  expect(job.faults![0]!.onAtS! - 61.23).toBeGreaterThanOrEqual(0);
  expect(job.faults![0]!.onAtS! - 61.23).toBeLessThan(SCAN_S);
});

test('the same seed with the same faults gives the same document, and without them it says nothing of faults', async () => {
  const faults = [
    entry('scale-spikes', { stage: 'recover', forS: 60 }),
    entry('link-lost', { atS: 200, forS: 2 }),
  ];
  const [one, two, none] = [
    await runScenario({ ...RECOVER, faults }),
    await runScenario({ ...RECOVER, faults }),
    await runScenario(RECOVER),
  ];
  expect(withoutWallTimes(two)).toEqual(withoutWallTimes(one));
  expect(none.faults).toBeUndefined();
  expect(withoutWallTimes(await runScenario({ ...RECOVER, faults: [] }))).toEqual(withoutWallTimes(none));
});

test('a fault on from the start is on at time 0', async () => {
  const job = await runScenario({ ...RECOVER, faults: [entry('wrong-tank', { size: 0.8 })] });
  expect(job.faults).toEqual([{ fault: 'wrong-tank', size: 0.8, onAtS: 0 }]);
});

test('a fault whose stage never came has no times, and the record says so', async () => {
  const scenario = toScenario(
    { ...RECOVER, faults: [entry('coupler-shut', { stage: 'charge' })] },
    'the test',
  );
  const wallClockMs = () => 0;
  const session = prepare(scenario, 'the test', () => fluid, wallClockMs);
  const facts = await runSession(session, {
    observers: [],
    pacing: { wallClockMs: () => performance.now(), breathe: async () => {} },
  });
  const record = printedRecord(scenario, facts, session.equipment, unitsFor('si', 101_325));
  expect(record).toMatch(/Faults +coupler-shut was never switched on: the job ended before/);
  expect(facts.outcome).toBe('completed');
});

describe('a mains failure', () => {
  test.each(['recover', 'rest', 'evacuate', 'hold', 'charge', 'recover-hoses'])(
    'in %s ends the job as stopped, with the stage left open and every path shut',
    async (stage) => {
      const job = await runScenario({ ...JOB, faults: [entry('power-lost', { stage, afterS: 20 })] });
      expect(job.outcome).toBe('stopped');
      const last = job.stages.at(-1)!;
      expect(last.stage).toBe(stage);
      expect(last.endedAtS).toBeUndefined();
      expect(job.simulatedS).toBeCloseTo(last.startedAtS + 20, 6);
      for (const visit of job.stages.slice(0, -1)) expect(visit.endedAtS).toBeDefined();
      expect(job.truth.ventedG).toBe(0);
      if (['evacuate', 'hold', 'charge'].includes(stage)) expect(job.masses.recoveredG).toBeGreaterThan(80);
    },
  );

  test('at the very start leaves a document of nothing', async () => {
    const job = await runScenario({ ...JOB, faults: [entry('power-lost')] });
    expect(job).toMatchObject({ outcome: 'stopped', masses: {}, simulatedS: 0 });
    expect(job.truth.vehicleRefrigerantG).toBeCloseTo(100, 3);
  });
});

describe('a cut line', () => {
  test.each(['recover', 'rest', 'evacuate', 'hold', 'charge', 'recover-hoses'])(
    'for good in %s ends in the safe state: nothing is commanded a second later, and nothing moves',
    async (stage) => {
      let cutAtMs = Number.POSITIVE_INFINITY;
      let lastOnAtMs = 0;
      const job = await runScenario({ ...JOB, faults: [entry('link-lost', { stage, afterS: 20 })] }, [
        ({ nowMs, commands, progress }) => {
          if (progress.stage === stage) cutAtMs = Math.min(cutAtMs, nowMs + 20_000);
          if (Object.values(commands).some(({ on }) => on)) lastOnAtMs = nowMs;
        },
      ]);
      expect(job.outcome).toBe('stopped');
      expect(lastOnAtMs - cutAtMs).toBeLessThanOrEqual(1_100);
      expect(job.notices.map(({ text }) => text).join()).not.toContain('controller fault');
      expect(job.truth.ventedG).toBe(0);
    },
  );
});
