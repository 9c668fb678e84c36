// Takes up a job that was left open: what it looks like once its tank is weighed, and going on or closing as chosen; on the simulated
// bench with the bench put back.
import { type AfterCut, gainSinceBooked, standAfterCut } from '../../controller/after-cut.ts';
import { isFinished } from '../../controller/chart-state.ts';
import type { Weighing } from '../../controller/estimates/masses.ts';
import { type Found, foundAfterCut } from '../../controller/found-after-cut.ts';
import { jobResult } from '../../controller/result.ts';
import { SAFE_COMMANDS } from '../../controller/signals.ts';
import type { ControllerState } from '../../controller/state.ts';
import { weighAfterCut } from '../run/after-cut.ts';
import type { JobFacts } from '../run/document.ts';
import { factsOf } from '../run/ended.ts';
import { FaultSchedule } from '../run/faults.ts';
import { runVirtual, ScanLoop } from '../run/loop.ts';
import { type FluidData, prepare, type Session } from '../run/prepare.ts';
import { type Onlookers, operatorAt } from '../run/session.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { type Calendar, isoOf } from './calendar.ts';
import { takeJob } from './jobs.ts';
import { JobJournal } from './journal.ts';
import { bookFound } from './ledger.ts';
import type { LeftOpen } from './left-open.ts';
import { packWorld } from './packed.ts';
import { type Choice, choicesFor, type Offered, recalled, stageOf } from './recall.ts';
import { closeRecord, type JobKept } from './recorder.ts';
import type { Store } from './store.ts';
import { supplyOf } from './vessels.ts';

/** A bench whose process was killed has lain in the dark for so long, every valve shut. */
const DARK_MS = 60_000;
/** A recalled controller hears the sensors for so long before it goes on. */
export const LISTEN_MS = 15_000;

export type Looked = {
  readonly afterCut: AfterCut;
  /** Since the journal's last words; absent where one of the two looks is not to be had. */
  readonly found: Found | undefined;
  readonly weighed: Weighing | undefined;
  readonly offered: readonly Offered[];
};

const keptOf = ({ record }: LeftOpen): JobKept => ({
  name: record.line.name,
  machine: record.line.machine,
  ticket: record.ticket,
  equipment: record.equipment,
  origin: record.origin,
});

/** What is known of a job that was left open, once its tank has been weighed. */
export function lookedAt(left: LeftOpen, weighed: Weighing | undefined): Looked {
  const { state, lastWords, lastIntent, weighedForChoice, isOurs } = left;
  const afterCut = standAfterCut(state, weighed);
  const found = foundAfterCut(
    state,
    lastWords.kind === 'intent' ? lastIntent : [],
    weighedForChoice,
    weighed,
  );
  const standing = { stage: stageOf(state), found, afterCut, isOurs };
  return {
    afterCut,
    found,
    weighed,
    offered: choicesFor(standing, isFinished(state.chart)),
  };
}

/** The bench of a simulated job, put back to where it was last written down and left in the dark since. */
export function benchOf(
  left: LeftOpen,
  fluids: (refrigerant: string) => FluidData,
  wallClockMs: () => number,
): Session {
  const { origin } = left.record;
  if (origin.kind !== 'simulated' || left.world === undefined) throw new Error('not a simulated job');
  const session = prepare(origin.scenario as Scenario, origin.source, fluids, wallClockMs);
  const { bench } = session;
  bench.restore(left.world.state);
  bench.switchFault({ fault: 'power-lost' }, false);
  bench.apply(SAFE_COMMANDS);
  bench.advanceTo(Math.ceil((left.world.atMs + DARK_MS) / 1000) * 1000);
  return session;
}

export const lookAt = (left: LeftOpen, { bench }: Session): Looked =>
  lookedAt(left, weighAfterCut(left.state, bench));

export type ResumeParts = {
  readonly store: Store;
  readonly calendar: Calendar;
  readonly left: LeftOpen;
  readonly looked: Looked;
  readonly failed: (problem: Error, loop: ScanLoop | undefined) => void;
};

function journalFor(
  { store, calendar, left, failed }: ResumeParts,
  state: ControllerState,
  world: (() => Uint8Array) | undefined,
  loop: () => ScanLoop | undefined,
): JobJournal {
  const { record, used, traceParts } = left;
  return new JobJournal(
    {
      store,
      job: record.line.id,
      calibration: record.calibration,
      tank: record.tank,
      calendar,
      world,
      used,
      tracePart: traceParts,
      failed: (problem) => failed(problem, loop()),
    },
    state,
  );
}

/** Writes the choice down, before anything follows from it. */
function chosen(parts: ResumeParts, journal: JobJournal, choice: Choice, state: ControllerState): void {
  const { store, left, looked } = parts;
  takeJob(store, left.record);
  const { afterCut, found, weighed } = looked;
  journal.say(
    'chosen',
    state.memory.lastScanMs,
    { choice, foundKg: found?.massKg, afterCut, weighed },
    state,
  );
}

/** Closes a job as it stands: what the scale has found beside what was booked becomes an entry of its own. */
export function closeLeft(parts: ResumeParts): JobFacts {
  const journal = journalFor(parts, parts.left.state, undefined, () => undefined);
  const { store, calendar, left, looked } = parts;
  const { record, state } = left;
  const kept = keptOf(left);
  const at = isoOf(calendar());
  const result = jobResult(state);
  const facts: JobFacts = {
    outcome: 'stopped',
    ticket: record.ticket,
    result: { ...result, outcome: 'stopped' },
    blockers: [],
    afterCut: looked.afterCut,
  };
  store.write(() => {
    chosen(parts, journal, 'close', state);
    const gain = gainSinceBooked(state, looked.weighed);
    if (gain !== undefined && looked.weighed !== undefined)
      bookFound(
        store,
        {
          job: record.line.id,
          tank: record.tank,
          calibration: record.calibration,
          at,
          refrigerant: record.equipment.tank.refrigerant,
          cylinder: supplyOf(store, record.ticket)?.id,
        },
        {
          movement: 'left-off',
          ...gain,
          counts: looked.weighed.counts,
          note: `job left off in ${stageOf(state) ?? 'no stage'}`,
        },
      );
    journal.flush();
    closeRecord(store, record.line.id, kept, state, left.used, facts, at);
  });
  return facts;
}

/** A job that is gone on with: its state from now on, and its journal, in which the choice stands. */
export function takenUp(
  parts: ResumeParts,
  nowMs: number,
  loop: () => ScanLoop | undefined,
  world?: () => Uint8Array,
): { readonly state: ControllerState; readonly journal: JobJournal } {
  const { left } = parts;
  const state = recalled(left.state, nowMs, left.lastIntent);
  const journal = journalFor(parts, state, world, loop);
  chosen(parts, journal, 'go-on', state);
  return { state, journal };
}

export type Settled = { readonly facts: JobFacts; readonly closed: boolean };

/** Closes the record of a job that was gone on with, unless its process was as good as dead before the end. */
export function settle(
  { store, calendar, left }: ResumeParts,
  journal: JobJournal,
  state: ControllerState,
  facts: JobFacts,
): Settled {
  const closed = isFinished(state.chart);
  if (closed) {
    journal.flush();
    const { id } = left.record.line;
    closeRecord(store, id, keptOf(left), state, journal.used, facts, isoOf(calendar()));
  }
  return { facts, closed };
}

/** Goes on with the job on its bench until it ends. */
export async function goOn(
  parts: ResumeParts,
  session: Session,
  { observers, pacing, started }: Pick<Onlookers, 'observers' | 'pacing' | 'started'>,
): Promise<Settled> {
  const { bench, scenario } = session;
  let loop: ScanLoop | undefined;
  const { state, journal } = takenUp(
    parts,
    bench.nowMs(),
    () => loop,
    () => packWorld(bench.save()),
  );
  const schedule = new FaultSchedule(
    scenario.faults.filter(({ fault }) => fault.fault !== 'power-lost'),
    (fault, on) => bench.switchFault(fault, on),
  );
  const fromMs = bench.nowMs() + LISTEN_MS;
  let resumed = false;
  const begun = new ScanLoop({
    rig: bench,
    state,
    operator: operatorAt(session),
    observers: [
      ...observers,
      ({ nowMs }) => {
        schedule.look(nowMs, begun.state.visits);
        if (resumed || nowMs < fromMs) return;
        resumed = true;
        if (begun.state.memory.trip !== undefined) begun.send({ type: 'reset' });
        begun.send({ type: 'resumed' });
      },
    ],
    journal,
  });
  loop = begun;
  started?.(begun);
  await runVirtual(begun, bench, pacing);
  const facts = factsOf(begun.state, parts.left.record.ticket);
  return settle(parts, journal, begun.state, { ...facts, afterCut: parts.looked.afterCut });
}
