// A thread that runs jobs for the grams, one seed after the other.
import type { ProfileName } from '../../sim/profiles.ts';
import { gramsJob } from './grams-job.ts';
import type { Order } from './workers.ts';

export default ({ about, seed }: Order<{ profile: ProfileName }>) => gramsJob(about.profile, seed);
