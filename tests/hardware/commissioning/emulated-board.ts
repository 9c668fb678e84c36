// The real firmware on an emulated board, wired to the simulated bench, with the line and the host's end that a real rig has.
import { readFileSync } from 'node:fs';
import { boardOn, type CommissionedBoard } from '../../../app/rig/commissioned-board.ts';
import { quickManifold } from '../../../app/rig/quick-manifold.ts';
import { WiredBoard } from '../../../app/rig/wired-board.ts';
import type { Figures } from '../../../hardware/commissioning/record.ts';
import { dataSheetSensors } from '../../../hardware/commissioning/sensors.ts';
import { Connection } from '../../../hardware/connection.ts';
import { createBoard } from '../../../hardware/emulator/board.ts';
import type { Bench } from '../../../sim/bench.ts';
import type { MachineBoard } from './bench-board.ts';

const FIRMWARE = readFileSync('hardware/firmware/coldbench.hex', 'utf8');
/** Board and plant in turn: what a valve does is on the wires of the board so much later at most. */
const TURN_MS = 4;
/** As the bench's scale. */
const BRIDGE_RATE_HZ = 10;

export class EmulatedMachine implements MachineBoard {
  bench: Bench;
  readonly #wired: WiredBoard;
  readonly #connection: Connection;
  /** Where the host's end of the line stands. */
  #hostMs = 0;

  constructor(bench: Bench, facts: Figures) {
    this.bench = bench;
    let heard: ((bytes: Uint8Array) => void) | undefined;
    this.#wired = new WiredBoard(
      {
        bench: quickManifold(() => this.bench),
        board: createBoard({ hex: FIRMWARE, bridgeRateHz: BRIDGE_RATE_HZ }),
        sensors: dataSheetSensors(facts),
      },
      (byte, nowMs) => {
        this.#hostMs = nowMs;
        heard?.(byte);
      },
    );
    this.#connection = new Connection({
      open: (events) => {
        heard = events.heard;
        return { send: (text) => this.#wired.receive(Buffer.from(text, 'latin1')), close: () => {} };
      },
      nowMs: () => this.#hostMs,
    });
  }

  get nowMs(): number {
    return this.bench.nowMs();
  }

  advanceTo(timeMs: number): void {
    while (this.nowMs < timeMs) {
      this.#hostMs = this.#wired.turn(Math.min(timeMs, this.nowMs + TURN_MS));
      this.#connection.tick(this.#hostMs);
    }
  }

  exchange(bench: Bench): void {
    bench.advanceTo(this.nowMs);
    this.bench = bench;
  }

  joined(facts: Figures): CommissionedBoard {
    return boardOn(this.#connection, facts, () => this.#hostMs);
  }
}
