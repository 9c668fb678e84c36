// A thread that runs recoveries, one seed after the other.
import { type Kind, recoveryJob } from './recovery-job.ts';
import type { Order } from './workers.ts';

export default ({ about, seed }: Order<Kind>) => recoveryJob(about, seed);
