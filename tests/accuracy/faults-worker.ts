// A thread that lets one fault after the other strike.
import type { ProfileName } from '../../sim/profiles.ts';
import { faultJob } from './faults-job.ts';
import type { Order } from './workers.ts';

export default ({ about, seed }: Order<{ profile: ProfileName }>) => faultJob(about.profile, seed);
