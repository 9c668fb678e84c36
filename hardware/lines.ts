// Cuts what comes over the wire into lines, whatever comes, with bounded memory.
import { LONGEST_LINE } from './protocol.ts';

const LF = 0x0a;
const CR = 0x0d;

/** Bytes in, whole lines out, without their ends; a line that is too long is dropped whole and counted. */
export class LineCutter {
  /** Lines that were dropped because they had no end within reason. */
  tooLong = 0;
  #line = '';
  #dropping = false;

  cut(bytes: Uint8Array): readonly string[] {
    const lines: string[] = [];
    for (const byte of bytes) {
      if (byte === LF || byte === CR) {
        if (!this.#dropping && this.#line !== '') lines.push(this.#line);
        this.#dropping = false;
        this.#line = '';
      } else if (!this.#dropping) this.#keep(byte);
    }
    return lines;
  }

  #keep(byte: number): void {
    if (this.#line.length < LONGEST_LINE) {
      this.#line += String.fromCharCode(byte);
      return;
    }
    this.tooLong++;
    this.#dropping = true;
    this.#line = '';
  }
}
