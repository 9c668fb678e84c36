// Whether a run of the compressor has drawn what its displacement says: by the suction, which falls, and by what arrived.
import type { DrawCount } from './condenser.ts';

/** The suction of a run: the highest since the compressor came on, whether it has fallen from there, and whether some of it was a guess. */
export type Suction = { readonly mostPa: number; readonly fell: boolean; readonly guessed: boolean };

/** Whatever is drawn on falls by more than a tenth, a boiling vehicle too: hoses and valves want that much (estimate). */
const FALLS_SHARE = 0.9;

/** @param sdShare of the suction, one standard deviation; nothing where a sensor tells it. */
export function watchSuction(
  suction: Suction | undefined,
  suctionPa: number | undefined,
  sdShare: number,
  running: boolean,
): Suction | undefined {
  if (suctionPa === undefined) return suction;
  const { mostPa, fell, guessed } = suction ?? { mostPa: suctionPa, fell: false, guessed: false };
  if (fell && (guessed || sdShare === 0)) return suction;
  return {
    mostPa: running ? Math.max(mostPa, suctionPa) : suctionPa,
    fell: fell || (running && suctionPa < FALLS_SHARE * mostPa),
    guessed: guessed || sdShare > 0,
  };
}

/** Less than this by displacement proves nothing (estimate). */
const LEAST_KG = 0.003;
/** And what arrives is less than this share of it (estimate). */
const ARRIVES_SHARE = 0.2;

/** The suction never fell and nothing came: the compressor has stood still, or drawn on a valve that is shut. */
export const drewNothing = (
  { suction, totalKg, fromShownKg }: DrawCount,
  shownKg: number,
  scaleSdKg: number,
): boolean =>
  suction?.fell === false &&
  totalKg > LEAST_KG &&
  shownKg - fromShownKg < Math.max(ARRIVES_SHARE * totalKg, 2 * scaleSdKg);

/** Until the coil was pushed empty for the last time so much must have come, for a share to be told from it (estimate). */
const TOLD_FROM_KG = 0.06;
/**
 * A sound compressor brings 0.9 to 1.05 of its displacement, liquid that comes by itself more (the bench's own simulator,
 * 80 jobs); with less than this its valves are worn.
 */
const WORN_SHARE = 0.8;

/** What the compressor draws of its displacement, where the scale has shown that it is worn; else as it was known before. */
export function shareDrawn(
  { pushedEmpty, totalKg, drawnKg, shownKg, fromShownKg, suction }: DrawCount,
  before: { readonly kg: number; readonly share: number },
): number {
  const untilEmptyKg = totalKg - drawnKg;
  if (!pushedEmpty || untilEmptyKg < TOLD_FROM_KG || suction?.guessed !== false) return before.share;
  const share = (shownKg - fromShownKg - before.kg) / untilEmptyKg;
  return share < WORN_SHARE ? Math.max(share, 0) : 1;
}
