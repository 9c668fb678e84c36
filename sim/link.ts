// The line between controller and rig, and what the rig's own board does when nothing comes through it.
import type { Commands } from '../controller/signals.ts';
import { OUTPUTS } from '../controller/signals.ts';
import type { ActiveFaults } from './faults.ts';

/** From the last valid frame to every output off. */
const SILENCE_MS = 250;

/**
 * Between scans the line itself repeats the last command, so silence begins when it is cut. A board that has dropped its
 * outputs takes nothing but a word with every output off; after that it obeys again.
 */
export class Link {
  readonly #faults: ActiveFaults;
  #armed = true;
  /** When the board drops every output, or Infinity. */
  dropAtMs = Number.POSITIVE_INFINITY;

  constructor(faults: ActiveFaults) {
    this.#faults = faults;
  }

  get passes(): boolean {
    return !this.#faults.has('link-lost') && !this.#faults.has('power-lost');
  }

  /** The line or the mains have just failed. */
  fail(nowMs: number): void {
    const silentFromMs = this.#faults.has('power-lost') ? nowMs : nowMs + SILENCE_MS;
    if (this.#armed) this.dropAtMs = Math.min(this.dropAtMs, silentFromMs);
  }

  dropped(): void {
    this.#armed = false;
    this.dropAtMs = Number.POSITIVE_INFINITY;
  }

  /** Answers whether the outputs obey this word. */
  receive(commands: Commands): boolean {
    if (!this.passes) return false;
    this.dropAtMs = Number.POSITIVE_INFINITY;
    if (!this.#armed) this.#armed = OUTPUTS.every((output) => !commands[output].on);
    return this.#armed;
  }
}
