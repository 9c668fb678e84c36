// The host's time for times of the board's clock, which starts at its reset, wraps, and runs a little fast or slow.
import { BOARD_CLOCK_WRAPS_MS } from './protocol.ts';

/** The delay of the line is least within so long; a chip's resonator may be 0.5 % off, 25 ms in that time. */
const WINDOW_MS = 5_000;

/** A line takes some time to arrive and never arrives early: the least delay seen lately says how the clocks stand. */
export class BoardClock {
  #turns = 0;
  #lastMs: number | undefined;
  #windowFromMs = Number.NEGATIVE_INFINITY;
  #offsetMs = Number.POSITIVE_INFINITY;
  #offsetBeforeMs = Number.POSITIVE_INFINITY;

  /** A line with this time of the board's has just arrived. */
  arrived(boardMs: number, nowMs: number): void {
    if (this.#lastMs !== undefined && boardMs < this.#lastMs) this.#turns++;
    this.#lastMs = boardMs;
    if (nowMs - this.#windowFromMs > WINDOW_MS) {
      this.#windowFromMs = nowMs;
      this.#offsetBeforeMs = this.#offsetMs;
      this.#offsetMs = Number.POSITIVE_INFINITY;
    }
    this.#offsetMs = Math.min(this.#offsetMs, nowMs - this.#unwrapped(boardMs));
  }

  #unwrapped(boardMs: number): number {
    return boardMs + this.#turns * BOARD_CLOCK_WRAPS_MS;
  }

  /** Of the line that arrived last, or of something shortly before it. */
  hostMs(boardMs: number): number {
    return this.#unwrapped(boardMs) + Math.min(this.#offsetMs, this.#offsetBeforeMs);
  }
}
