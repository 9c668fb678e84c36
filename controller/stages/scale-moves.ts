// What the scale does of itself after a charge: creep beyond its class, or a cell that warms, seen while nothing can move.
import { CREEP_TIME_S } from '../estimates/masses.ts';
import { type RestFall, restFall } from '../interlocks/loss-watch.ts';
import type { Accounts } from '../state.ts';
import type { StageInput } from './stage.ts';

/** The line must fall or rise by so many of its standard deviations to be more than noise, and by so many to be surely none of it (estimates). */
const MOVES_SD = 1.5;
const SURELY_SD = 2;

/** What the scale does of itself once the charge is over goes on for a while: so far, beyond its class, it is in doubt. */
export function withScaleMoves(
  givenKg: number,
  { accounts, lossWatch, equipment }: Pick<StageInput, 'accounts' | 'lossWatch' | 'equipment'>,
): Accounts {
  const fall = restFall(lossWatch);
  if (fall === undefined || Math.abs(fall.kgPerS) < MOVES_SD * fall.sdKgPerS) return accounts;
  const ofClassKg = 2 * equipment.scale.creepSd * Math.abs(givenKg);
  return { ...accounts, scaleMovesKg: Math.max(mostKgPerS(fall) * CREEP_TIME_S - ofClassKg, 0) };
}

/** Noise has a part in a fall that hardly stands out of it, and may have hidden a part of one that does. */
function mostKgPerS({ kgPerS, sdKgPerS }: RestFall): number {
  const surely = Math.abs(kgPerS) >= SURELY_SD * sdKgPerS;
  return surely ? Math.abs(kgPerS) + sdKgPerS : Math.sqrt(kgPerS ** 2 - sdKgPerS ** 2);
}
