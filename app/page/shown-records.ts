// What the page is shown of the records: jobs that were kept, and what the machines need.
import type { JobLine, UpkeepState } from '../records/lines.ts';

export type MachineUpkeep = { readonly machine: string; readonly upkeep: readonly UpkeepState[] };

/** The answer to whoever looks something up. */
export type RecordsShown = {
  readonly type: 'records';
  /** What was searched for. */
  readonly words: string;
  readonly jobs: readonly JobLine[];
  readonly machines: readonly MachineUpkeep[];
};

/** Of the records as a whole, in every snapshot. */
export type RecordsView = {
  /** Counts on whenever something is written that a list would show. */
  readonly changes: number;
  /** The number of the job that runs or ran last. */
  readonly job?: number;
};
