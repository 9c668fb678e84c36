// Keeps a link to a board: a new port and a new link for each attempt, none of them ever used twice.
import { addedLosses, Link, type LinkLosses, NO_LINK_LOSSES } from './link.ts';

/** An open line to a board. */
export interface Line {
  send(text: string): void;
  close(): void;
}

export type LineEvents = {
  readonly heard: (bytes: Uint8Array) => void;
  /** The line is gone, or could not be opened: one sentence with the remedy. */
  readonly ended: (problem: string) => void;
};

/** Opens a new line each time it is called. */
export type OpenLine = (events: LineEvents) => Line;

const AGAIN_FIRST_MS = 500;
const AGAIN_LONGEST_MS = 5_000;

export type ConnectionParts = {
  readonly open: OpenLine;
  /** The host's time in milliseconds, the same that `tick` is called with. */
  readonly nowMs: () => number;
};

export class Connection {
  readonly #open: OpenLine;
  readonly #nowMs: () => number;
  #line: Line | undefined;
  #link: Link;
  #againAtMs = Number.POSITIVE_INFINITY;
  #waitMs = AGAIN_FIRST_MS;
  #closed = false;
  #lostBefore: LinkLosses = NO_LINK_LOSSES;
  #opened = 0;
  #problem: string | undefined;

  constructor({ open, nowMs }: ConnectionParts) {
    this.#open = open;
    this.#nowMs = nowMs;
    this.#link = this.#connect();
  }

  /** The one that is open now; another one after each loss. */
  get link(): Link {
    return this.#link;
  }

  /** What the last link that was lost died of; undefined while one is ready. */
  get problem(): string | undefined {
    return this.#link.state === 'ready' ? undefined : (this.#link.problem ?? this.#problem);
  }

  /** What got lost on both sides since this connection was made. */
  get losses(): LinkLosses {
    return addedLosses(this.#lostBefore, this.#link.losses);
  }

  /** How often a line was opened. */
  get opened(): number {
    return this.#opened;
  }

  #connect(): Link {
    this.#opened++;
    const link = new Link({ send: (text) => this.#line?.send(text), nowMs: this.#nowMs() });
    this.#line = this.#open({
      heard: (bytes) => link.received(bytes, this.#nowMs()),
      ended: (problem) => link.lose(problem),
    });
    return link;
  }

  /** To be called at least every 50 ms. */
  tick(nowMs: number): void {
    if (this.#closed) return;
    this.#link.tick(nowMs);
    if (this.#link.state === 'ready') this.#waitMs = AGAIN_FIRST_MS;
    if (this.#link.state !== 'lost') return;
    if (this.#againAtMs === Number.POSITIVE_INFINITY) {
      this.#problem = this.#link.problem;
      this.#line?.close();
      this.#line = undefined;
      this.#againAtMs = nowMs + this.#waitMs;
      this.#waitMs = Math.min(2 * this.#waitMs, AGAIN_LONGEST_MS);
    } else if (nowMs >= this.#againAtMs) {
      this.#againAtMs = Number.POSITIVE_INFINITY;
      this.#lostBefore = addedLosses(this.#lostBefore, this.#link.losses);
      this.#link = this.#connect();
    }
  }

  /** The board drops its outputs by itself when it hears nothing more. */
  close(): void {
    this.#closed = true;
    this.#link.lose('the line was closed');
    this.#line?.close();
    this.#line = undefined;
  }
}
