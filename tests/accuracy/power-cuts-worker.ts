// A thread that cuts the mains of one job, at one second after the other.
import { cutJob, type Kind } from './power-cuts-job.ts';
import type { Order } from './workers.ts';

export default ({ about, seed }: Order<{ kind: Kind }>) => cutJob('good', about.kind, seed);
