// The file a trace goes to: opened before the run, so that an unwritable place is found at once.
import { closeSync, openSync, realpathSync, writeSync } from 'node:fs';
import { InputError } from './command.ts';

/** Whether two paths lead to one file that is there. */
export function isSameFile(one: string, other: string): boolean {
  try {
    return realpathSync(one) === realpathSync(other);
  } catch {
    return false;
  }
}

const FLUSH_FROM_LENGTH = 65_536;

/** Every failure to write is an InputError: the remedy is another place, or room on the disk. */
export class TraceFile {
  readonly #path: string;
  readonly #descriptor: number;
  #waiting = '';

  /** @throws InputError when nothing can be written there, or when it is the scenario itself. */
  constructor(path: string, scenarioPath: string | undefined) {
    if (scenarioPath !== undefined && isSameFile(path, scenarioPath))
      throw new InputError(`--trace ${path} would overwrite the scenario; give another file`);
    this.#path = path;
    this.#descriptor = this.#attempt(() => openSync(path, 'w'));
  }

  write(text: string): void {
    this.#waiting += text;
    if (this.#waiting.length >= FLUSH_FROM_LENGTH) this.#flush();
  }

  close(): void {
    try {
      this.#flush();
    } finally {
      closeSync(this.#descriptor);
    }
  }

  #flush(): void {
    const bytes = Buffer.from(this.#waiting);
    this.#waiting = '';
    for (let done = 0; done < bytes.length; )
      done += this.#attempt(() => writeSync(this.#descriptor, bytes, done));
  }

  #attempt<T>(work: () => T): T {
    try {
      return work();
    } catch (error) {
      const reason = error instanceof Error ? error.message : String(error);
      throw new InputError(`cannot write the trace to ${this.#path}: ${reason}; give --trace another file`);
    }
  }
}
