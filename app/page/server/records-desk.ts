// Asks the thread that has the records, and gives its answers to whoever asked.
import { Worker } from 'node:worker_threads';
import { InputError } from '../../cli/command.ts';
import type { Message } from '../messages.ts';
import type { RecordsShown } from '../shown-records.ts';

export type UpkeepDone = Omit<Extract<Message, { type: 'upkeep-done' }>, 'type'>;

export type RecordsQuestion =
  | { readonly kind: 'look-up'; readonly words: string }
  | { readonly kind: 'report'; readonly job: number; readonly units: 'si' | 'us' }
  | { readonly kind: 'done'; readonly upkeep: UpkeepDone };

export type RecordsAnswer =
  | { readonly id: number; readonly ok: true; readonly value: unknown }
  | { readonly id: number; readonly ok: false; readonly because: string };

type Asked = { readonly resolve: (value: unknown) => void; readonly reject: (error: Error) => void };

/** More that wait at once come from no person. */
const MOST_WAITING = 20;

export class RecordsDesk {
  readonly #worker: Worker;
  readonly #waiting = new Map<number, Asked>();
  #asked = 0;

  /** @param file of the records; it is there already. */
  constructor(file: string) {
    this.#worker = new Worker(new URL('./records-worker.ts', import.meta.url), { workerData: file });
    this.#worker.on('message', (answer: RecordsAnswer) => this.#hear(answer));
    this.#worker.on('error', (error) => this.#giveUp(`the records can not be read: ${error.message}`));
    this.#worker.on('exit', () => this.#giveUp('the records are closed'));
    this.#worker.unref();
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
    await this.#worker.terminate();
  }

  #ask(question: RecordsQuestion): Promise<unknown> {
    if (this.#waiting.size >= MOST_WAITING)
      return Promise.reject(new InputError('too much is being looked up at once; try again'));
    this.#asked += 1;
    const id = this.#asked;
    return new Promise((resolve, reject) => {
      this.#waiting.set(id, { resolve, reject });
      this.#worker.postMessage({ id, question });
    });
  }

  #hear(answer: RecordsAnswer): void {
    const asked = this.#waiting.get(answer.id);
    this.#waiting.delete(answer.id);
    if (answer.ok) asked?.resolve(answer.value);
    else asked?.reject(new InputError(answer.because));
  }

  #giveUp(because: string): void {
    for (const { reject } of this.#waiting.values()) reject(new InputError(because));
    this.#waiting.clear();
  }
}
