// The scan loop behind the page: what it has seen, since when outputs are as they are, and the record of its job.
import { OUTPUTS, type Output, type Rig } from '../../../controller/signals.ts';
import type { ControllerState } from '../../../controller/state.ts';
import { InputError } from '../../cli/command.ts';
import type { Part } from '../../cli/watch-part.ts';
import type { JobRecorder } from '../../records/recorder.ts';
import type { JobFacts } from '../../run/document.ts';
import { type Observer, ScanLoop, type ScanSeen } from '../../run/loop.ts';
import { History } from './history.ts';
import { HoldCurve } from './hold-curve.ts';
import type { PageOperator } from './page-operator.ts';
import type { Recordings } from './recordings.ts';

/** Makes the recorder of one job; takes what it has to say to the operator. */
export type RecorderFor = (tell: (text: string) => void) => JobRecorder;

const MOST_TOLD = 6;

/** What is said to the operator beside the controller's own notices; the newest stay. */
export class Told {
  #texts: readonly string[] = [];

  get texts(): readonly string[] {
    return this.#texts;
  }

  readonly tell = (text: string): void => {
    if (!this.#texts.includes(text)) this.#texts = [...this.#texts, text].slice(-MOST_TOLD);
  };

  forget(text: string): void {
    if (this.#texts.includes(text)) this.#texts = this.#texts.filter((one) => one !== text);
  }

  clear(): void {
    this.#texts = [];
  }
}

type WorkParts = {
  readonly rig: Rig;
  readonly operator: PageOperator;
  /** Called after each scan; `due` when a row of the trend was written. */
  readonly look: (seen: ScanSeen, due: boolean) => void;
  /** Where jobs are recorded, scan for scan, and on what. */
  readonly recordings?: Recordings | undefined;
  readonly rigName: string;
};

/** A job that is begun, and who is told what goes wrong with its record. */
type Begun = {
  readonly name: string;
  readonly recorder: JobRecorder | undefined;
  readonly tell: (text: string) => void;
};

export class Work {
  readonly history = new History();
  readonly hold = new HoldCurve();
  readonly #parts: WorkParts;
  readonly #changed = new Map<Output, { readonly on: boolean; readonly atMs: number }>();
  #loop: ScanLoop;
  #recorder: JobRecorder | undefined;
  /** Its record is still to be closed. */
  #unsettled: JobRecorder | undefined;
  #recording: { readonly part: Part; readonly tell: (text: string) => void } | undefined;

  constructor(parts: WorkParts, state: ControllerState) {
    this.#parts = parts;
    this.#loop = this.#loopWith(state);
  }

  get loop(): ScanLoop {
    return this.#loop;
  }

  get state(): ControllerState {
    return this.#loop.state;
  }

  /** The record of a job is still to be closed. */
  get isUnsettled(): boolean {
    return this.#unsettled?.job !== undefined;
  }

  /** The number of the job that is being recorded, or was last. */
  get recordedJob(): number | undefined {
    return this.#recorder?.job;
  }

  /** Since when an output has been commanded as it is. */
  commandedSinceMs(output: Output): number {
    return this.#changed.get(output)?.atMs ?? 0;
  }

  /** Another state, or a job: its record is opened before anything is commanded. @throws StoreProblem when it cannot be. */
  begin(state: ControllerState, job?: Begun): void {
    const { recordings, rigName } = this.#parts;
    this.#endRecording();
    this.#loop = this.#loopWith(state, job?.recorder);
    this.#recorder = job?.recorder;
    this.#unsettled = job?.recorder;
    if (job !== undefined) {
      const part = recordings?.begin(job.tell);
      part?.begin(this.#loop, { name: job.name, rig: rigName });
      if (part !== undefined) this.#recording = { part, tell: job.tell };
    }
    this.history.clear();
    this.hold.clear();
  }

  turn(nowMs: number): ScanSeen {
    const seen = this.#loop.turn(nowMs);
    if (this.#loop.ended) this.#endRecording();
    return seen;
  }

  #endRecording(): void {
    if (this.#recording === undefined) return;
    const { part, tell } = this.#recording;
    this.#recording = undefined;
    this.#parts.recordings?.end(part, tell);
  }

  /**
   * Closes the record of a job that is over, once; what is scanned from then on belongs to no job.
   * @returns why it could not be closed: the job is left open then, as it is where the power failed.
   */
  settle(facts: (state: ControllerState) => JobFacts, leftOpen: boolean): string | undefined {
    this.#endRecording();
    const recorder = this.#unsettled;
    if (recorder?.job === undefined) return undefined;
    this.#unsettled = undefined;
    const { state } = this.#loop;
    try {
      if (leftOpen) recorder.leave(state);
      else recorder.finish(state, facts(state));
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      return `Job ${recorder.job} is left open: ${error.message}`;
    }
    if (leftOpen) return `Job ${recorder.job} is left open; coldbench resume shows what is known of it.`;
    this.#loop = this.#loopWith(state);
    return undefined;
  }

  #loopWith(state: ControllerState, recorder?: JobRecorder): ScanLoop {
    const { rig, operator } = this.#parts;
    const observers: readonly Observer[] = [(seen) => this.#look(seen)];
    return new ScanLoop({ rig, state, operator, observers, journal: recorder?.begin(state) });
  }

  #look(seen: ScanSeen): void {
    this.#recording?.part.look(seen);
    const { nowMs, commands } = seen;
    for (const output of OUTPUTS) {
      const { on } = commands[output];
      if (this.#changed.get(output)?.on !== on) this.#changed.set(output, { on, atMs: nowMs });
    }
    const due = this.history.isDue(nowMs);
    if (due) {
      this.history.look(seen);
      this.hold.keep(this.#loop.state);
    }
    this.#parts.look(seen, due);
  }
}
