// Tasks spread over worker threads; their answers are taken in the order of the tasks, whatever order they come in.
import Tinypool from 'tinypool';
import { tuneForManyJobs } from './engine.ts';

/** For each worker so many answers may wait for an older one: this bounds what is held back, and what a kill can lose. */
const AHEAD_PER_WORKER = 8;

/**
 * What a job throws away at once is collected in this much; left to itself, V8 lets it grow with every burst until two threads
 * have taken half a gigabyte, though no more than 25 MB of each live on.
 */
const YOUNG_MB = 16;

/** Enough of a task to know it by. */
const SHOWN_LETTERS = 100;

export type Pool = {
  /** A module whose default export answers one task. */
  readonly module: URL;
  readonly workers: number;
  /** Ends all threads at once; what was not taken yet is given up. */
  readonly stop?: AbortSignal | undefined;
};

/**
 * Runs every task in some worker and hands each answer to `take`, in the order of the tasks. It ends early, without an
 * error, when it is stopped.
 * @throws Error whose message names the task, and whose cause is what the worker died of.
 */
export async function inOrder<Task, Answer>(
  { module, workers, stop }: Pool,
  tasks: Iterable<Task>,
  take: (answer: Answer) => void,
): Promise<void> {
  const left = tasks[Symbol.iterator]();
  const first = left.next();
  const isStopped = (): boolean => stop?.aborted === true;
  if (first.done === true || isStopped()) return;
  tuneForManyJobs();
  const pool = new Tinypool({
    filename: module.href,
    minThreads: workers,
    maxThreads: workers,
    resourceLimits: { maxYoungGenerationSizeMb: YOUNG_MB },
  });
  // Whatever is under way or waiting then fails.
  const end = (): void => void pool.destroy();
  stop?.addEventListener('abort', end, { once: true });
  const waiting: Promise<Answer>[] = [];
  const give = ({ value, done }: IteratorResult<Task>): void => {
    if (done === true) return;
    const answer = pool.run(value).catch((cause: unknown) => {
      throw new Error(`the task ${JSON.stringify(value).slice(0, SHOWN_LETTERS)} broke its worker`, {
        cause,
      });
    });
    // Whoever comes to it sees how it failed; until then it is nobody's surprise.
    answer.catch(() => {});
    waiting.push(answer);
  };
  try {
    give(first);
    for (let given = 1; given < AHEAD_PER_WORKER * workers; given++) give(left.next());
    for (let oldest = waiting.shift(); oldest !== undefined; oldest = waiting.shift()) {
      take(await oldest);
      if (isStopped()) return;
      give(left.next());
    }
  } catch (error) {
    if (!isStopped()) throw error;
  } finally {
    stop?.removeEventListener('abort', end);
    await pool.destroy();
  }
}
