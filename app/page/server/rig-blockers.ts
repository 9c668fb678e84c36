// What stands against a job on a rig before its records are asked: no ticket, no board, or a plan that cannot be.
import type { Blocker } from '../../../controller/notice.ts';
import type { Planned } from '../../../controller/plan.ts';

export const NO_TICKET: Blocker = {
  code: 'no-ticket',
  text: 'Nobody has written the ticket of this vehicle yet.',
  remedy:
    "Read refrigerant and nominal charge off the vehicle's label, enter them in the ticket, and use it.",
};

const NO_BOARD: Blocker = {
  code: 'no-board',
  text: 'The board does not answer, or has not been read for long enough.',
  remedy: 'Wait a moment; then check port, cable and supply.',
};

export function against(planned: Planned | undefined): readonly Blocker[] {
  if (planned === undefined) return [NO_BOARD];
  return planned.ok ? [] : planned.blockers;
}
