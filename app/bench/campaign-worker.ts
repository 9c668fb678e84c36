// A thread that runs jobs of campaigns, one after the other.
import { campaignJob } from './campaign-job.ts';
import type { CampaignPlan } from './plan.ts';

/** A job of a campaign, with all that it depends on. */
export type JobOrder = { readonly job: number; readonly seed: number; readonly plan: CampaignPlan };

export default ({ plan, seed, job }: JobOrder) => campaignJob(plan, seed, job);
