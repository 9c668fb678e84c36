// Mains that fail within a whole job and come back: sampled here, at every second in `npm run accuracy -- power-cuts`.
import { expect, test } from 'vitest';
import { clockMs, fluidOnce, PACING } from '../../app/bench/whole-jobs.ts';
import { runDocument } from '../../app/run/document.ts';
import { prepare } from '../../app/run/prepare.ts';
import { printedRecord } from '../../app/run/printed.ts';
import { runSession } from '../../app/run/session.ts';
import { toScenario } from '../../app/scenario/scenario.ts';
import { unitsFor } from '../../app/units.ts';
import { cutJob, KINDS, overG } from '../accuracy/power-cuts-job.ts';

/** Given too much on purpose where hoses are drawn back: 40 g, and what the scale may be off by. */
const ON_PURPOSE_G = 48;
/** From the hoses being put on to the hoses being drawn back. */
const CUTS_S = [30, 47, 400, 1000, 1380, 2990, 3040, 3100, 3250];

test.each([
  ['good', KINDS[0]],
  ['good', KINDS[1]],
  ['hobby', KINDS[0]],
] as const)(
  'cuts in a whole job (%s, %s): nothing vented, no gram lost from sight',
  async (profile, kind) => {
    const stages = new Set<string>();
    for (const atS of CUTS_S) {
      const { cut } = await cutJob(profile, kind, atS);
      const what = `cut at ${atS} s in ${cut!.stage}`;
      stages.add(cut!.stage);
      expect(cut!.ventedG, what).toBe(0);
      expect(cut!.exhaustedInTheDarkG, what).toBeLessThan(1e-6);
      expect(Math.abs(cut!.driftG), what).toBeLessThan(1e-3);
      expect(Math.abs(cut!.errorG!), what).toBeLessThan(Math.min(5, cut!.uncertaintyG!));
      expect(overG(cut!), what).toBeLessThan(ON_PURPOSE_G);
      const { leastG, mostG } = cut!.vehicle ?? { leastG: 0, mostG: 450 };
      expect(cut!.vehicleG, what).toBeGreaterThanOrEqual(leastG);
      expect(cut!.vehicleG, what).toBeLessThan(mostG);
    }
    expect(stages.size).toBeGreaterThanOrEqual(4);
  },
);

test('document and record say what is known and what must come next; without a way back they do not', async () => {
  const made = async (forS?: number) => {
    const scenario = toScenario(
      {
        seed: 4,
        ticket: { refrigerant: 'R-134a', nominalChargeG: 600 },
        vehicle: { chargeG: 450 },
        faults: [
          { fault: 'power-lost', stage: 'recover', afterS: 120, ...(forS === undefined ? {} : { forS }) },
        ],
      },
      'the test',
    );
    const session = prepare(scenario, 'the test', fluidOnce, clockMs);
    const facts = await runSession(session, { observers: [], pacing: PACING });
    const record = printedRecord(scenario, facts, session.equipment, unitsFor('si', 101_325));
    return { document: runDocument(facts), record };
  };
  const { document, record } = await made(30);
  const { onAtS, offAtS } = document.faults![0]!;
  expect(offAtS! - onAtS!).toBeCloseTo(30, 6);
  expect(document.outcome).toBe('stopped');
  expect(document.afterCut).toMatchObject({ next: 'recover-again', engineMayRun: false });
  expect(document.afterCut!.tankGainG!).toBeGreaterThan(50);
  expect(record).toMatch(/Power back +the tank has gained [\d.]+ k?g ± [\d.]+ k?g/);
  expect(record).toMatch(/recover to the end/);
  const dark = await made();
  expect(dark.document.afterCut).toBeUndefined();
  expect(dark.record).not.toContain('Power back');
});
