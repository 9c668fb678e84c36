// Holds: what they say of seeded vehicles, dry, wet and leaking, against what is true of them, for both profiles.
import { PROFILE_NAMES, type ProfileName } from '../../sim/profiles.ts';
import type { HoldRow } from './holds-job.ts';
import { holdsSection } from './holds-section.ts';
import { type HoldsSummary, summaryOf } from './holds-summary.ts';
import type { Asked, Topic } from './topic.ts';
import { spread } from './workers.ts';

async function measure({ jobs, workers, fromSeed, progress }: Asked): Promise<HoldsSummary> {
  const of = async (profile: ProfileName) =>
    summaryOf(
      await spread<HoldRow>({
        module: new URL('./holds-worker.ts', import.meta.url),
        about: { profile, policy: 'adaptive', population: 'hard' },
        fromSeed,
        jobs,
        workers,
        progress: (done) => progress(`${profile}: ${done} of ${jobs} jobs`),
      }),
    );
  const command = `npm run accuracy -- holds --jobs ${jobs} --seed ${fromSeed}`;
  return { command, fromSeed, jobs, profiles: { good: await of('good'), hobby: await of('hobby') } };
}

export const holds: Topic = {
  name: 'holds',
  measure,
  section: (summary) => holdsSection(summary as HoldsSummary, PROFILE_NAMES),
  plots: () => [],
};
