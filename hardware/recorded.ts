// A recorded rig: sensors say what they once said; outputs keep the rules of the contract, so that they can be compared.
import {
  type Capabilities,
  type Command,
  type Commands,
  OUTPUTS,
  type Output,
  type Readings,
  type TimeControlledRig,
} from '../controller/signals.ts';

const CAPABILITIES: Capabilities = { truth: false, timeControl: true, needsCommissioning: false };

/** What one scan read, and when. */
export type RecordedReadings = { readonly nowMs: number; readonly readings: Readings };

/** Hands over one scan's readings after the other, in rising order; nothing where no more are there yet, or ever. */
export type NextReadings = () => RecordedReadings | undefined;

/** All of a recording that is in memory. */
export function inOrder(recording: readonly RecordedReadings[]): NextReadings {
  let next = 0;
  return () => recording[next++];
}

/** An output that went on or off. */
export type Edge = { readonly atMs: number; readonly output: Output; readonly on: boolean };

/** A recording that comes scan by scan: each is handed over once. */
export class Handed {
  #next: RecordedReadings | undefined;

  put(scan: RecordedReadings): void {
    this.#next = scan;
  }

  readonly take: NextReadings = () => {
    const next = this.#next;
    this.#next = undefined;
    return next;
  };
}

type Held = { on: boolean; offAtMs: number; spent: boolean };

export class RecordedRig implements TimeControlledRig {
  readonly capabilities = CAPABILITIES;
  readonly #take: NextReadings;
  readonly #held: { readonly [O in Output]: Held };
  readonly #edges: Edge[] = [];
  #nowMs: number;
  #current: RecordedReadings;
  #next: RecordedReadings | undefined;

  /** @throws Error for a recording without a single reading. */
  constructor(take: NextReadings) {
    const first = take();
    if (first === undefined) throw new Error('a recording has at least one scan');
    this.#take = take;
    this.#current = first;
    this.#nowMs = first.nowMs;
    this.#held = Object.fromEntries(
      OUTPUTS.map((output) => [output, { on: false, offAtMs: Number.POSITIVE_INFINITY, spent: false }]),
    ) as { [O in Output]: Held };
  }

  /** What the outputs did so far. */
  get edges(): readonly Edge[] {
    return this.#edges;
  }

  nowMs(): number {
    return this.#nowMs;
  }

  readings(): Readings {
    return this.#current.readings;
  }

  apply(commands: Commands): void {
    for (const output of OUTPUTS) this.#tell(output, this.#held[output], commands[output]);
  }

  #tell(output: Output, held: Held, { on, offAfterMs }: Command): void {
    if (!on) {
      held.spent = false;
      held.offAtMs = Number.POSITIVE_INFINITY;
      this.#turn(output, held, false, this.#nowMs);
      return;
    }
    if (held.spent) return;
    if (offAfterMs !== undefined) held.offAtMs = Math.min(held.offAtMs, this.#nowMs + offAfterMs);
    this.#turn(output, held, true, this.#nowMs);
  }

  #turn(output: Output, held: Held, on: boolean, atMs: number): void {
    if (held.on === on) return;
    held.on = on;
    this.#edges.push({ atMs, output, on });
  }

  /** After the end of the recording the last readings stay, and grow old. */
  advanceTo(timeMs: number): void {
    for (const output of OUTPUTS) {
      const held = this.#held[output];
      if (!held.on || held.offAtMs > timeMs) continue;
      held.spent = true;
      this.#turn(output, held, false, held.offAtMs);
    }
    this.#nowMs = Math.max(this.#nowMs, timeMs);
    for (;;) {
      this.#next ??= this.#take();
      if (this.#next === undefined || this.#next.nowMs > this.#nowMs) return;
      this.#current = this.#next;
      this.#next = undefined;
    }
  }
}
