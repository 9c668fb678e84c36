// A thread that runs jobs for the holds, one seed after the other.
import { workerData } from 'node:worker_threads';
import { holdsJob, type Kind } from './holds-job.ts';
import { answer } from './workers.ts';

answer((seed) => holdsJob(workerData as Kind, seed));
