// A coil that stands colder than the tank fills with liquid and may give it up at once, faster than any compressor draws:
// how much that can be is known by displacement, and what a level on the scale is then taken for.
import { SURE } from '../constants.ts';
import type { DrawCount, Kept } from './condenser.ts';
import type { ScaleInput, ScaleState } from './scale-state.ts';

/** The coil of the draw under way. */
export type Coil = {
  /** Drawn by displacement and not yet on the scale, with what the run before left. Never less than nothing. */
  readonly heldKg: number;
  /** One standard deviation of it. */
  readonly sdKg: number;
  /** Drawn by displacement since the run began. */
  readonly drawnKg: number;
};

/** What is known of the run under way: its count, and what the scale showed when it began and while last trusted. */
export type Run = {
  readonly count: DrawCount | undefined;
  readonly startKg: number | undefined;
  readonly lastKg: number | undefined;
  /** What did not arrive of the runs before. */
  readonly leftKg: number;
};

/** Absent while nothing is drawn, or nothing is known of it. */
export function coilOf(
  { count, startKg, lastKg, leftKg }: Run,
  kept: Kept,
  mostKg: number,
): Coil | undefined {
  if (count === undefined || startKg === undefined || lastKg === undefined) return undefined;
  const before = count.pushedEmpty ? { kg: 0, sdKg: 0 } : { kg: Math.max(kept.kg, leftKg), sdKg: kept.sdKg };
  const heldKg = before.kg + count.drawnKg - (lastKg - startKg - count.shownKg);
  return {
    heldKg: Math.min(Math.max(heldKg, 0), mostKg),
    sdKg: Math.hypot(before.sdKg, count.drawnSdKg),
    drawnKg: count.totalKg,
  };
}

type Gives = Pick<ScaleState, 'coilGivesKg' | 'coilSdKg' | 'coilDrawnKg'>;

/** What the coil may give from the moment on when a disturbance begins. */
export const coilAtStart = ({ coil }: ScaleInput): Gives => ({
  coilGivesKg: coil?.heldKg ?? 0,
  coilSdKg: coil?.sdKg ?? 0,
  coilDrawnKg: coil?.drawnKg ?? 0,
});

/** The same with what was drawn since. */
export const coilSince = ({ coilGivesKg, coilSdKg, coilDrawnKg }: ScaleState, { coil }: ScaleInput): Gives =>
  coil === undefined
    ? { coilGivesKg, coilSdKg, coilDrawnKg }
    : {
        coilGivesKg: coilGivesKg + Math.max(coil.drawnKg - coilDrawnKg, 0),
        coilSdKg,
        coilDrawnKg: coil.drawnKg,
      };

/** What of it goes beyond the mass that was reckoned. */
export const surgeKg = ({ disturbedFromKg, massKg, coilGivesKg, coilSdKg }: ScaleState): number =>
  Math.max(disturbedFromKg + coilGivesKg + SURE * coilSdKg - Math.max(disturbedFromKg, massKg), 0);

/** A coil that has given up its liquid keeps its vapour, and displacement counts what separator and hoses keep (estimate). */
const EMPTY_KG = 0.012;
/** Whoever knocks and lets go has shown more than this many times what stays (estimate). */
const KNOCKS_TIMES = 2;
/** What a surge that was surely one leaves in doubt (estimate, as of a bump). */
const SURGE_SD_KG = 0.002;

/**
 * One standard deviation of a level that has so much beyond what was reckoned, where a coil may have given it: somebody
 * who let go and a coil that is empty now leave little doubt. Else it is refrigerant or lies on the platform, and two
 * deviations reach from the one to the other.
 */
export function surgeSdKg(state: ScaleState, levelKg: number): number {
  const { disturbedFromKg, massKg, coilGivesKg, coilSdKg, disturbedMostKg } = state;
  const beyondKg = levelKg - massKg;
  const isEmpty = disturbedFromKg + coilGivesKg - levelKg <= EMPTY_KG + SURE * coilSdKg;
  const letGo = disturbedMostKg > KNOCKS_TIMES * beyondKg;
  return isEmpty && letGo ? Math.min(SURGE_SD_KG, beyondKg / 2) : beyondKg / 2;
}
