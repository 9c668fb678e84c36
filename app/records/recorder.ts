// Keeps the record of a job: what stands against it beforehand, its journal, and its closing.
import type { Equipment } from '../../controller/equipment.ts';
import type { Blocker } from '../../controller/notice.ts';
import { jobResult } from '../../controller/result.ts';
import type { ControllerState } from '../../controller/state.ts';
import type { Ticket } from '../../controller/ticket.ts';
import { type JobFacts, jobDocument } from '../run/document.ts';
import type { Journal } from '../run/loop.ts';
import type { Recorder } from '../run/session.ts';
import { type Calendar, clockSetBack, isoOf, latestMs } from './calendar.ts';
import { runningElsewhere } from './holder.ts';
import {
  closeJobRecord,
  type OpenedJob,
  type Origin,
  openJobRecord,
  openJobs,
  readJob,
  type Wear,
} from './jobs.ts';
import { JobJournal } from './journal.ts';
import type { Used } from './packed.ts';
import type { Store } from './store.ts';
import { upkeepBlockers, upkeepOf } from './upkeep.ts';
import { supplyBlockers, tankBlockers, tankOf } from './vessels.ts';

export type JobKept = {
  readonly name: string;
  readonly machine: string;
  readonly ticket: Ticket;
  readonly equipment: Equipment;
  readonly origin: Origin;
};

export type RecorderParts = {
  readonly store: Store;
  readonly calendar: Calendar;
  readonly kept: JobKept;
  /** Takes a sentence for the operator. */
  readonly tell: (text: string) => void;
  readonly world?: (() => Uint8Array) | undefined;
  /** After it could not be written and everything was commanded off. */
  readonly failed?: ((problem: Error) => void) | undefined;
};

/** What the operator is told of a journal that cannot be written. */
export const cannotBeWritten = ({ message }: Error): string =>
  `The job's record cannot be written, and nothing opens without it: everything was shut and the job is paused. ${message}`;

/** An open job on the same machine: nothing else may begin before somebody has chosen what becomes of it. */
function openJobBlockers(store: Store, { machine, origin }: JobKept): readonly Blocker[] {
  const atRig =
    origin.kind === 'rig'
      ? `, and to go on with it, once nothing else is at that port, --port ${origin.port} --file '${origin.file}'`
      : '';
  return openJobs(store)
    .filter((job) => job.machine === machine)
    .map(({ id, name }) => {
      const pid = runningElsewhere(readJob(store, id)?.holder ?? '{}');
      return pid === undefined
        ? {
            code: 'job-left-open',
            text: `Job ${id}, '${name}', was begun on this machine and has not been closed.`,
            remedy: `See what is known of it and choose: coldbench resume --records '${store.path}'${atRig}`,
          }
        : {
            code: 'job-under-way',
            text: `Job ${id}, '${name}', is running on this machine, in process ${pid}.`,
            remedy: 'Wait until it is done.',
          };
    });
}

/** Everything that the records have against another job on a machine. */
function recordBlockers(store: Store, kept: JobKept, nowMs: number): readonly Blocker[] {
  const { machine, equipment, ticket } = kept;
  const latest = latestMs(store, nowMs);
  return [
    ...openJobBlockers(store, kept),
    ...tankBlockers(tankOf(store, machine), equipment.tank, latest),
    ...supplyBlockers(store, ticket),
    ...upkeepBlockers(store, machine, ticket.service, latest),
  ];
}

const WET_NOTICES = ['water-boils', 'hold-water', 'hold-ice'];

function wearOf(state: ControllerState, used: Used): Wear {
  const drawn = state.ledger
    .filter(({ movement }) => movement.endsWith('-to-tank'))
    .reduce((sum, { massKg }) => sum + massKg, 0);
  return {
    pumpS: used.pumpMs / 1000,
    drawnKg: Math.max(drawn, 0),
    wet: state.notices.some(({ code }) => WET_NOTICES.includes(code)),
  };
}

/** The lasting record of a job: what its document shows, every entry of its ledger, and what it was weighed with. */
function recordDocument(kept: JobKept, facts: JobFacts): unknown {
  const { result } = facts;
  return {
    format: 'coldbench job',
    version: 1,
    name: kept.name,
    machine: kept.machine,
    simulated: kept.origin.kind === 'simulated',
    ticket: kept.ticket,
    ...(jobDocument(facts) as object),
    holdAccount: result?.hold,
    ledger: result?.ledger ?? [],
    calibration: {
      countsPerKg: kept.equipment.scale.countsPerKg,
      zeroCounts: kept.equipment.scale.zeroCounts,
    },
  };
}

/** Closes a job with all that is known of it. */
export function closeRecord(
  store: Store,
  job: number,
  kept: JobKept,
  state: ControllerState,
  used: Used,
  facts: JobFacts,
  at: string,
): void {
  const { masses } = jobResult(state);
  closeJobRecord(
    store,
    job,
    {
      outcome: facts.outcome,
      recoveredKg: masses.recoveredKg,
      chargedKg: masses.netChargeKg ?? masses.chargedKg,
      document: recordDocument(kept, facts),
      wear: wearOf(state, used),
    },
    at,
  );
}

export class JobRecorder implements Recorder {
  readonly #parts: RecorderParts;
  #opened: OpenedJob | undefined;
  #journal: JobJournal | undefined;
  #problem: Error | undefined;

  constructor(parts: RecorderParts) {
    this.#parts = parts;
  }

  /** Absent until the job has begun. */
  get job(): number | undefined {
    return this.#opened?.id;
  }

  /** What could not be written: the job is still open. */
  get problem(): Error | undefined {
    return this.#problem;
  }

  blockers(): readonly Blocker[] {
    const { store, calendar, kept, tell } = this.#parts;
    const nowMs = calendar();
    const back = clockSetBack(store, nowMs);
    if (back !== undefined) tell(back);
    for (const { title, standing, since } of upkeepOf(store, kept.machine, latestMs(store, nowMs)))
      if (standing === 'due' || standing === 'failed')
        tell(`Upkeep ${standing}: ${title} (${since}); coldbench records upkeep says how.`);
    return recordBlockers(store, kept, nowMs);
  }

  begin(state: ControllerState): Journal {
    const { store, calendar, kept, world } = this.#parts;
    const opened = openJobRecord(store, { ...kept, plan: state.plan }, isoOf(calendar()));
    const journal = new JobJournal(
      {
        store,
        job: opened.id,
        calibration: opened.calibration,
        tank: opened.tank,
        calendar,
        world,
        failed: (problem) => this.#failed(problem),
      },
      state,
    );
    journal.say('begun', state.memory.lastScanMs, {});
    this.#opened = opened;
    this.#journal = journal;
    return journal;
  }

  /** Leaves the job open, with its bench as it stands now. */
  leave(state: ControllerState): void {
    this.#journal?.flush();
    this.#journal?.saveWorld(state.memory.lastScanMs);
  }

  #failed(problem: Error): void {
    this.#problem = problem;
    this.#parts.tell(cannotBeWritten(problem));
    this.#parts.failed?.(problem);
  }

  /** @throws StoreProblem when it cannot be written: the job stays open, and a resume can close it. */
  finish(state: ControllerState, facts: JobFacts): void {
    if (this.#opened === undefined || this.#journal === undefined) return;
    const { store, calendar, kept } = this.#parts;
    this.#journal.flush();
    closeRecord(store, this.#opened.id, kept, state, this.#journal.used, facts, isoOf(calendar()));
  }
}
