// What moves the bench: simulated time that follows the wall clock, at a chosen speed, one scan at a time, or not at all.
import { Pace } from '../../run/by-hand.ts';
import { SCAN_MS } from '../../run/loop.ts';
import type { Speed } from '../messages.ts';
import type { Lingers, TimeView } from '../shown.ts';
import type { PanelBench } from './panel-bench.ts';

/** No longer in one go: sockets are waiting. */
const BUDGET_MS = 25;
const LONGEST_REST_MS = 50;
/** As fast as it goes; the budget is what limits it. */
const UNLIMITED = 1e6;
const MEASURED_MS = 1_000;

export class BenchClock {
  readonly #wallClockMs: () => number;
  #pace: Pace;
  #speed: Speed = 1;
  #running = true;
  #set = 1;
  #measuredFrom: { readonly wallMs: number; readonly nowMs: number };
  #achieved = 0;
  #lingers: Lingers | undefined;

  constructor(wallClockMs: () => number) {
    this.#wallClockMs = wallClockMs;
    this.#pace = new Pace(wallClockMs, 1);
    this.#measuredFrom = { wallMs: wallClockMs(), nowMs: 0 };
  }

  set(running: boolean, speed: Speed): void {
    this.#running = running;
    this.#speed = speed;
  }

  get view(): TimeView {
    return {
      running: this.#running,
      speed: this.#speed,
      achieved: this.#achieved,
      ...(this.#lingers === undefined ? {} : { lingers: this.#lingers }),
    };
  }

  /** Moves the bench by what is due. @returns wall-clock milliseconds until it wants to be called again. */
  beat(bench: PanelBench): number {
    this.#measure(bench.nowMs);
    this.#lingers = lingers(bench);
    const speed = this.#running ? speedOf(bench, this.#speed) : 0;
    if (speed === 0) {
      this.#set = 0;
      return LONGEST_REST_MS;
    }
    if (speed !== this.#set) {
      this.#pace = new Pace(this.#wallClockMs, speed);
      this.#set = speed;
    }
    const dueMs = this.#pace.dueMs();
    const stopAtMs = this.#wallClockMs() + BUDGET_MS;
    // What could not be done in the budget is not made up for: it would only grow.
    for (let passedMs = 0; passedMs < dueMs; passedMs += SCAN_MS) {
      bench.turn();
      if (this.#wallClockMs() >= stopAtMs || speedOf(bench, this.#speed) !== speed) break;
    }
    return Math.min(Math.max(this.#pace.nextInMs(), 0), LONGEST_REST_MS);
  }

  #measure(nowMs: number): void {
    const wallMs = this.#wallClockMs();
    const { wallMs: fromMs, nowMs: beganAtMs } = this.#measuredFrom;
    if (nowMs < beganAtMs) this.#measuredFrom = { wallMs, nowMs };
    else if (wallMs - fromMs >= MEASURED_MS) {
      this.#achieved = Math.round((10 * (nowMs - beganAtMs)) / (wallMs - fromMs)) / 10;
      this.#measuredFrom = { wallMs, nowMs };
    }
  }
}

/** Why time goes no faster than a person does, or not at all: nobody's work is run ahead of. */
function lingers({ phase, state, operator, seen }: PanelBench): Lingers | undefined {
  if (phase === 'ready' || phase === 'broken') return 'not-begun';
  if (phase === 'ended') return 'ended';
  if (seen.progress.paused) return 'paused';
  const asks = state.prompt !== undefined && !operator.automatic && !operator.isUnderWay(state.prompt);
  return asks ? 'asks' : undefined;
}

function speedOf(bench: PanelBench, chosen: Speed): number {
  const speed = chosen === 'fastest' ? UNLIMITED : chosen;
  const why = lingers(bench);
  if (why === 'not-begun') return 0;
  return why === undefined ? speed : Math.min(speed, 1);
}
