// Seeded jobs spread over worker threads: every worker takes the next seed when it has done its last.
import { Worker } from 'node:worker_threads';

/** What a worker is sent, and what it answers. */
export type Order = { readonly seed: number };
export type Answer<Row> = { readonly row: Row };

export type Spread = {
  /** A module that answers each order with a row. */
  readonly module: URL;
  /** Handed to the module as its worker data. */
  readonly about: unknown;
  readonly fromSeed: number;
  readonly jobs: number;
  readonly workers: number;
  readonly progress: (done: number) => void;
};

/**
 * Rows in the order of their seeds, whatever the order they came in.
 * @throws whatever a worker dies of.
 */
export async function spread<Row>({
  module,
  about,
  fromSeed,
  jobs,
  workers,
  progress,
}: Spread): Promise<Row[]> {
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
        progress(rows.size);
        give();
      });
      worker.on('error', (error) => reject(new Error(`seed ${seed}`, { cause: error })));
      give();
    });
  await Promise.all(Array.from({ length: workers }, one));
  return [...rows].sort(([a], [b]) => a - b).map(([, row]) => row);
}
