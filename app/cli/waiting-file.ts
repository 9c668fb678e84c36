// A file that is written while a job runs. Nothing waits for it: lines queue up to a bound, and a full disk ends the file only.
import { closeSync, existsSync, openSync, realpathSync, statSync, unlinkSync, write } from 'node:fs';
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

const isPipeOrDevice = (path: string): boolean => {
  const stat = statSync(path, { throwIfNoEntry: false });
  return stat !== undefined && !stat.isFile() && !stat.isDirectory();
};

function opened(path: string, flags: 'a' | 'w', { option, what, place = 'file' }: Asked): number {
  try {
    return openSync(path, flags);
  } catch (error) {
    throw new InputError(
      `cannot write the ${what} to ${path}: ${textOf(error)}; give ${option} another ${place}`,
    );
  }
}

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
   * Leaves what stands in the file, and makes it where there is none.
   * @returns what takes away again a file that was made.
   * @throws InputError when nothing can be written there, or when it is one of the others that the job needs.
   */
  static check(path: string, asked: Asked, others: readonly string[]): () => void {
    const same = others.find((other) => isSameFile(path, other));
    if (same !== undefined)
      throw new InputError(`${asked.option} ${path} would overwrite ${same}; give another file`);
    // A pipe that is closed again would have ended for its reader.
    if (isPipeOrDevice(path)) return () => {};
    const isNew = !existsSync(path);
    closeSync(opened(path, 'a', asked));
    return () => {
      // Of a link that led to nothing, what it leads to now.
      if (isNew) unlinkSync(realpathSync(path));
    };
  }

  /**
   * @param tell takes one sentence, once, when nothing more can be written.
   * @throws InputError when nothing can be written there.
   */
  constructor(path: string, asked: Asked, tell: (text: string) => void) {
    this.#path = path;
    this.#what = asked.what;
    this.#tell = tell;
    this.#packed = path.endsWith('.gz');
    this.#descriptor = opened(path, 'w', asked);
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
