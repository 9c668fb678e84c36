// Faults: every plant fault in every stage, held to the truth for safety, explanation and ledger.
import type { FaultRow } from './faults-job.ts';
import { faultsSection } from './faults-section.ts';
import { type FaultsFigures, faultsFigures } from './faults-summary.ts';
import { onBothProfiles, type Summary, type Topic } from './topic.ts';
import { spread } from './workers.ts';

const module = new URL('./faults-worker.ts', import.meta.url);

export const faults: Topic = {
  name: 'faults',
  measure: (asked) =>
    onBothProfiles('faults', asked, async (profile) =>
      faultsFigures(await spread<FaultRow>({ module, about: { profile }, label: profile }, asked)),
    ),
  section: (summary) => faultsSection(summary as Summary<FaultsFigures>),
  plots: () => [],
};
