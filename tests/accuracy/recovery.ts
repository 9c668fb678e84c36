// Recovery: what is left in seeded full vehicles after half an hour, warmed and cold, for both profiles.
import type { Kind, RecoveryRow } from './recovery-job.ts';
import { STARTS, type Start } from './recovery-scenario.ts';
import { recoveryPlot, recoverySection } from './recovery-section.ts';
import { type RecoverySummary, type StartSummary, summaryOf } from './recovery-summary.ts';
import { onBothProfiles, type Topic } from './topic.ts';
import { spread } from './workers.ts';

const module = new URL('./recovery-worker.ts', import.meta.url);

export const recovery: Topic = {
  name: 'recovery',
  measure: (asked) =>
    onBothProfiles('recovery', asked, async (profile) => {
      const of = async (start: Start): Promise<StartSummary> => {
        const about: Kind = { profile, start };
        return summaryOf(await spread<RecoveryRow>({ module, about, label: `${profile}, ${start}` }, asked));
      };
      return { [STARTS[0]]: await of(STARTS[0]), [STARTS[1]]: await of(STARTS[1]) };
    }),
  section: (summary) => recoverySection(summary as RecoverySummary),
  plots: (summary) => [{ name: 'recovery-share', svg: recoveryPlot(summary as RecoverySummary) }],
};
