// Recordings of the jobs that are begun on the page, each in a file of its own, for replay and export.
import { accessSync, constants, existsSync, mkdirSync, statSync } from 'node:fs';
import path from 'node:path';
import { InputError, textOf } from '../../cli/command.ts';
import { recordingFile } from '../../cli/recording-file.ts';
import type { Part } from '../../cli/watch-part.ts';

const ASKED = { option: '--recordings', what: 'recording', place: 'folder' } as const;
const DIGITS = 4;

export class Recordings {
  readonly #directory: string;
  readonly #open = new Set<Part>();
  readonly #closing = new Set<Promise<void>>();
  #last = 0;

  /** @throws InputError when nothing can be written there. */
  constructor(directory: string) {
    this.#directory = directory;
    try {
      // Not the folders above it: a mistyped path is told, not made.
      if (!existsSync(directory)) mkdirSync(directory);
      if (!statSync(directory).isDirectory()) throw new Error('it is no folder');
      accessSync(directory, constants.W_OK);
    } catch (error) {
      throw new InputError(
        `cannot write recordings to ${directory}: ${textOf(error)}; give ${ASKED.option} another folder`,
      );
    }
  }

  /**
   * One under the next number that is free: nothing is written over.
   * @param tell is told, once, when nothing can be written: the job goes on without.
   */
  begin(tell: (text: string) => void): Part | undefined {
    try {
      const part = recordingFile(this.#next(), ASKED, tell);
      this.#open.add(part);
      return part;
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      tell(`This job is not recorded: ${error.message}.`);
      return undefined;
    }
  }

  /**
   * Its job is over. Nothing waits for the disk.
   * @param tell is told when its end cannot be written.
   */
  end(part: Part, tell: (text: string) => void): void {
    if (!this.#open.delete(part)) return;
    const closing = part
      .close()
      .catch((error: unknown) => tell(`The end of this job's recording is not written: ${textOf(error)}.`))
      .finally(() => this.#closing.delete(closing));
    this.#closing.add(closing);
  }

  /** All of them are whole. */
  async close(): Promise<void> {
    for (const part of this.#open) this.end(part, () => {});
    await Promise.all(this.#closing);
  }

  #next(): string {
    for (;;) {
      this.#last += 1;
      const name = `job-${String(this.#last).padStart(DIGITS, '0')}.recording.gz`;
      const file = path.join(this.#directory, name);
      if (!existsSync(file)) return file;
    }
  }
}
