// What is left in the coil after a run of the compressor, by displacement and scale together.
import type { Equipment } from '../equipment.ts';
import { type DrawCount, mostInCondenserKg } from './condenser.ts';
import { drewNothing, shareDrawn } from './draw-proof.ts';

/** Liquid in the coil, and one standard deviation. */
export type Kept = {
  readonly kg: number;
  readonly sdKg: number;
  /** How often it was pushed empty: what was there before is of no matter then. */
  readonly pushes: number;
  /** What the compressor draws of its displacement: 1 unless the scale has shown that it is worn. */
  readonly share: number;
};

export const NOTHING_KEPT: Kept = { kg: 0, sdKg: 0.0005, pushes: 0, share: 1 };

/** How well the share of a worn compressor is known (estimate). */
const SHARE_SD = 0.1;

/** The shaking platform while the scale is read in a run (estimate). */
const SHOWN_SD_KG = 0.0003;

/** What the scale shows of a run after it, and how sure that is against what it showed within. */
export type Arrived = { readonly kg: number; readonly sdKg: number };

/** A coil that is not pushed empty gives up this much of its own with what comes, or keeps it (estimate). */
const SURGE_KG = 0.002;

/**
 * After a run: what came by displacement and did not arrive, on top of what was there. What arrives of a trickle lies
 * between nothing and what was drawn, and that is weighed with what the scale shows.
 */
export function keptAfterRun(
  count: DrawCount,
  shown: Arrived,
  before: Kept,
  equipment: Pick<Equipment, 'compressor'>,
): Kept {
  const scaleSdKg = Math.hypot(shown.sdKg, SHOWN_SD_KG);
  if (drewNothing(count, shown.kg, scaleSdKg)) return { ...before, sdKg: Math.hypot(before.sdKg, scaleSdKg) };
  const share = shareDrawn(count, before);
  const drawnKg = share * count.drawnKg;
  const drawnSdKg = share * count.drawnSdKg + (share < 1 ? SHARE_SD * drawnKg : 0);
  const since = shown.kg - count.shownKg;
  if (count.pushedEmpty) {
    const empty = { ...NOTHING_KEPT, pushes: before.pushes + 1, share };
    return keptOf(empty, drawnKg, since, Math.hypot(drawnSdKg, scaleSdKg), equipment);
  }
  const half = drawnKg / 2;
  const weight = (half + SURGE_KG) ** 2 / ((half + SURGE_KG) ** 2 + scaleSdKg ** 2);
  const arrivedKg = half + weight * (since - half);
  return keptOf(before, drawnKg, arrivedKg, Math.hypot(drawnSdKg, Math.sqrt(weight) * scaleSdKg), equipment);
}

/** Of the change between: what was there stays in both, unless it was pushed out. */
export const keptChangeSdKg = (before: Kept, after: Kept): number =>
  after.pushes > before.pushes
    ? Math.hypot(before.sdKg, after.sdKg)
    : Math.sqrt(Math.max(after.sdKg ** 2 - before.sdKg ** 2, 0));

/**
 * The same for a known mass. Nothing arrives that was not drawn: a scale that shows less than nothing errs. When more has
 * arrived than came and was there, liquid has come that no displacement counts, and has left the coil empty.
 */
export function keptOf(
  before: Kept,
  broughtKg: number,
  arrivedKg: number,
  sdKg: number,
  equipment: Pick<Equipment, 'compressor'>,
): Kept {
  const kg = before.kg + broughtKg - Math.max(arrivedKg, 0);
  if (kg < 0)
    return {
      ...NOTHING_KEPT,
      sdKg: Math.hypot(NOTHING_KEPT.sdKg, sdKg),
      pushes: before.pushes + 1,
      share: before.share,
    };
  return {
    ...before,
    kg: Math.min(kg, mostInCondenserKg(equipment)),
    sdKg: Math.hypot(before.sdKg, sdKg),
  };
}
