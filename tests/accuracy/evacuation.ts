// Evacuation: the controller's against the fixed times of common practice, on the same seeds, by time and water left.
import { PROFILE_NAMES, type ProfileName } from '../../sim/profiles.ts';
import { evacuationSection } from './evacuation-section.ts';
import { type EvacuationSummary, summaryOf } from './evacuation-summary.ts';
import type { HoldRow, Policy } from './holds-job.ts';
import type { Asked, Topic } from './topic.ts';
import { spread } from './workers.ts';

async function measure({ jobs, workers, fromSeed, progress }: Asked): Promise<EvacuationSummary> {
  const run = (profile: ProfileName, policy: Policy): Promise<HoldRow[]> =>
    spread<HoldRow>({
      module: new URL('./holds-worker.ts', import.meta.url),
      about: { profile, policy, population: 'jobs' },
      fromSeed,
      jobs,
      workers,
      progress: (done) => progress(`${profile}, ${policy}: ${done} of ${jobs} jobs`),
    });
  const of = async (profile: ProfileName) =>
    summaryOf(await run(profile, 'adaptive'), await run(profile, 'fixed'));
  const command = `npm run accuracy -- evacuation --jobs ${jobs} --seed ${fromSeed}`;
  return { command, fromSeed, jobs, profiles: { good: await of('good'), hobby: await of('hobby') } };
}

export const evacuation: Topic = {
  name: 'evacuation',
  measure,
  section: (summary) => evacuationSection(summary as EvacuationSummary, PROFILE_NAMES),
  plots: () => [],
};
