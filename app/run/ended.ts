// What came of a job that has ended, on any rig.
import { jobResult } from '../../controller/result.ts';
import type { ControllerState } from '../../controller/state.ts';
import type { Ticket } from '../../controller/ticket.ts';
import type { JobFacts } from './document.ts';

export function factsOf(state: ControllerState, ticket: Ticket): JobFacts {
  const result = jobResult(state);
  return {
    outcome: result.outcome === 'completed' ? 'completed' : 'stopped',
    ticket,
    result,
    blockers: [],
  };
}
