// A board as a rig: readings from what it sees, commands as words on the line, and when it may be driven at all.
import { type Capabilities, type Commands, OUTPUTS, type Readings, type Rig } from '../controller/signals.ts';
import type { Connection } from './connection.ts';
import { type FittedSensors, NOTHING_SEEN, readingsOf, type SeenLine } from './fitted.ts';
import type { Link } from './link.ts';
import { type BoardTrip, type Countdowns, LONGEST_COUNTDOWN_MS, OUTPUT_BITS } from './protocol.ts';

export const SERIAL_CAPABILITIES: Capabilities = {
  truth: false,
  timeControl: false,
  needsCommissioning: true,
};

/** Why the board is not driven: nobody has taken control, the line is down or has been, or the board tripped by itself. */
export type Undriven = 'no-control' | 'not-connected' | 'reconnected' | Exclude<BoardTrip, 'none'>;

export type BoardRigParts = {
  readonly connection: Connection;
  readonly sensors: FittedSensors;
  readonly capabilities: Capabilities;
  readonly nowMs: () => number;
};

/** The word of a set of commands. */
export function wordOf(commands: Commands): number {
  let word = 0;
  for (let bit = 0; bit < OUTPUT_BITS.length; bit++) if (commands[OUTPUT_BITS[bit]!].on) word |= 1 << bit;
  return word;
}

function countdownsOf(commands: Commands): Countdowns {
  return OUTPUT_BITS.flatMap((output, bit) => {
    const { on, offAfterMs } = commands[output];
    if (!on || offAfterMs === undefined) return [];
    return [{ bit, ms: Math.min(Math.max(Math.round(offAfterMs), 1), LONGEST_COUNTDOWN_MS) }];
  });
}

/**
 * A rig behind a line. It is only read until somebody takes control; a lost line, a board that started anew and any trip
 * of the board's own end that control, and somebody has to take it again: outputs that have dropped never come back by
 * themselves.
 */
export class BoardRig implements Rig {
  readonly capabilities: Capabilities;
  readonly #connection: Connection;
  readonly #sensors: FittedSensors;
  readonly #nowMs: () => number;
  /** The link over which control was taken, and after which line of it. */
  #control: { readonly link: Link; readonly after: number } | undefined;
  #tripped: Undriven | undefined;
  #readings: Readings = NOTHING_SEEN;
  #readFrom: SeenLine | undefined;

  constructor({ connection, sensors, capabilities, nowMs }: BoardRigParts) {
    this.#connection = connection;
    this.#sensors = sensors;
    this.capabilities = capabilities;
    this.#nowMs = nowMs;
  }

  get connection(): Connection {
    return this.#connection;
  }

  /** Undefined while commands reach the outputs. */
  get undriven(): Undriven | undefined {
    if (this.#tripped !== undefined) return this.#tripped;
    if (this.#control === undefined) return 'no-control';
    const { link } = this.#connection;
    if (link.state !== 'ready') return 'not-connected';
    return this.#control.link === link ? undefined : 'reconnected';
  }

  /** The operator's choice: the board is armed with every output off, and from now on commands drive it. */
  takeControl(): void {
    this.#tripped = undefined;
    const { link } = this.#connection;
    this.#control = link.state === 'ready' ? { link, after: link.sequence } : undefined;
    link.arm(this.#nowMs());
  }

  readings(): Readings {
    const { link } = this.#connection;
    const { seen } = link;
    if (seen !== undefined && seen !== this.#readFrom) {
      this.#readFrom = seen;
      this.#readings = readingsOf(seen, this.#sensors, link.timeMsOf);
      this.#heedTrip(seen);
    }
    return this.#readings;
  }

  /** A trip that the board kept from before is forgotten by the ARM that this control begins with. */
  #heedTrip({ trip, obeyed }: SeenLine): void {
    if (trip === 'none') return;
    if (this.#control !== undefined && obeyed > this.#control.after) this.#tripped ??= trip;
  }

  /** Says nothing to a board that is not to be driven, and nothing but an ARM to one that is not armed. */
  apply(commands: Commands): void {
    if (this.undriven !== undefined) return;
    const { link } = this.#connection;
    const nowMs = this.#nowMs();
    if (link.armed) link.set(wordOf(commands), countdownsOf(commands), nowMs);
    else if (OUTPUTS.every((output) => !commands[output].on)) link.arm(nowMs);
  }

  /** To be called at least every 50 ms, by whoever scans: the line says a command once more between two scans. */
  tick(): void {
    this.#connection.tick(this.#nowMs());
  }
}
