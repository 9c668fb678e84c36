// Grams: charge and recovery over seeded jobs with random vehicles, weather and hoses, for both profiles.
import { PROFILE_NAMES, type ProfileName } from '../../sim/profiles.ts';
import type { GramsRow } from './grams-job.ts';
import { gramsPlot, gramsSection } from './grams-section.ts';
import { type GramsSummary, type ProfileSummary, summaryOf } from './grams-summary.ts';
import type { Asked, Topic } from './topic.ts';
import { spread } from './workers.ts';

async function measure({ jobs, workers, fromSeed, progress }: Asked): Promise<GramsSummary> {
  const of = async (profile: ProfileName): Promise<ProfileSummary> =>
    summaryOf(
      await spread<GramsRow>({
        module: new URL('./grams-worker.ts', import.meta.url),
        about: { profile },
        fromSeed,
        jobs,
        workers,
        progress: (done) => progress(`${profile}: ${done} of ${jobs} jobs`),
      }),
    );
  const command = `npm run accuracy -- grams --jobs ${jobs} --seed ${fromSeed}`;
  return { command, fromSeed, jobs, profiles: { good: await of('good'), hobby: await of('hobby') } };
}

export const grams: Topic = {
  name: 'grams',
  measure,
  section: (summary) => gramsSection(summary as GramsSummary),
  plots: (summary) => [
    {
      name: 'charge-error',
      svg: gramsPlot(PROFILE_NAMES.map((name) => [name, (summary as GramsSummary).profiles[name].curve])),
    },
  ],
};
