// Holds: what they say of seeded vehicles, dry, wet and leaking, against what is true of them, for both profiles.
import { PROFILE_NAMES } from '../../sim/profiles.ts';
import type { HoldRow, Kind } from './holds-job.ts';
import { holdsSection } from './holds-section.ts';
import { type HoldsSummary, summaryOf } from './holds-summary.ts';
import { onBothProfiles, type Topic } from './topic.ts';
import { spread } from './workers.ts';

const module = new URL('./holds-worker.ts', import.meta.url);

export const holds: Topic = {
  name: 'holds',
  measure: (asked) =>
    onBothProfiles('holds', asked, async (profile) => {
      const about: Kind = { profile, policy: 'adaptive', population: 'hard' };
      return summaryOf(await spread<HoldRow>({ module, about, label: profile }, asked));
    }),
  section: (summary) => holdsSection(summary as HoldsSummary, PROFILE_NAMES),
  plots: () => [],
};
