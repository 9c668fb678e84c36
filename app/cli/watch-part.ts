// Something that is written down or sent while a job runs.
import type { Observer, ScanLoop } from '../run/loop.ts';

export type Part = {
  readonly look: Observer;
  readonly begin: (loop: ScanLoop, called: { readonly name: string; readonly rig: string }) => void;
  /** For a run whose time can stand still: waits while it is behind. */
  readonly settle: () => Promise<void>;
  readonly close: () => Promise<void>;
};
