import { deflateSync, inflateSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { clockMs, fluidOnce, PACING } from '../../app/bench/whole-jobs.ts';
import { breaks } from '../../app/records/chain.ts';
import { bookedKg, entriesOfJob } from '../../app/records/ledger.ts';
import { readLeftOpen } from '../../app/records/left-open.ts';
import { recalled } from '../../app/records/recall.ts';
import { benchOf, closeLeft, goOn, takenUp as goOnFrom, lookAt } from '../../app/records/resume.ts';
import { numberIn, type Store, textIn } from '../../app/records/store.ts';
import { scan } from '../../controller/scan.ts';
import type { Stage } from '../../controller/stages.ts';
import { CAR, newFile, recordedRun, withStore } from '../app/records/jobs.ts';

const OPENED = { ...CAR, ticket: { ...CAR.ticket, opened: true, dyeMl: 5, oil: { addMl: 10 } } };
const NOMINAL_G = 400;

/** A job whose process is as good as dead some time after a stage was entered; the file is opened anew afterwards. */
async function cutIn(stage: Stage, afterMs: number, car: object = CAR): Promise<string> {
  const file = newFile();
  await withStore(file, (store) =>
    recordedRun(store, car, {
      look: ({ nowMs }, loop) => {
        const visit = loop.state.visits.find((one) => one.stage === stage);
        if (visit !== undefined && nowMs >= visit.startedAtMs + afterMs) loop.die();
      },
    }),
  );
  return file;
}

function takenUp(store: Store) {
  const left = readLeftOpen(store, undefined)!;
  const session = benchOf(left, fluidOnce, clockMs);
  const looked = lookAt(left, session);
  const failed = (problem: Error): never => {
    throw problem;
  };
  return { left, session, looked, parts: { store, calendar: Date.now, left, looked, failed } };
}

const STAGES: readonly (readonly [Stage, number])[] = [
  ['recover', 60_000],
  ['evacuate', 200_000],
  ['hold', 120_000],
  ['charge', 20_000],
  ['charge', 120_000],
  ['recover-hoses', 30_000],
];

describe('a job whose power failed, taken up again', () => {
  test.each(STAGES)(
    'in %s goes on by choice alone: nothing is lost, doubled or charged twice',
    async (stage, afterMs) => {
      await withStore(await cutIn(stage, afterMs), async (store) => {
        const { left, session, looked, parts } = takenUp(store);
        expect(store.damage()).toEqual([]);
        expect(left.state.visits.at(-1)?.stage).toBe(stage);
        expect(looked.offered.map(({ choice }) => choice)).toEqual(['go-on', 'close']);
        const { facts, closed } = await goOn(parts, session, { observers: [], pacing: PACING });
        const truth = session.bench.truth();
        expect({ stage, outcome: facts.outcome, closed }).toEqual({
          stage,
          outcome: 'completed',
          closed: true,
        });
        expect(Math.abs(1000 * truth.vehicleRefrigerantKg - NOMINAL_G)).toBeLessThan(15);
        expect(Math.abs(facts.result!.masses.netChargeKg! - truth.vehicleRefrigerantKg)).toBeLessThan(0.005);
        const entries = entriesOfJob(store, left.record.line.id).filter(
          ({ movement }) => movement !== 'stock',
        );
        expect(entries.map(({ massKg }) => massKg)).toEqual(facts.result!.ledger.map(({ massKg }) => massKg));
        const stockKg = numberIn(store.one("SELECT mass_kg FROM ledger WHERE movement = 'stock'"), 'mass_kg');
        const gainKg = bookedKg(store, left.record.tank) - stockKg;
        expect(Math.abs(gainKg - (truth.tankRefrigerantKg - 8))).toBeLessThan(0.005);
        expect(store.one("SELECT body FROM journal WHERE kind = 'chosen'")).toMatchObject({
          body: expect.stringContaining('"choice":"go-on"'),
        });
        expect(breaks(store)).toEqual([]);
        // Nobody watched the vacuum meanwhile.
        const stages = facts.result!.stages.map((visit) => visit.stage);
        if (stage === 'hold') expect(stages.filter((one) => one === 'evacuate').length).toBeGreaterThan(1);
      });
    },
  );

  test('and closed as it stands books what the scale has found, and lets another job begin', async () => {
    await withStore(await cutIn('recover', 300_000), async (store) => {
      const { left, session, looked, parts } = takenUp(store);
      closeLeft(parts);
      const [found] = entriesOfJob(store, left.record.line.id).filter(
        ({ movement }) => movement === 'left-off',
      );
      const gainedKg = session.bench.truth().tankRefrigerantKg - 8;
      expect(gainedKg).toBeGreaterThan(0.05);
      expect(Math.abs(found!.massKg - gainedKg)).toBeLessThan(Math.max(0.005, 2 * found!.sdKg));
      expect(looked.afterCut.next).toBe('recover-again');
      expect(breaks(store)).toEqual([]);
      expect(readLeftOpen(store, undefined)).toBeUndefined();
    });
  });

  /** As an earlier version wrote it: without its name, and without what weighings have had since. */
  function ofAnotherVersion(store: Store): void {
    const { job, state } = store.one('SELECT job, state FROM checkpoints')!;
    const written = inflateSync(state as Uint8Array)
      .toString('utf8')
      .replaceAll(/,"undecidedVarianceKg2":[^,}]+/g, '')
      .replace(/,"controller":"[^"]+"/, '');
    store.write(() =>
      store.run('UPDATE checkpoints SET state = ?2 WHERE job = ?1', Number(job), deflateSync(written)),
    );
  }

  test('begun by another version is only closed, and every gram of it is found all the same', async () => {
    await withStore(await cutIn('recover', 300_000), async (store) => {
      ofAnotherVersion(store);
      const { left, session, looked, parts } = takenUp(store);
      expect(looked.offered.map(({ choice }) => choice)).toEqual(['close']);
      expect(looked.offered[0]!.text).toContain('Another version of Coldbench has begun it');
      closeLeft(parts);
      const [found] = entriesOfJob(store, left.record.line.id).filter(
        ({ movement }) => movement === 'left-off',
      );
      const gainedKg = session.bench.truth().tankRefrigerantKg - 8;
      expect(Math.abs(found!.massKg - gainedKg)).toBeLessThan(Math.max(0.005, 2 * found!.sdKg));
      expect(found!.sdKg).toBeGreaterThan(0);
      expect(breaks(store)).toEqual([]);
    });
  });

  /** What a look finds where the scale shows so much more than it did at the last words. */
  function lookedWith(store: Store, gainedKg: number) {
    const left = readLeftOpen(store, undefined)!;
    const { estimates, equipment } = left.state;
    const counts = estimates.scale.counts - gainedKg * equipment.scale.countsPerKg;
    const scale = { ...estimates.scale, counts };
    const { offered, found } = lookAt(
      { ...left, state: { ...left.state, estimates: { ...estimates, scale } } },
      benchOf(left, fluidOnce, clockMs),
    );
    return { choices: offered.map(({ choice }) => choice), found };
  }

  test('with another tank, or with something put on the platform, is only closed: it would be charged for again', async () => {
    await withStore(await cutIn('evacuate', 400_000), (store) => {
      expect(lookedWith(store, -0.6).choices).toEqual(['close']);
      expect(lookedWith(store, 0.05).choices).toEqual(['close']);
      expect(lookedWith(store, 0).choices).toEqual(['go-on', 'close']);
    });
    await withStore(await cutIn('charge', 20_000), (store) => {
      expect(lookedWith(store, 0.3)).toMatchObject({ choices: ['close'], found: { isExplained: false } });
      // What was being charged goes on leaving the tank until its valve has shut.
      expect(lookedWith(store, -0.1).choices).toEqual(['go-on', 'close']);
    });
  });

  test('cut off once more in the moment of its going on is weighed against the weighing of that choice', async () => {
    await withStore(await cutIn('evacuate', 400_000), (store) => {
      const first = takenUp(store);
      goOnFrom(first.parts, first.session.bench.nowMs(), () => undefined);
      const { left, looked } = takenUp(store);
      expect(left.lastWords.kind).toBe('chosen');
      expect(looked.found).toMatchObject({ isExplained: true });
      expect(looked.offered.map(({ choice }) => choice)).toEqual(['go-on', 'close']);
    });
  });

  test('has all its time again after a night: neither its stage nor its pause has run out meanwhile', async () => {
    await withStore(await cutIn('recover', 120_000), (store) => {
      const left = readLeftOpen(store, undefined)!;
      const { chart, memory } = left.state;
      const tripped = {
        ...left.state,
        chart: { value: 'tripped', context: { ...chart.context, interrupted: 'recover' } } as typeof chart,
        memory: {
          ...memory,
          trip: { row: 'IL-01', reason: 'emergency stop', atMs: memory.lastScanMs },
        } as typeof memory,
      };
      const { bench } = benchOf(left, fluidOnce, clockMs);
      bench.advanceTo(bench.nowMs() + 9 * 3_600_000);
      for (const journal of [left.state, tripped]) {
        const nowMs = bench.nowMs();
        const state = recalled(journal, nowMs, []);
        const { value } = scan(state, bench.readings(), nowMs + 100, []).state.chart;
        expect(value).toBe(journal === tripped ? 'tripped' : 'paused');
        expect(nowMs - state.stage!.sinceMs).toBe(memory.lastScanMs - journal.stage!.sinceMs);
      }
    });
  });

  test('is not taken from a process that still runs it', async () => {
    await withStore(await cutIn('settle', 5_000, OPENED), (store) => {
      const holder = JSON.parse(textIn(store.one('SELECT holder FROM jobs'), 'holder')) as { pid: number };
      const parent = { ...holder, pid: process.ppid, started: '' };
      store.run('UPDATE jobs SET holder = ?', JSON.stringify(parent));
      // Another start of that process: its number was given anew.
      expect(readLeftOpen(store, undefined)).toBeDefined();
    });
  });
});
