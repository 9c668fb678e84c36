// Files that grow in large pieces; whatever goes wrong is a wrong place, or no room on the disk.
import { closeSync, openSync, realpathSync, writeSync } from 'node:fs';
import { InputError, textOf } from './command.ts';

const FLUSH_FROM_LENGTH = 65_536;

/** What cannot be written, and the remedy: `cannot write WHAT: reason; give OTHER`. */
export type Blame = { readonly what: string; readonly other: string };

/** Opened at once, so that a place that cannot be written is found before any work. @throws InputError in every method. */
export class BinaryFile {
  readonly #blame: Blame;
  readonly #descriptor: number;
  #open = true;

  constructor(path: string, blame: Blame = { what: path, other: 'another place' }) {
    this.#blame = blame;
    this.#descriptor = this.#attempt(() => openSync(path, 'w'));
  }

  write(bytes: Uint8Array): void {
    for (let done = 0; done < bytes.length; )
      done += this.#attempt(() => writeSync(this.#descriptor, bytes, done));
  }

  /** Once; later calls do nothing. */
  close(): void {
    if (this.#open) closeSync(this.#descriptor);
    this.#open = false;
  }

  #attempt<T>(work: () => T): T {
    try {
      return work();
    } catch (error) {
      const reason = textOf(error);
      throw new InputError(`cannot write ${this.#blame.what}: ${reason}; give ${this.#blame.other}`);
    }
  }
}

/** @throws InputError as `BinaryFile`. */
export class TextFile {
  readonly #file: BinaryFile;
  #waiting = '';

  constructor(path: string, blame?: Blame) {
    this.#file = new BinaryFile(path, blame);
  }

  write(text: string): void {
    this.#waiting += text;
    if (this.#waiting.length >= FLUSH_FROM_LENGTH) this.#flush();
  }

  close(): void {
    try {
      this.#flush();
    } finally {
      this.#file.close();
    }
  }

  /** Closes it as it stands: there was trouble. */
  drop(): void {
    this.#file.close();
  }

  #flush(): void {
    const bytes = Buffer.from(this.#waiting);
    this.#waiting = '';
    this.#file.write(bytes);
  }
}

/** Whether two paths lead to one file that is there. */
export function isSameFile(one: string, other: string): boolean {
  try {
    return realpathSync(one) === realpathSync(other);
  } catch {
    return false;
  }
}
