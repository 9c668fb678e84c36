// A thread that runs jobs for the holds, one seed after the other.
import { parentPort, workerData } from 'node:worker_threads';
import { type HoldRow, holdsJob, type Kind } from './holds-job.ts';
import type { Answer, Order } from './workers.ts';

const kind = workerData as Kind;

parentPort?.on('message', async ({ seed }: Order) => {
  parentPort?.postMessage({ row: await holdsJob(kind, seed) } satisfies Answer<HoldRow>);
});
