// Controller, line, firmware on an emulated board, wires, plant: the simulated bench with a real board's ways in between.
import type { Capabilities, Commands, Readings } from '../../controller/signals.ts';
import { Connection, type Line, type LineEvents } from '../../hardware/connection.ts';
import { BoardRig, type Undriven } from '../../hardware/rig.ts';
import type { LiveBench } from '../../sim/bench.ts';
import type { Fault } from '../../sim/faults.ts';
import type { HandAction, Truth, TruthWithin } from '../../sim/spec.ts';
import { WiredBoard, type WiredParts } from './wired-board.ts';

const CAPABILITIES: Capabilities = { truth: true, timeControl: true, needsCommissioning: false };

/** The program has started, has been asked and has answered, and every converter has given its first value. */
const GREETING_MS = 1_000;

export class JoinedBench implements LiveBench {
  readonly capabilities = CAPABILITIES;
  readonly #wired: WiredBoard;
  readonly #rig: BoardRig;
  #heard: ((bytes: Uint8Array) => void) | undefined;
  /** Where the host's end of the line stands: at the byte that is arriving, or where time was moved to. */
  #nowMs: number;

  constructor(parts: WiredParts) {
    this.#nowMs = parts.bench.nowMs();
    this.#wired = new WiredBoard(parts, (byte, nowMs) => {
      this.#nowMs = nowMs;
      this.#heard?.(byte);
    });
    const nowMs = () => this.#nowMs;
    const connection = new Connection({ open: (events) => this.#openLine(events), nowMs });
    this.#rig = new BoardRig({ connection, sensors: parts.sensors, capabilities: CAPABILITIES, nowMs });
    this.advanceTo(parts.bench.nowMs() + GREETING_MS);
    this.#rig.takeControl();
  }

  #openLine({ heard }: LineEvents): Line {
    this.#heard = heard;
    return {
      send: (text) => this.#wired.receive(Buffer.from(text, 'latin1')),
      close: () => {
        this.#heard = undefined;
      },
    };
  }

  /** Why commands do not reach the outputs, if they do not. */
  get undriven(): Undriven | undefined {
    return this.#rig.undriven;
  }

  takeControl(): void {
    this.#rig.takeControl();
  }

  nowMs(): number {
    return this.#wired.bench.nowMs();
  }

  readings(): Readings {
    return this.#rig.readings();
  }

  apply(commands: Commands): void {
    this.#rig.apply(commands);
  }

  advanceTo(timeMs: number): void {
    while (this.nowMs() < timeMs) {
      this.#nowMs = this.#wired.turn(timeMs);
      this.#rig.tick();
      this.#rig.readings();
    }
  }

  operate(action: HandAction): void {
    this.#wired.bench.operate(action);
  }

  openVehicle(open: boolean): void {
    this.#wired.bench.openVehicle(open);
  }

  switchFault(fault: Fault, on: boolean): void {
    this.#wired.switchFault(fault, on);
  }

  catchBottleM3(): number {
    return this.#wired.bench.catchBottleM3();
  }

  truth(): Truth {
    return this.#wired.bench.truth();
  }

  within(): TruthWithin {
    return this.#wired.bench.within();
  }
}
