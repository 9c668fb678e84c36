// What every view is given.
import type { Dome, Snapshot, Welcome } from '../shown.ts';
import { isTeacher } from './link.ts';
import type { Known } from './store.ts';

export type ViewProps = {
  readonly known: Known;
  readonly welcome: Welcome;
  readonly snapshot: Snapshot;
  readonly dome: Dome;
};

/** What the teacher may do without having control, and the class only without a teacher: the server decides. */
export const maySetUp = ({ hasControl, control }: Known): boolean =>
  isTeacher || (hasControl && !control.ledByTeacher);
