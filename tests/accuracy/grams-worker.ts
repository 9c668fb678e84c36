// A thread that runs jobs for the grams, one seed after the other.
import { parentPort, workerData } from 'node:worker_threads';
import type { ProfileName } from '../../sim/profiles.ts';
import { type GramsRow, gramsJob } from './grams-job.ts';
import type { Answer, Order } from './workers.ts';

const { profile } = workerData as { readonly profile: ProfileName };

parentPort?.on('message', async ({ seed }: Order) => {
  parentPort?.postMessage({ row: await gramsJob(profile, seed) } satisfies Answer<GramsRow>);
});
