// A thread that cuts the mains of one job, at one second after the other.
import { workerData } from 'node:worker_threads';
import { cutJob, type Kind } from './power-cuts-job.ts';
import { answer } from './workers.ts';

answer((seed) => cutJob('good', (workerData as { kind: Kind }).kind, seed));
