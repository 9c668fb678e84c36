// A bench worked by hand: time goes on scan by scan, the operator's wishes go through the one scan loop.
import { whyNot } from '../../controller/by-hand.ts';
import type { Reason } from '../../controller/interlocks/reason.ts';
import type { OperatorEvent } from '../../controller/operator.ts';
import { planByHand } from '../../controller/plan.ts';
import { openJob } from '../../controller/scan.ts';
import type { Output } from '../../controller/signals.ts';
import type { ControllerState } from '../../controller/state.ts';
import type { HandAction, Truth } from '../../sim/spec.ts';
import { type FaultHistory, FaultSchedule } from './faults.ts';
import { type Observer, SCAN_MS, ScanLoop } from './loop.ts';
import type { JobSession } from './prepare.ts';
import { VALVES_SHUT_MS } from './session.ts';

/** Nobody answers prompts: there is no job that asks. */
export const NOBODY = { respond: () => [] };

/** A machine worked by hand, simulated or real. */
export interface HandWork {
  readonly state: ControllerState;
  readonly nowMs: number;
  /** The controller has no power: nobody scans any more, and every output is off. */
  readonly powerLost: boolean;
  /** Hands over what the operator does and lets one scan pass; two where an output has to go off in between. */
  say(...events: readonly OperatorEvent[]): void;
  /** What a person does at the vehicle. The engine is said as well as done: the interlocks go by the operator's word. */
  operate(action: HandAction): void;
  /** Whoever works it takes it over, or over again after a trip. */
  takeOver(): void;
  /** Scans until this time; ends early when the power fails. A real machine's time passes by itself. */
  passTo(timeMs: number): void;
  /** Why an output would be refused if it were wished now; empty when it would be permitted. */
  whyNot(output: Output): readonly Reason[];
  /** Everything off, handed back, and the valves given time to shut. */
  putAway(): void;
}

export class HandBench implements HandWork {
  readonly #session: JobSession;
  readonly #loop: ScanLoop;
  readonly #schedule: FaultSchedule;
  #nextMs: number;
  #powerLost = false;

  /** @param started is given the loop before its first scan. */
  constructor(
    session: JobSession,
    observers: readonly Observer[],
    started: (loop: ScanLoop) => void = () => {},
  ) {
    const { scenario, equipment, bench, curve } = session;
    this.#session = session;
    this.#nextMs = bench.nowMs();
    this.#schedule = new FaultSchedule(scenario.faults, (fault, on) => {
      bench.switchFault(fault, on);
      if (fault.fault === 'power-lost') this.#powerLost = true;
    });
    const state = openJob(planByHand(scenario.ticket, curve), equipment, bench.nowMs());
    this.#loop = new ScanLoop({ rig: bench, state, operator: NOBODY, observers });
    started(this.#loop);
    this.#schedule.look(bench.nowMs(), state.visits);
  }

  get state(): ControllerState {
    return this.#loop.state;
  }

  get nowMs(): number {
    return this.#session.bench.nowMs();
  }

  get powerLost(): boolean {
    return this.#powerLost;
  }

  get faults(): readonly FaultHistory[] {
    return this.#schedule.histories;
  }

  say(...events: readonly OperatorEvent[]): void {
    for (const event of events) this.#loop.send(event);
    this.#scan();
    if ((this.state.byHand?.next.length ?? 0) > 0) this.#scan();
  }

  operate(action: HandAction): void {
    this.#session.bench.operate(action);
    if (action === 'start-engine' || action === 'stop-engine')
      this.say({ type: 'confirmed', prompt: action });
    else this.#scan();
  }

  /** A simulated bench is always somebody's. */
  takeOver(): void {}

  passTo(timeMs: number): void {
    while (this.#nextMs <= timeMs && !this.#powerLost) this.#scan();
  }

  whyNot(output: Output): readonly Reason[] {
    return whyNot(this.state, output, this.nowMs);
  }

  putAway(): void {
    if (this.state.byHand !== undefined) this.say({ type: 'by-hand-ended' });
    this.passTo(this.nowMs + VALVES_SHUT_MS);
    if (this.#powerLost) this.#session.bench.advanceTo(this.nowMs + VALVES_SHUT_MS);
  }

  truth(): Truth {
    return this.#session.bench.truth();
  }

  #scan(): void {
    if (this.#powerLost) return;
    const { bench } = this.#session;
    bench.advanceTo(this.#nextMs);
    this.#loop.turn(this.#nextMs);
    this.#schedule.look(this.#nextMs, this.state.visits);
    this.#nextMs += SCAN_MS;
  }
}

const LONGEST_GAP_MS = 1_000;

/** Simulated time that follows a wall clock. A computer that slept does not make it jump. */
export class Pace {
  readonly #wallClockMs: () => number;
  readonly #speed: number;
  readonly #stepMs: number;
  readonly #longestGapMs: number;
  #wallMs: number;
  #owedMs = 0;

  /**
   * @param stepMs time is due in whole steps.
   * @param longestGapMs more than that between two calls is time that is lost.
   */
  constructor(wallClockMs: () => number, speed: number, stepMs = SCAN_MS, longestGapMs = LONGEST_GAP_MS) {
    this.#wallClockMs = wallClockMs;
    this.#speed = speed;
    this.#stepMs = stepMs;
    this.#longestGapMs = longestGapMs;
    this.#wallMs = wallClockMs();
  }

  /** How much simulated time is due since the last call. */
  dueMs(): number {
    const wallMs = this.#wallClockMs();
    this.#owedMs += this.#speed * Math.min(Math.max(wallMs - this.#wallMs, 0), this.#longestGapMs);
    this.#wallMs = wallMs;
    const dueMs = Math.floor(this.#owedMs / this.#stepMs) * this.#stepMs;
    this.#owedMs -= dueMs;
    return dueMs;
  }

  /** Wall-clock time until the next step is due. */
  nextInMs(): number {
    return (this.#stepMs - this.#owedMs) / this.#speed;
  }
}
