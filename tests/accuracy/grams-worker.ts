// A thread that runs jobs for the grams, one seed after the other.
import { workerData } from 'node:worker_threads';
import type { ProfileName } from '../../sim/profiles.ts';
import { gramsJob } from './grams-job.ts';
import { answer } from './workers.ts';

const { profile } = workerData as { readonly profile: ProfileName };

answer((seed) => gramsJob(profile, seed));
