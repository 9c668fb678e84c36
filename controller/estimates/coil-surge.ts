// A coil that stands colder than the tank fills with liquid and may give it up at once, faster than any compressor draws:
// how much that can be is known by displacement, and what a level on the scale is then taken for.
import { SURE } from '../constants.ts';
import type { DrawCount } from './condenser.ts';
import type { Kept } from './kept.ts';
import type { Coil, ScaleInput, ScaleState } from './scale-state.ts';

/** What is known of the run under way: its count, and what the scale showed when it began and while last trusted. */
export type Run = {
  readonly count: DrawCount | undefined;
  readonly startKg: number | undefined;
  readonly lastKg: number | undefined;
  /** What did not arrive of the runs before. */
  readonly leftKg: number;
};

/** More on the scale than was drawn by so much: what comes is not counted by displacement (estimate: a filter overshoots by it). */
const UNCOUNTED_KG = 0.015;

/** Absent while nothing is drawn, or where the scale has shown that displacement does not tell what comes. */
export function coilOf(
  { count, startKg, lastKg, leftKg }: Run,
  kept: Kept,
  mostKg: number,
): Coil | undefined {
  if (count === undefined || startKg === undefined || lastKg === undefined) return undefined;
  const before = count.pushedEmpty ? { kg: 0, sdKg: 0 } : { kg: Math.max(kept.kg, leftKg), sdKg: kept.sdKg };
  const heldKg = before.kg + count.drawnKg - (lastKg - startKg - count.shownKg);
  const sdKg = Math.hypot(before.sdKg, count.drawnSdKg);
  if (heldKg < -SURE * sdKg - UNCOUNTED_KG) return undefined;
  return {
    heldKg: Math.min(Math.max(heldKg, 0), mostKg),
    sdKg,
    drawnKg: count.totalKg,
    fills: !count.pushedEmpty,
  };
}

type Gives = Pick<ScaleState, 'coilGivesKg' | 'coilSdKg' | 'coilDrawnKg' | 'coilFills'>;

/** What the coil may give from the moment on when a disturbance begins. */
export const coilAtStart = ({ coil }: ScaleInput): Gives => ({
  coilGivesKg: coil?.heldKg,
  coilSdKg: coil?.sdKg ?? 0,
  coilDrawnKg: coil?.drawnKg ?? 0,
  coilFills: coil?.fills ?? false,
});

/** The same with what was drawn since. */
export const coilSince = (state: ScaleState, { coil }: ScaleInput): Gives => {
  const { coilGivesKg, coilSdKg, coilDrawnKg, coilFills } = state;
  if (coil === undefined || coilGivesKg === undefined)
    return { coilGivesKg, coilSdKg, coilDrawnKg, coilFills };
  return {
    coilGivesKg: coilGivesKg + Math.max(coil.drawnKg - coilDrawnKg, 0),
    coilSdKg,
    coilDrawnKg: coil.drawnKg,
    coilFills: coilFills || coil.fills,
  };
};

/** What the tank can have by now since the disturbance began; endless where displacement does not tell. */
export const mostArrivedKg = ({
  disturbedFromKg,
  coilGivesKg,
  coilSdKg,
}: Pick<ScaleState, 'disturbedFromKg' | 'coilGivesKg' | 'coilSdKg'>): number =>
  coilGivesKg === undefined ? Number.POSITIVE_INFINITY : disturbedFromKg + coilGivesKg + SURE * coilSdKg;

/** What the coil may have given beyond the mass that was reckoned. */
export const surgeKg = (state: ScaleState): number =>
  state.coilGivesKg === undefined
    ? 0
    : Math.max(mostArrivedKg(state) - Math.max(state.disturbedFromKg, state.massKg), 0);

/** A coil that has given up its liquid keeps its vapour, and displacement counts what separator and hoses keep (estimate). */
const EMPTY_KG = 0.012;
/** Whoever knocks and lets go has shown more than this many times what stays (estimate). */
const KNOCKS_TIMES = 2;
/** What a surge that was surely one leaves in doubt (estimate, as of a bump). */
const SURGE_SD_KG = 0.002;

/** Somebody touched the platform and has let go of it. */
const letGo = ({ disturbedMostKg, massKg }: ScaleState, levelKg: number): boolean =>
  disturbedMostKg > KNOCKS_TIMES * (levelKg - massKg);

/**
 * One standard deviation of a level that has so much beyond what was reckoned, where a coil may have given it: somebody
 * who let go and a coil that is empty now leave little doubt. Else it is refrigerant or lies on the platform, and two
 * deviations reach from the one to the other.
 */
function surgeSdKg(state: ScaleState, levelKg: number): number {
  const { disturbedFromKg, massKg, coilGivesKg = 0, coilSdKg } = state;
  const beyondKg = levelKg - massKg;
  const isEmpty = disturbedFromKg + coilGivesKg - levelKg <= EMPTY_KG + SURE * coilSdKg;
  return isEmpty && letGo(state, levelKg) ? Math.min(SURGE_SD_KG, beyondKg / 2) : beyondKg / 2;
}

/** What stands in doubt until it is gone again, or shown to be refrigerant. */
export const doubt = (
  { undecidedVarianceKg2 }: ScaleState,
  doubtedKg: number,
  sdKg: number,
): Pick<ScaleState, 'doubtedKg' | 'doubtedVarianceKg2' | 'undecidedVarianceKg2'> => ({
  doubtedKg,
  doubtedVarianceKg2: sdKg ** 2,
  undecidedVarianceKg2: undecidedVarianceKg2 + sdKg ** 2,
});

/** What the coil may have given, or a young draw brought, stands as refrigerant, and in doubt where displacement tells. */
export const doubting = (after: ScaleState, before: ScaleState, levelKg: number): ScaleState => ({
  ...after,
  ...doubt(before, levelKg - before.massKg, surgeSdKg(before, levelKg)),
  doubtedKnocked: letGo(before, levelKg),
});

const LEAST_VARIANCE_KG2 = SURGE_SD_KG ** 2;

/**
 * A burst that went on after the scale was quiet: with what was taken for refrigerant the coil comes out as empty, and so
 * it was some, unless whoever knocked has put down as much as happens to lie in the coil.
 */
export function sureOfSurge(state: ScaleState, { coil }: ScaleInput): ScaleState {
  const { doubtedKnocked, doubtedVarianceKg2, undecidedVarianceKg2 } = state;
  if (!doubtedKnocked || doubtedVarianceKg2 <= LEAST_VARIANCE_KG2 || state.trust !== 'trusted') return state;
  if (coil === undefined || !coil.fills || coil.heldKg > EMPTY_KG) return state;
  return {
    ...state,
    doubtedVarianceKg2: LEAST_VARIANCE_KG2,
    undecidedVarianceKg2: undecidedVarianceKg2 - doubtedVarianceKg2 + LEAST_VARIANCE_KG2,
  };
}

/** One standard deviation of the mass that was reckoned beneath a bump: a coil that fills may have kept all that came, or given up all it had. */
export function underBumpSdKg(state: ScaleState): number {
  const { disturbedFromKg, massKg, coilFills } = state;
  return coilFills ? Math.max(surgeKg(state), massKg - disturbedFromKg) / 2 : 0;
}
