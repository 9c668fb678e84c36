// The power fails in the middle of every stage that the machine has, and the job is gone on with: nothing is lost, doubled or
// charged twice. Whole jobs, so they run apart from the suite.
import { expect, test } from 'vitest';
import { clockMs, fluidOnce, PACING } from '../../app/bench/whole-jobs.ts';
import { breaks } from '../../app/records/chain.ts';
import { bookedKg, entriesOfJob } from '../../app/records/ledger.ts';
import { readLeftOpen } from '../../app/records/left-open.ts';
import { benchOf, closeLeft, goOn, lookAt } from '../../app/records/resume.ts';
import { numberIn } from '../../app/records/store.ts';
import { STAGES, type Stage } from '../../controller/stages.ts';
import { faultsScenario, jobFor, NOMINAL_G } from '../accuracy/faults-scenario.ts';
import { newFile, recordedRun, withStore } from '../app/records/jobs.ts';

const WITHIN_KG = 0.005;
/** Into a stage: before its first question is answered. */
const AFTER_MS = 3_000;

test.each(STAGES)('in %s', async (stage: Stage) => {
  const scenario = { name: stage, ...faultsScenario('good', jobFor(stage), []) };
  const file = newFile();
  const throwing = (problem: Error): never => {
    throw problem;
  };
  await withStore(file, (store) =>
    recordedRun(store, scenario, {
      look: ({ nowMs }, loop) => {
        const visit = loop.state.visits.find((one) => one.stage === stage);
        if (visit !== undefined && nowMs >= visit.startedAtMs + AFTER_MS) loop.die();
      },
    }),
  );
  await withStore(file, async (store) => {
    expect(store.damage()).toEqual([]);
    const left = readLeftOpen(store, undefined)!;
    expect(left.state.visits.at(-1)?.stage).toBe(stage);
    const session = benchOf(left, fluidOnce, clockMs);
    const looked = lookAt(left, session);
    const parts = { store, calendar: Date.now, left, looked, failed: throwing };
    const mayGoOn = looked.offered.some(({ choice }) => choice === 'go-on');
    const facts = mayGoOn
      ? (await goOn(parts, session, { observers: [], pacing: PACING })).facts
      : closeLeft(parts);
    const truth = session.bench.truth();
    const { ledger, masses } = facts.result!;
    const booked = entriesOfJob(store, left.record.line.id).filter(
      ({ movement }) => !['stock', 'left-off'].includes(movement),
    );
    expect(booked.map(({ massKg }) => massKg)).toEqual(ledger.map(({ massKg }) => massKg));
    const stock = store.one("SELECT mass_kg FROM ledger WHERE movement = 'stock'");
    if (stock !== undefined) {
      const gainKg = bookedKg(store, left.record.tank) - numberIn(stock, 'mass_kg');
      expect(Math.abs(gainKg - (truth.tankRefrigerantKg - scenario.tank.contentKg))).toBeLessThan(WITHIN_KG);
    }
    expect(1000 * truth.vehicleRefrigerantKg).toBeLessThan(NOMINAL_G + 15);
    if (masses.netChargeKg !== undefined)
      expect(Math.abs(masses.netChargeKg - truth.vehicleRefrigerantKg)).toBeLessThan(WITHIN_KG);
    expect(breaks(store)).toEqual([]);
    expect(readLeftOpen(store, undefined)).toBeUndefined();
  });
});
