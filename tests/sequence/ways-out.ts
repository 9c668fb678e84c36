// How each stage is left when nothing comes, and how it goes on after a pause or a trip that was reset.

import { EDGES } from '../../app/bench/chart-edges.ts';
import type { Stage } from '../../controller/stages.ts';
import { STAGES } from '../../controller/stages.ts';
import { stageLimitMs } from '../../controller/timeouts.ts';
import { OIL_EQUIPMENT, planFor } from '../controller/support/machine.ts';

/** What `resumeStage` does; every path is shut meanwhile, and pressure and mass are looked at before one opens again. */
const ON_RESUME: { readonly [S in Stage]: string } = {
  identify: 'the question is asked again',
  fill: 'goes on; weighed anew, and the compressor rests its time',
  'purge-air': 'a burst counts as done; the tank is looked at before the next',
  settle: 'sides are joined and compared anew; an engine that warmed is to be stopped',
  recover: 'drawn from the beginning; what came before stays counted',
  rest: 'the rest begins anew',
  'drain-oil': 'the separator is looked at anew; what was spoilt is told',
  repair: 'goes on',
  evacuate: 'pump and paths from the beginning; the time pumped stays counted',
  hold: 'the hold begins anew: pressure is watched without a gap or not at all',
  'add-oil': 'what ran in stays counted; the rest is drawn through an opened path',
  'leak-check': 'the partial charge goes on as a charge does; a search is asked for again',
  charge: 'settles and weighs before the next gram; what is given stays given and is never given twice',
  verify: 'valves are proven shut anew before anyone starts an engine',
  'clear-hoses': 'from the beginning, with the question about the engine',
  'recover-hoses': 'hoses are looked at anew; an open question is asked again',
};

export type WayOut = {
  readonly stage: Stage;
  readonly limit: string;
  readonly leadsTo: string;
  readonly resume: string;
};

const time = (ms: number): string =>
  ms < 24 * 3_600_000 ? `${Math.round(ms / 60_000)} min` : `${Math.round(ms / 86_400_000)} days`;

/** Limits of a machine with everything fitted and R-134a; an open question has its own, a working day. */
export function waysOut(): readonly WayOut[] {
  const plan = planFor({ engine: 'can-run', leakCheck: true }, OIL_EQUIPMENT);
  return STAGES.map((stage) => {
    const { ms, whole } = stageLimitMs(stage, undefined, plan);
    const late = EDGES.filter(({ from, event }) => from === stage && event === 'timed-out').map(
      ({ to }) => to,
    );
    return {
      stage,
      limit: `${time(ms)} ${whole ? 'in all' : 'a step'}`,
      leadsTo: [...new Set(late)].join(', '),
      resume: ON_RESUME[stage],
    };
  });
}
