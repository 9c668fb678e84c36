// The one scan loop: readings in, one turn of the controller, permitted commands out, whatever the rig.

import { isFinished } from '../../controller/chart-state.ts';
import type { LedgerEntry } from '../../controller/ledger.ts';
import type { Notice } from '../../controller/notice.ts';
import type { OperatorEvent } from '../../controller/operator.ts';
import { type Progress, progress } from '../../controller/progress.ts';
import { type ControllerState, scan } from '../../controller/scan.ts';
import {
  type Commands,
  commandsOf,
  OFF,
  OUTPUTS,
  type Output,
  type Readings,
  type Rig,
  SAFE_COMMANDS,
  type TimeControlledRig,
} from '../../controller/signals.ts';
import type { HandEntry } from '../../controller/wishes.ts';
import type { Operator } from './operator.ts';

export const SCAN_MS = 100;
const NO_ENTRIES: readonly HandEntry[] = [];

/** What one scan saw and did, for whoever looks on. */
export type ScanSeen = {
  readonly nowMs: number;
  readonly readings: Readings;
  /** What the operator said. */
  readonly events: readonly OperatorEvent[];
  /** What the controller permits. */
  readonly permitted: Commands;
  /** What the rig was given: less than that where it could not be written down first. */
  readonly commands: Commands;
  readonly progress: Progress;
  readonly notices: readonly Notice[];
  readonly ledgerEntries: readonly LedgerEntry[];
  /** What was done by hand and what came of it. */
  readonly handEntries: readonly HandEntry[];
};

/** Progress is worked out only for those who ask: most scans nobody looks at. */
class Turn implements ScanSeen {
  readonly nowMs: number;
  readonly readings: Readings;
  readonly events: readonly OperatorEvent[];
  readonly permitted: Commands;
  readonly commands: Commands;
  readonly notices: readonly Notice[];
  readonly ledgerEntries: readonly LedgerEntry[];
  readonly handEntries: readonly HandEntry[];
  readonly #state: ControllerState;
  #progress: Progress | undefined;

  constructor(state: ControllerState, seen: Omit<ScanSeen, 'progress'>) {
    this.#state = state;
    this.nowMs = seen.nowMs;
    this.readings = seen.readings;
    this.events = seen.events;
    this.permitted = seen.permitted;
    this.commands = seen.commands;
    this.notices = seen.notices;
    this.ledgerEntries = seen.ledgerEntries;
    this.handEntries = seen.handEntries;
  }

  get progress(): Progress {
    this.#progress ??= progress(this.#state, this.nowMs);
    return this.#progress;
  }
}

export type Observer = (seen: ScanSeen) => void;

/** What keeps the steps of a job where they outlive the process. */
export interface Journal {
  /**
   * Before outputs go on that were off: on the disk when it returns.
   * @throws whatever is wrong with the place it is written to.
   */
  intend(opening: readonly Output[], commands: Commands, state: ControllerState, readings: Readings): void;
  /** After a scan, with what it has come to. @throws as `intend`. */
  note(seen: ScanSeen, state: ControllerState): void;
  /** It could not be written: everything was commanded off, and the job is paused. Called once until it can be again. */
  failed(error: unknown): void;
}

export type LoopParts = {
  readonly rig: Rig;
  readonly state: ControllerState;
  readonly operator: Operator;
  readonly observers: readonly Observer[];
  readonly journal?: Journal | undefined;
};

/** The relay of the fan opens no path. */
const isOpening = (output: Output, commands: Commands, before: Commands): boolean =>
  commands[output].on && !before[output].on && output !== 'fanStop';

export class ScanLoop {
  readonly #rig: Rig;
  readonly #operator: Operator;
  readonly #observers: readonly Observer[];
  #state: ControllerState;
  readonly #journal: Journal | undefined;
  #waiting: OperatorEvent[] = [];
  #dead = false;
  #applied: Commands = SAFE_COMMANDS;
  #unwritten = false;

  constructor({ rig, state, operator, observers, journal }: LoopParts) {
    this.#rig = rig;
    this.#journal = journal;
    this.#operator = operator;
    this.#observers = observers;
    this.#state = state;
  }

  get state(): ControllerState {
    return this.#state;
  }

  /** The job is over, and whoever takes the hoses off has done so. */
  get ended(): boolean {
    return this.#dead || (isFinished(this.#state.chart) && this.#operator.busy !== true);
  }

  /** The controller loses its power: there is no further scan. */
  die(): void {
    this.#dead = true;
  }

  /** Hands an event to the next scan. */
  send(event: OperatorEvent): void {
    this.#waiting.push(event);
  }

  #takeEvents(nowMs: number): readonly OperatorEvent[] {
    const answers = this.#operator.respond(this.#state.prompt, nowMs);
    if (this.#waiting.length === 0) return answers;
    const events = [...this.#waiting, ...answers];
    this.#waiting = [];
    return events;
  }

  /** What closes goes out at once. What opens waits until the journal says on the disk that it will, and stays shut if it cannot. */
  #applyJournalled(
    journal: Journal,
    commands: Commands,
    state: ControllerState,
    readings: Readings,
  ): Commands {
    const before = this.#applied;
    const opening =
      commands === before ? [] : OUTPUTS.filter((output) => isOpening(output, commands, before));
    if (opening.length > 0) {
      // Where time does not stand still meanwhile, nothing that shuts may wait for a disk.
      if (!this.#rig.capabilities.timeControl)
        this.#rig.apply(commandsOf((output) => (opening.includes(output) ? OFF : commands[output])));
      try {
        journal.intend(opening, commands, state, readings);
        this.#unwritten = false;
      } catch (error) {
        return this.#shut(journal, error);
      }
    }
    this.#rig.apply(commands);
    this.#applied = commands;
    return commands;
  }

  #shut(journal: Journal, error: unknown): Commands {
    this.#rig.apply(SAFE_COMMANDS);
    this.#applied = SAFE_COMMANDS;
    this.send({ type: 'paused' });
    if (!this.#unwritten) journal.failed(error);
    this.#unwritten = true;
    return SAFE_COMMANDS;
  }

  #note(journal: Journal, seen: ScanSeen): void {
    try {
      journal.note(seen, this.#state);
    } catch (error) {
      this.#shut(journal, error);
    }
  }

  /** One scan at this time. The rig has been brought, or has come by itself, to `nowMs`. */
  turn(nowMs: number): ScanSeen {
    const events = this.#takeEvents(nowMs);
    const readings = this.#rig.readings();
    const before = this.#state.handJournal;
    const scanned = scan(this.#state, readings, nowMs, events);
    const { state, notices, ledgerEntries } = scanned;
    const journal = this.#journal;
    let { commands } = scanned;
    if (journal === undefined) this.#rig.apply(commands);
    else commands = this.#applyJournalled(journal, commands, state, readings);
    this.#state = state;
    if (notices.length > 0) this.#operator.hear?.(notices, nowMs);
    const handEntries = state.handJournal === before ? NO_ENTRIES : state.handJournal.slice(before.length);
    const seen = new Turn(state, {
      nowMs,
      readings,
      events,
      permitted: scanned.commands,
      commands,
      notices,
      ledgerEntries,
      handEntries,
    });
    if (journal !== undefined) this.#note(journal, seen);
    for (const observe of this.#observers) observe(seen);
    return seen;
  }
}

/** A job that takes longer is aborted: nothing a vehicle needs takes two days of machine time. */
const LONGEST_JOB_MS = 48 * 3_600_000;
/** An aborted job puts the machine away within this time, or the controller is at fault. */
const LONGEST_ABORT_MS = 3_600_000;

export type VirtualRun = {
  readonly simulatedMs: number;
  /** Wall-clock time spent in scans and simulation alone. */
  readonly wallMs: number;
};

export type Pacing = {
  /** A wall clock in milliseconds; used to take breath and to report `wallMs`, never for the job. */
  readonly wallClockMs: () => number;
  /** Called every so often between two scans; the run goes on when it settles. */
  readonly breathe: () => Promise<void>;
};

const BREATHE_EVERY_MS = 40;
/** Whoever is told of every second of the job is told no more than so many of them in one go. */
const BREATHE_EVERY_SIMULATED_MS = 100_000;
const SCANS_BETWEEN_LOOKS = 20;

/** Runs a job on a rig whose time can be moved, as fast as the processor goes, until the job has ended. */
export async function runVirtual(
  loop: ScanLoop,
  rig: TimeControlledRig,
  pacing: Pacing,
): Promise<VirtualRun> {
  const startMs = rig.nowMs();
  let nowMs = startMs;
  let wallMs = 0;
  while (!loop.ended) {
    const batchStartedMs = pacing.wallClockMs();
    const untilMs = nowMs + BREATHE_EVERY_SIMULATED_MS;
    let spentMs = 0;
    while (!loop.ended && spentMs < BREATHE_EVERY_MS && nowMs < untilMs) {
      for (let scans = 0; scans < SCANS_BETWEEN_LOOKS && !loop.ended; scans++) {
        rig.advanceTo(nowMs);
        if (nowMs - startMs === LONGEST_JOB_MS) loop.send({ type: 'aborted' });
        loop.turn(nowMs);
        nowMs += SCAN_MS;
      }
      if (nowMs - startMs > LONGEST_JOB_MS + LONGEST_ABORT_MS)
        throw new Error(`the job did not end within ${(nowMs - startMs) / 3_600_000} simulated hours`);
      spentMs = pacing.wallClockMs() - batchStartedMs;
    }
    wallMs += spentMs;
    await pacing.breathe();
  }
  return { simulatedMs: rig.nowMs() - startMs, wallMs };
}
