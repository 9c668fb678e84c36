// How fast the zero of the scale runs away, learnt while nothing can reach the tank or leave it.
import { SURE } from '../constants.ts';
import type { Equipment } from '../equipment.ts';

export type ZeroDrift = {
  /** The fastest so far that was surely none of the scale's usual wandering; either way. */
  readonly kgPerS: number;
  /** Where and when the present look began; absent while anything moves. */
  readonly from: { readonly kg: number; readonly atMs: number } | undefined;
};

export const NO_DRIFT: ZeroDrift = { kgPerS: 0, from: undefined };

/** What drips out of the condenser has come by then (estimate). */
const REST_MS = 120_000;
/** A look lasts so long at least, and begins anew after as long again (estimates). */
const LEAST_MS = 120_000;
const MOST_MS = 600_000;
/** A gram a minute is more than a cell in a still room does (common practice). */
const LEAST_KG_PER_S = 0.001 / 60;
/** What moves faster is no drift: something flows, or leans (estimate). */
const MOST_KG_PER_S = 0.01 / 60;
/** And a look must show more than creep, dew and warmth make: in a whole look the cell warms by a degree (estimate). */
const LEAST_KG = 0.003;
const WARMS_K = 1;

/** @param kg with bumps and hose force taken out; absent while anything moves the tank's content or the platform. */
export function watchDrift(
  watch: ZeroDrift,
  kg: number | undefined,
  stillMs: number,
  { scale }: Pick<Equipment, 'scale'>,
  nowMs: number,
): ZeroDrift {
  if (kg === undefined || stillMs < REST_MS)
    return watch.from === undefined ? watch : { ...watch, from: undefined };
  const { from } = watch;
  if (from === undefined) return { ...watch, from: { kg, atMs: nowMs } };
  const lookMs = nowMs - from.atMs;
  if (lookMs < LEAST_MS) return watch;
  const movedKg = Math.abs(kg - from.kg);
  const perS = (1000 * movedKg) / lookMs;
  const warmsK = (WARMS_K * lookMs) / MOST_MS;
  const usualKg = LEAST_KG + SURE * scale.zeroDriftKgPerKSd * warmsK + scale.noiseKg;
  const drifts = movedKg > usualKg && perS > LEAST_KG_PER_S && perS < MOST_KG_PER_S;
  if (drifts && perS > watch.kgPerS) return { ...watch, kgPerS: perS };
  return lookMs < MOST_MS ? watch : { ...watch, from: { kg, atMs: nowMs } };
}
