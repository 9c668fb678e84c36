// Evacuation: the controller's against the fixed times of common practice, on the same seeds, by time and water left.
import { PROFILE_NAMES } from '../../sim/profiles.ts';
import { evacuationSection } from './evacuation-section.ts';
import { type EvacuationSummary, summaryOf } from './evacuation-summary.ts';
import type { HoldRow, Kind, Policy } from './holds-job.ts';
import { onBothProfiles, type Topic } from './topic.ts';
import { spread } from './workers.ts';

const module = new URL('./holds-worker.ts', import.meta.url);

export const evacuation: Topic = {
  name: 'evacuation',
  measure: (asked) =>
    onBothProfiles('evacuation', asked, async (profile) => {
      const run = (policy: Policy): Promise<HoldRow[]> => {
        const about: Kind = { profile, policy, population: 'jobs' };
        return spread<HoldRow>({ module, about, label: `${profile}, ${policy}` }, asked);
      };
      return summaryOf(await run('adaptive'), await run('fixed'));
    }),
  section: (summary) => evacuationSection(summary as EvacuationSummary, PROFILE_NAMES),
  plots: () => [],
};
