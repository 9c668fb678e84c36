// A thread that lets one fault after the other strike.
import { workerData } from 'node:worker_threads';
import type { ProfileName } from '../../sim/profiles.ts';
import { faultJob } from './faults-job.ts';
import { answer } from './workers.ts';

answer((seed) => faultJob((workerData as { profile: ProfileName }).profile, seed));
