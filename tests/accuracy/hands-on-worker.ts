// A thread that runs whole jobs for their prompts, one seed after the other.
import { workerData } from 'node:worker_threads';
import type { ProfileName } from '../../sim/profiles.ts';
import { handsOnJob } from './hands-on-job.ts';
import { answer } from './workers.ts';

answer((seed) => handsOnJob((workerData as { profile: ProfileName }).profile, seed));
