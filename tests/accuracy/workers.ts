// Seeded jobs spread over worker threads: every worker takes the next seed when it has done its last.
import { parentPort, Worker } from 'node:worker_threads';
import type { Asked } from './topic.ts';

/** What a worker is sent, and what it answers. */
type Order = { readonly seed: number };
type Answer<Row> = { readonly row: Row };

type Spread = {
  /** A module that answers each order with a row: see `answer`. */
  readonly module: URL;
  /** Handed to the module as its worker data. */
  readonly about: unknown;
  /** Stands before what is told of the progress. */
  readonly label: string;
};

/** The worker's side: every order is answered with the row of its seed. */
export const answer = <Row>(rowOf: (seed: number) => Promise<Row>): void => {
  parentPort?.on('message', async ({ seed }: Order) => {
    parentPort?.postMessage({ row: await rowOf(seed) } satisfies Answer<Row>);
  });
};

/**
 * Rows in the order of their seeds, whatever the order they came in.
 * @throws whatever a worker dies of.
 */
export async function spread<Row>(
  { module, about, label }: Spread,
  { fromSeed, jobs, workers, progress }: Asked,
): Promise<Row[]> {
  const rows = new Map<number, Row>();
  let next = fromSeed;
  const one = (): Promise<void> =>
    new Promise((resolve, reject) => {
      const worker = new Worker(module, { workerData: about });
      let seed = next;
      const give = (): void => {
        if (next >= fromSeed + jobs) {
          void worker.terminate().then(() => resolve());
          return;
        }
        seed = next++;
        worker.postMessage({ seed } satisfies Order);
      };
      worker.on('message', ({ row }: Answer<Row>) => {
        rows.set(seed, row);
        progress(`${label}: ${rows.size} of ${jobs} jobs`);
        give();
      });
      worker.on('error', (error) => reject(new Error(`seed ${seed}`, { cause: error })));
      give();
    });
  await Promise.all(Array.from({ length: workers }, one));
  return [...rows].sort(([a], [b]) => a - b).map(([, row]) => row);
}
