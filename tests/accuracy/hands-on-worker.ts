// A thread that runs whole jobs for their prompts, one seed after the other.
import type { ProfileName } from '../../sim/profiles.ts';
import { handsOnJob } from './hands-on-job.ts';
import type { Order } from './workers.ts';

export default ({ about, seed }: Order<{ profile: ProfileName }>) => handsOnJob(about.profile, seed);
