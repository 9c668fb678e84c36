// Asks the thread that has the records: whoever looks something up holds no scan up.
import Tinypool from 'tinypool';
import { InputError } from '../../cli/command.ts';
import { ownModule } from '../../own-module.ts';
import type { Message } from '../messages.ts';
import type { RecordsShown } from '../shown-records.ts';

export type UpkeepDone = Omit<Extract<Message, { type: 'upkeep-done' }>, 'type'>;

export type RecordsQuestion =
  | { readonly kind: 'look-up'; readonly words: string }
  | { readonly kind: 'report'; readonly job: number; readonly units: 'si' | 'us' }
  | { readonly kind: 'done'; readonly upkeep: UpkeepDone };

export type RecordsTask = { readonly file: string; readonly question: RecordsQuestion };

export type RecordsAnswer =
  | { readonly ok: true; readonly value: unknown }
  | { readonly ok: false; readonly because: string };

/** More that wait at once come from no person. */
const MOST_WAITING = 20;

export class RecordsDesk {
  readonly #file: string;
  readonly #thread: Tinypool;
  #waiting = 0;
  #closed = false;

  /** @param file of the records; it is there already. */
  constructor(file: string) {
    this.#file = file;
    const { href } = ownModule('records-worker', import.meta.url);
    this.#thread = new Tinypool({ filename: href, minThreads: 1, maxThreads: 1 });
  }

  /** The newest jobs that have all of the words, and what every machine needs. @throws InputError with the remedy. */
  lookUp(words: string): Promise<RecordsShown> {
    return this.#ask({ kind: 'look-up', words }) as Promise<RecordsShown>;
  }

  /** The record of a job as a page, or nothing where there is no such job. @throws InputError with the remedy. */
  report(job: number, units: 'si' | 'us'): Promise<string | undefined> {
    return this.#ask({ kind: 'report', job, units }) as Promise<string | undefined>;
  }

  /** Writes down and seals what was done. @throws InputError with the remedy. */
  async note(upkeep: UpkeepDone): Promise<void> {
    await this.#ask({ kind: 'done', upkeep });
  }

  async close(): Promise<void> {
    this.#closed = true;
    await this.#thread.destroy();
  }

  async #ask(question: RecordsQuestion): Promise<unknown> {
    if (this.#waiting >= MOST_WAITING) throw new InputError('too much is being looked up at once; try again');
    this.#waiting += 1;
    try {
      const task: RecordsTask = { file: this.#file, question };
      const answer: RecordsAnswer = await this.#thread.run(task).catch((cause: unknown) => {
        throw this.#closed ? new InputError('the records are closed') : cause;
      });
      if (!answer.ok) throw new InputError(answer.because);
      return answer.value;
    } finally {
      this.#waiting -= 1;
    }
  }
}
