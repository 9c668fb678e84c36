// A file that is written while a job runs. Nothing waits for it: lines queue up to a bound, and a full disk ends the file only.
import { closeSync, openSync, write } from 'node:fs';
import { promisify } from 'node:util';
import { gzip } from 'node:zlib';
import { InputError, textOf } from './command.ts';
import { isSameFile } from './text-file.ts';

const BLOCK_LENGTH = 65_536;
/** Blocks that a slow disk may be behind: minutes of a job in real time. */
const MOST_BLOCKS = 256;
/** A run that can wait does so from here on. */
const BEHIND_BLOCKS = 8;

const writeAsync = promisify(write);
const gzipAsync = promisify(gzip);

/** The option that asks for the file, and what stands in it. */
export type Asked = { readonly option: string; readonly what: string; readonly place?: 'file' | 'folder' };

export class WaitingFile {
  readonly #path: string;
  readonly #what: string;
  readonly #descriptor: number;
  readonly #tell: (text: string) => void;
  readonly #packed: boolean;
  #block = '';
  #queued = 0;
  #work: Promise<void> = Promise.resolve();
  #broken = false;

  /**
   * @param tell takes one sentence, once, when nothing more can be written.
   * @throws InputError when nothing can be written there, or when it is one of the others that the job needs.
   */
  constructor(
    path: string,
    { option, what, place = 'file' }: Asked,
    others: readonly string[],
    tell: (text: string) => void,
  ) {
    const same = others.find((other) => isSameFile(path, other));
    if (same !== undefined)
      throw new InputError(`${option} ${path} would overwrite ${same}; give another file`);
    this.#path = path;
    this.#what = what;
    this.#tell = tell;
    this.#packed = path.endsWith('.gz');
    try {
      this.#descriptor = openSync(path, 'w');
    } catch (error) {
      throw new InputError(
        `cannot write the ${what} to ${path}: ${textOf(error)}; give ${option} another ${place}`,
      );
    }
  }

  write(line: string): void {
    if (this.#broken) return;
    this.#block += line;
    if (this.#block.length >= BLOCK_LENGTH) this.flush();
  }

  flush(): void {
    if (this.#block === '' || this.#broken) return;
    if (this.#queued >= MOST_BLOCKS) {
      this.#give('the disk is too slow');
      return;
    }
    const block = this.#block;
    this.#block = '';
    this.#queued += 1;
    this.#work = this.#work
      .then(() => this.#append(block))
      .catch((error: unknown) => this.#give(textOf(error)))
      .finally(() => {
        this.#queued -= 1;
      });
  }

  /** For a run whose time can stand still: waits while the disk is behind. */
  async settle(): Promise<void> {
    if (this.#queued > BEHIND_BLOCKS) await this.#work;
  }

  /** Everything that could be written is in the file. */
  async close(): Promise<void> {
    this.flush();
    await this.#work;
    closeSync(this.#descriptor);
  }

  /** Each block is packed for itself, so that a file that was cut off can be read up to the last of them. */
  async #append(block: string): Promise<void> {
    if (this.#broken) return;
    const bytes = this.#packed ? await gzipAsync(block) : Buffer.from(block);
    for (let done = 0; done < bytes.length; )
      done += (await writeAsync(this.#descriptor, bytes, done)).bytesWritten;
  }

  #give(reason: string): void {
    if (this.#broken) return;
    this.#broken = true;
    this.#block = '';
    this.#tell(`The ${this.#what} ${this.#path} ends here, the job goes on: ${reason}.`);
  }
}
