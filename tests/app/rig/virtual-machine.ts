// A whole machine at the far end of a line, in a time that is moved by whoever sleeps.

import { fluidOnce } from '../../../app/bench/whole-jobs.ts';
import { emulatedParts } from '../../../app/rig/emulated.ts';
import type { RealTime } from '../../../app/rig/paced.ts';
import { WiredBoard, type WiredParts } from '../../../app/rig/wired-board.ts';
import { prepare, type Session } from '../../../app/run/prepare.ts';
import { toScenario } from '../../../app/scenario/scenario.ts';
import { Connection, type OpenLine } from '../../../hardware/connection.ts';
import { BoardRig, SERIAL_CAPABILITIES } from '../../../hardware/rig.ts';

export class VirtualMachine {
  readonly session: Session;
  readonly parts: WiredParts;
  readonly machine: WiredBoard;
  /** Every word that was driven. */
  readonly words: number[] = [];
  #nowMs = 0;
  #heard: ((bytes: Uint8Array) => void) | undefined;

  constructor(file: unknown) {
    this.session = prepare(toScenario(file, 'the test'), 'the test', fluidOnce, () => 0);
    this.parts = emulatedParts(this.session);
    this.parts.board.onOutputs((word) => this.words.push(word));
    this.machine = new WiredBoard(this.parts, (byte, nowMs) => {
      this.#nowMs = nowMs;
      this.#heard?.(byte);
    });
  }

  readonly open: OpenLine = ({ heard }) => {
    this.#heard = heard;
    return {
      send: (text) => this.machine.receive(Buffer.from(text, 'latin1')),
      close: () => {
        this.#heard = undefined;
      },
    };
  };

  readonly time: RealTime = {
    nowMs: () => this.#nowMs,
    sleep: async (ms) => {
      const untilMs = this.#nowMs + ms;
      while (this.session.bench.nowMs() < untilMs) this.machine.turn(untilMs);
      this.#nowMs = untilMs;
    },
  };

  /** The host's end of the line. */
  rig(): BoardRig {
    const { nowMs } = this.time;
    const connection = new Connection({ open: this.open, nowMs });
    return new BoardRig({
      connection,
      sensors: this.parts.sensors,
      capabilities: SERIAL_CAPABILITIES,
      nowMs,
    });
  }
}
