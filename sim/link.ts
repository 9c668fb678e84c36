// The line between controller and rig, and when the rig's own board drops its outputs: silence, emergency stop, mains.
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

  /** To be called after faults have changed. */
  heedFaults(nowMs: number): void {
    if (!this.#armed) return;
    if (this.#supplyCut) this.dropAtMs = nowMs;
    else if (!this.passes) this.dropAtMs = Math.min(this.dropAtMs, nowMs + SILENCE_MS);
  }

  get #supplyCut(): boolean {
    return this.#faults.has('power-lost') || this.#faults.has('emergency-stop');
  }

  dropped(): void {
    this.#armed = false;
    this.dropAtMs = Number.POSITIVE_INFINITY;
  }

  /** Answers whether the outputs obey this word. */
  receive(commands: Commands): boolean {
    if (!this.passes || this.#supplyCut) return false;
    this.dropAtMs = Number.POSITIVE_INFINITY;
    if (!this.#armed) this.#armed = OUTPUTS.every((output) => !commands[output].on);
    return this.#armed;
  }

  save() {
    return { armed: this.#armed, dropAtMs: this.dropAtMs };
  }

  restore({ armed, dropAtMs }: ReturnType<Link['save']>): void {
    this.#armed = armed;
    this.dropAtMs = dropAtMs;
  }
}
