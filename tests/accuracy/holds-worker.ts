// A thread that runs jobs for the holds, one seed after the other.
import { holdsJob, type Kind } from './holds-job.ts';
import type { Order } from './workers.ts';

export default ({ about, seed }: Order<Kind>) => holdsJob(about, seed);
