// Whether what arrives in the tank is air: it makes more pressure than its weight could make if it were refrigerant.
import { GAS_CONSTANT_J_PER_MOL_K } from '../constants.ts';

/** What the tank shows while the compressor draws into it. */
export type ArrivalInput = {
  /** Absent while its gauge does not tell. */
  readonly tankPa: number | undefined;
  /** Absent while the scale is not trusted. */
  readonly tankKg: number | undefined;
  /** Over the liquid. */
  readonly roomM3: number;
  readonly tankK: number;
};

type Mark = { readonly atMs: number; readonly pa: number; readonly kg: number };

export type ArrivalWatch = {
  /** From where the tank rises by more than refrigerant would make it; absent while nothing is drawn. */
  readonly from: Mark | undefined;
  readonly last: Mark | undefined;
  /** Stays for as long as the compressor runs. */
  readonly air: boolean;
};

export const NOTHING_ARRIVES: ArrivalWatch = { from: undefined, last: undefined, air: false };

/**
 * Between air, 29 g/mol, and the lightest refrigerant this machine draws, R-134a, 102 g/mol (IUPAC atomic masses): vapour
 * that does not condense at all makes less than this, and what condenses makes next to nothing.
 */
const BETWEEN_KG_PER_MOL = 0.06;
/** More than the gauge and its noise may show (estimate); air in a tank is told of from as much on. */
const RISE_PA = 40_000;
/** A cold tank in a warm room rises by half of that in this time (estimate: 0.5 K a minute). */
const WITHIN_MS = 120_000;
/** Faster than anything that a compressor delivers, from one scan to the next: a gauge or a scale was moved (estimates). */
const JUMP_PA = 10_000;
const JUMP_KG = 0.005;

/** @param input absent while the compressor stands. */
export function watchArrival(
  watch: ArrivalWatch,
  input: ArrivalInput | undefined,
  nowMs: number,
): ArrivalWatch {
  if (input === undefined) return NOTHING_ARRIVES;
  const { tankPa, tankKg, roomM3, tankK } = input;
  if (tankPa === undefined || tankKg === undefined) return watch;
  const last: Mark = { atMs: nowMs, pa: tankPa, kg: tankKg };
  if (watch.from === undefined || isMoved(watch.last!, last) || nowMs - watch.from.atMs > WITHIN_MS)
    return { ...watch, from: last, last };
  const risePa = tankPa - watch.from.pa;
  const asVapourKg = (risePa * roomM3 * BETWEEN_KG_PER_MOL) / (GAS_CONSTANT_J_PER_MOL_K * tankK);
  if (tankKg - watch.from.kg >= asVapourKg) return { ...watch, from: last, last };
  return { ...watch, last, air: watch.air || risePa >= RISE_PA };
}

const isMoved = (before: Mark, now: Mark): boolean =>
  Math.abs(now.pa - before.pa) > JUMP_PA || Math.abs(now.kg - before.kg) > JUMP_KG;

export const arrivalOf = ({ air }: ArrivalWatch): 'refrigerant' | 'air' => (air ? 'air' : 'refrigerant');
