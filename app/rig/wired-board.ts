// The simulated bench wired to an emulated board that runs the real firmware: sensors to its pins, its outputs to valves.
import type { Measured, Readings } from '../../controller/signals.ts';
import type { EmulatedBoard } from '../../hardware/emulator/board.ts';
import type { FittedSensors } from '../../hardware/fitted.ts';
import type { LiveBench } from '../../sim/bench.ts';
import type { Fault } from '../../sim/faults.ts';
import { wiresOf } from './simulated-sensors.ts';
import { commandsOfWord } from './words.ts';

/** Board and plant are brought on in turn by this much; an edge of an output reaches the plant at its own time. */
const TURN_MS = 10;

export type WiredParts = {
  readonly bench: LiveBench;
  readonly board: EmulatedBoard;
  readonly sensors: FittedSensors;
};

/** What hangs on the far end of a line: a machine that is nothing but its board to whoever speaks to it. */
export class WiredBoard {
  readonly bench: LiveBench;
  readonly #board: EmulatedBoard;
  readonly #sensors: FittedSensors;
  readonly #edges: { readonly atMs: number; readonly word: number }[] = [];
  readonly #byte = new Uint8Array(1);
  /** The board's time when the bench's was zero. */
  readonly #boardAheadMs: number;
  #wired: Readings | undefined;
  /** What a wire says whatever the bench's sensor does: a calibrator in the sensor's place. */
  #held: { readonly [S in Measured]?: number } = {};
  #lineCut = false;

  /** @param heard takes each byte that the board sends, with the time at which it has arrived. */
  constructor({ bench, board, sensors }: WiredParts, heard: (byte: Uint8Array, nowMs: number) => void) {
    this.bench = bench;
    this.#board = board;
    this.#sensors = sensors;
    this.#boardAheadMs = board.timeMs - bench.nowMs();
    board.onSend((byte, timeUs) => {
      if (this.#lineCut) return;
      this.#byte[0] = byte;
      heard(this.#byte, timeUs / 1000 - this.#boardAheadMs);
    });
    board.onOutputs((word, timeUs) =>
      this.#edges.push({ atMs: Math.round(timeUs / 1000 - this.#boardAheadMs), word }),
    );
    board.powerOn();
  }

  /** What the board really drives, in the bits of the protocol. */
  get word(): number {
    return this.#board.outputs();
  }

  /** Bytes of the host's. */
  receive(bytes: Uint8Array): void {
    if (!this.#lineCut) this.#board.receive(bytes);
  }

  /** Brings both on by a turn, but not beyond `timeMs`; answers how far they have come. */
  turn(timeMs: number): number {
    const nextMs = Math.min(timeMs, this.bench.nowMs() + TURN_MS);
    this.#wire();
    this.#board.advanceTo(nextMs + this.#boardAheadMs);
    for (const { atMs, word } of this.#edges.splice(0)) {
      this.bench.advanceTo(Math.min(Math.max(atMs, this.bench.nowMs()), nextMs));
      this.bench.apply(commandsOfWord(word));
    }
    this.bench.advanceTo(nextMs);
    this.bench.apply(commandsOfWord(this.#board.outputs()));
    return nextMs;
  }

  #wire(): void {
    const readings = this.bench.readings();
    if (readings === this.#wired) return;
    this.#wired = readings;
    this.#board.setInputs(wiresOf(this.#withHeld(readings), this.#sensors));
  }

  #withHeld(readings: Readings): Readings {
    const held = Object.entries(this.#held).map(([sensor, value]) => [
      sensor,
      { ok: true, value, atMs: this.bench.nowMs() },
    ]);
    return held.length === 0 ? readings : { ...readings, ...Object.fromEntries(held) };
  }

  /** Puts a value on the wire of a sensor, SI and absolute, or gives the wire back to the bench. */
  hold(sensor: Measured, value: number | undefined): void {
    const { [sensor]: _, ...others } = this.#held;
    this.#held = value === undefined ? others : { ...others, [sensor]: value };
    this.#wired = undefined;
  }

  /** What is wrong with the line is wrong with this one; what is wrong with the mains takes the board as well. */
  switchFault(fault: Fault, on: boolean): void {
    if (fault.fault === 'link-lost') {
      this.#lineCut = on;
      return;
    }
    if (fault.fault === 'power-lost') {
      if (on) this.#board.powerOff();
      else this.#board.powerOn();
    }
    this.bench.switchFault(fault, on);
  }
}
