// Something that is written down or sent while a job runs.
import type { Called } from '../bench/recording.ts';
import type { Observer, ScanLoop } from '../run/loop.ts';

export type Part = {
  readonly look: Observer;
  readonly begin: (loop: ScanLoop, called: Called) => void;
  /** For a run whose time can stand still: waits while it is behind. */
  readonly settle: () => Promise<void>;
  readonly close: () => Promise<void>;
};
