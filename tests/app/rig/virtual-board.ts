// An emulated board at the far end of a line, in a time that is moved by whoever sleeps.
import { readFileSync } from 'node:fs';
import type { RealTime } from '../../../app/rig/paced.ts';
import type { OpenLine } from '../../../hardware/connection.ts';
import { createBoard, type EmulatedBoard } from '../../../hardware/emulator/board.ts';

const HEX = readFileSync(new URL('../../../hardware/firmware/coldbench.hex', import.meta.url), 'utf8');

export class VirtualBoard {
  readonly board: EmulatedBoard = createBoard({ hex: HEX });
  /** Every word that was driven, with its time. */
  readonly words: { readonly atMs: number; readonly word: number }[] = [];
  #heard: ((bytes: Uint8Array) => void) | undefined;
  #ended: ((problem: string) => void) | undefined;

  constructor() {
    this.board.onSend((byte) => this.#heard?.(Uint8Array.of(byte)));
    this.board.onOutputs((word, timeUs) => this.words.push({ atMs: timeUs / 1000, word }));
    this.board.powerOn();
  }

  /** Opening the port resets this board, as it does many. */
  readonly open: OpenLine = ({ heard, ended }) => {
    this.#heard = heard;
    this.#ended = ended;
    this.board.reset('pin');
    return {
      send: (text) => this.board.receive(Buffer.from(text, 'latin1')),
      close: () => {
        this.#heard = undefined;
      },
    };
  };

  pull(problem: string): void {
    this.#heard = undefined;
    this.#ended?.(problem);
  }

  readonly time: RealTime = {
    nowMs: () => this.board.timeMs,
    sleep: async (ms) => this.board.advanceTo(this.board.timeMs + ms),
  };
}
