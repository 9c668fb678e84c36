// Seeded jobs spread over worker threads, each module's jobs with what they are about.
import { inOrder } from '../../app/bench/pool.ts';
import type { Asked } from './topic.ts';

/** What the default export of a module is called with. */
export type Order<About> = { readonly about: About; readonly seed: number };

type Spread = {
  /** A module whose default export answers each order with the row of its seed. */
  readonly module: URL;
  /** Handed to the module with every seed. */
  readonly about: unknown;
  /** Stands before what is told of the progress. */
  readonly label: string;
};

/**
 * Rows in the order of their seeds.
 * @throws Error that names the seed, with whatever a worker died of.
 */
export async function spread<Row>(
  { module, about, label }: Spread,
  { fromSeed, jobs, workers, progress }: Asked,
): Promise<Row[]> {
  const orders = Array.from({ length: jobs }, (_, index) => ({ about, seed: fromSeed + index }));
  const rows: Row[] = [];
  await inOrder<Order<unknown>, Row>({ module, workers }, orders, (row) => {
    rows.push(row);
    progress(`${label}: ${rows.length} of ${jobs} jobs`);
  });
  return rows;
}
