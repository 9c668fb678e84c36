// The simulated bench with as much of a board as commissioning looks at: arming, trips, countdowns and their word.
import type { CommissionedBoard } from '../../../app/rig/commissioned-board.ts';
import { type Commands, OUTPUTS, type Output, SAFE_COMMANDS } from '../../../controller/signals.ts';
import type { Seen } from '../../../hardware/commissioning/line.ts';
import type { Figures } from '../../../hardware/commissioning/record.ts';
import { type BoardState, type BoardTrip, OUTPUT_BITS } from '../../../hardware/protocol.ts';
import type { Bench } from '../../../sim/bench.ts';

const EXPIRE_MS = 240;
const TOLD_EVERY_MS = 50;
const LOOKS_EVERY_MS = 10;
/** The ways along a real line, there and back: it is all in the time at which a reading is stamped. */
const WAYS_MS = 9;

/** What is wrong with this board. */
export type BoardFaults = {
  linked: boolean;
  expires: boolean;
  obeysSwitches: boolean;
  /** Two wires in each other's place. */
  exchanged: readonly [Output, Output] | undefined;
  /** The charge valve shuts so much later than it is told to. */
  chargeShutsLateMs: number;
};

type On = { offAtMs: number; spent: boolean };

/** A board with a machine behind it, whose time a test moves. */
export interface MachineBoard {
  readonly bench: Bench;
  readonly nowMs: number;
  advanceTo(timeMs: number): void;
  /** Another machine stands behind it from now on: what the simulator has no hands for. */
  exchange(bench: Bench): void;
  /** The board, read by these facts. */
  joined(facts: Figures): CommissionedBoard;
}

export class BenchBoard implements MachineBoard, CommissionedBoard {
  bench: Bench;
  readonly faults: BoardFaults = {
    linked: true,
    expires: true,
    obeysSwitches: true,
    exchanged: undefined,
    chargeShutsLateMs: 0,
  };
  #state: BoardState = 'ready';
  #trip: BoardTrip = 'none';
  #obeyed = 0;
  #heardMs = 0;
  #armsNext = false;
  readonly #on = new Map<Output, On>();
  #told: Seen;

  constructor(bench: Bench) {
    this.bench = bench;
    this.#told = this.#tell(0);
  }

  get nowMs(): number {
    return this.bench.nowMs();
  }

  /** In strides of the board's looking at itself. */
  advanceTo(timeMs: number): void {
    while (this.nowMs < timeMs) {
      const nowMs = Math.min(timeMs, (Math.floor(this.nowMs / LOOKS_EVERY_MS) + 1) * LOOKS_EVERY_MS);
      this.bench.advanceTo(nowMs);
      const { emergencyStop, highPressureSwitch } = this.bench.readings();
      if (this.#state === 'armed') {
        const { obeysSwitches, expires } = this.faults;
        if (obeysSwitches && emergencyStop.ok && emergencyStop.value) this.#drop('emergency-stop');
        else if (obeysSwitches && highPressureSwitch.ok && highPressureSwitch.value)
          this.#drop('high-pressure');
        else if (expires && nowMs - this.#heardMs > EXPIRE_MS) this.#drop('link-lost');
      }
      for (const on of this.#on.values()) on.spent ||= nowMs >= on.offAtMs;
      if (nowMs % TOLD_EVERY_MS === 0) this.#told = this.#tell(nowMs);
    }
  }

  #drop(trip: BoardTrip): void {
    this.#state = 'tripped';
    this.#trip = trip;
    this.#on.clear();
    this.bench.apply(SAFE_COMMANDS);
  }

  #word(): number {
    return OUTPUT_BITS.reduce((word, output, bit) => {
      const on = this.#on.get(this.#wired(output));
      return on === undefined || on.spent ? word : word | (1 << bit);
    }, 0);
  }

  #wired(output: Output): Output {
    const [one, other] = this.faults.exchanged ?? [];
    if (output === one) return other ?? output;
    return output === other ? (one ?? output) : output;
  }

  #tell(timeMs: number): Seen {
    const board = {
      linked: true,
      state: this.#state,
      trip: this.#trip,
      word: this.#word(),
      obeyed: this.#obeyed,
      timeMs,
    };
    const readings = this.bench.readings();
    const { manifoldPressurePa: manifold } = readings;
    const stamped = manifold.ok ? { ...manifold, atMs: manifold.atMs + WAYS_MS } : manifold;
    return { readings: { ...readings, manifoldPressurePa: stamped }, board };
  }

  joined(): CommissionedBoard {
    return this;
  }

  seen(): Seen {
    const { readings, board } = this.#told;
    return { readings, board: { ...board, linked: this.faults.linked } };
  }

  takeControl(): void {
    this.#armsNext = true;
  }

  exchange(bench: Bench): void {
    bench.advanceTo(this.nowMs);
    this.bench = bench;
  }

  #arms(commands: Commands): boolean {
    const { emergencyStop, highPressureSwitch } = this.bench.readings();
    const open =
      (emergencyStop.ok && emergencyStop.value) || (highPressureSwitch.ok && highPressureSwitch.value);
    if (open || OUTPUTS.some((output) => commands[output].on)) return false;
    return this.#armsNext || this.#trip === 'link-lost';
  }

  apply(commands: Commands): void {
    if (this.#state !== 'armed' || this.#armsNext) {
      if (!this.#arms(commands)) return;
      this.#state = 'armed';
      this.#trip = 'none';
      this.#armsNext = false;
    }
    this.#obeyed++;
    this.#heardMs = this.nowMs;
    for (const output of OUTPUTS) this.#set(output, commands);
    this.bench.apply(this.#asItActs(commands));
  }

  #asItActs(commands: Commands): Commands {
    const { chargeValve } = commands;
    const { chargeShutsLateMs: lateMs } = this.faults;
    if (lateMs === 0 || !chargeValve.on || chargeValve.offAfterMs === undefined) return commands;
    return { ...commands, chargeValve: { on: true, offAfterMs: chargeValve.offAfterMs + lateMs } };
  }

  #set(output: Output, commands: Commands): void {
    const { on, offAfterMs = Number.POSITIVE_INFINITY } = commands[output];
    if (!on) {
      this.#on.delete(output);
      return;
    }
    const before = this.#on.get(output);
    const offAtMs = this.nowMs + offAfterMs;
    if (before === undefined) this.#on.set(output, { offAtMs, spent: false });
    else before.offAtMs = Math.min(before.offAtMs, offAtMs);
  }
}
