// A thread that runs recoveries, one seed after the other.
import { workerData } from 'node:worker_threads';
import { type Kind, recoveryJob } from './recovery-job.ts';
import { answer } from './workers.ts';

answer((seed) => recoveryJob(workerData as Kind, seed));
