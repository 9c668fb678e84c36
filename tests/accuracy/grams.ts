// Grams: charge and recovery over seeded jobs with random vehicles, weather and hoses, for both profiles.
import { PROFILE_NAMES } from '../../sim/profiles.ts';
import type { GramsRow } from './grams-job.ts';
import { gramsPlot, gramsSection } from './grams-section.ts';
import { type GramsSummary, summaryOf } from './grams-summary.ts';
import { onBothProfiles, type Topic } from './topic.ts';
import { spread } from './workers.ts';

const module = new URL('./grams-worker.ts', import.meta.url);

export const grams: Topic = {
  name: 'grams',
  measure: (asked) =>
    onBothProfiles('grams', asked, async (profile) =>
      summaryOf(await spread<GramsRow>({ module, about: { profile }, label: profile }, asked)),
    ),
  section: (summary) => gramsSection(summary as GramsSummary),
  plots: (summary) => [
    {
      name: 'charge-error',
      svg: gramsPlot(PROFILE_NAMES.map((name) => [name, (summary as GramsSummary).profiles[name].curve])),
    },
  ],
};
