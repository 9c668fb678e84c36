// A thread that runs jobs of campaigns, one after the other.
import { campaignJob } from './campaign-job.ts';
import type { CampaignPlan } from './plan.ts';

/** A job of a campaign, with all that it depends on. */
export type JobOrder = { readonly plan: CampaignPlan; readonly seed: number; readonly job: number };

export default ({ plan, seed, job }: JobOrder) => campaignJob(plan, seed, job);
