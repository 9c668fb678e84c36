// Whether the suction is air: it stands steady near the barometer, and no flow that only refrigerant can make goes with it.
import { isBarometric } from '../estimates/pressures.ts';
import type { Seen } from '../estimates/seen.ts';

export type SuctionSeen = 'clear' | 'steady-at-barometer';

/** Suction steady near the barometer: since when, and the span it has kept to. */
export type AirWatch = {
  readonly sinceMs: number | undefined;
  readonly lowPa: number;
  readonly highPa: number;
};

/**
 * Suction that stays at the barometer this long within 5 mbar is air (common practice), unless the scale shows a flow
 * that air cannot make: cold liquid may boil steadily at just that pressure.
 */
const AIR_MS = 60_000;
const AIR_SPAN_PA = 500;

/** Its span begins at zero: with whatever comes next it is too wide, and begins anew. */
const NOTHING_SEEN: AirWatch = { sinceMs: undefined, lowPa: 0, highPa: 0 };
export const openAirWatch = (): AirWatch => NOTHING_SEEN;

export const suctionOf = ({ sinceMs }: AirWatch, nowMs: number): SuctionSeen =>
  nowMs - (sinceMs ?? nowMs) >= AIR_MS ? 'steady-at-barometer' : 'clear';

export function watchAir(watch: AirWatch, seen: Seen, denseInflow: boolean, nowMs: number): AirWatch {
  const p = seen.manifoldPa ?? Number.NaN;
  if (denseInflow || !isBarometric(p, seen.barometerPa)) return NOTHING_SEEN;
  const lowPa = Math.min(watch.lowPa, p);
  const highPa = Math.max(watch.highPa, p);
  return highPa - lowPa > AIR_SPAN_PA
    ? { sinceMs: nowMs, lowPa: p, highPa: p }
    : { sinceMs: watch.sinceMs, lowPa, highPa };
}
