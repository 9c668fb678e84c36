// Whether the tank pours out although no valve that leads out of it is open, whatever else is: a steady fall within seconds.
import { SURE } from '../constants.ts';

/** What the raw scale says, and the pressure in the hoses, which push the platform by an unknown force. */
export type PourWeight = { readonly kg: number; readonly hosePa: number; readonly forceSdKgPerPa: number };

type Mean = { readonly kg: number; readonly hosePa: number };

export type PourWatch = {
  /** Means of whole blocks that fall one after the other, oldest first, and the block that is being gathered. */
  readonly means: readonly Mean[];
  readonly sumKg: number;
  readonly sumPa: number;
  readonly samples: number;
  /** Absent while nothing is weighed. */
  readonly sinceMs: number | undefined;
  readonly pours: boolean;
};

const BLOCK_MS = 1_000;
/** Valves have really shut, and the median of the readings has forgotten them (estimate). */
const SETTLE_MS = 1_500;
/**
 * A welded charge valve passes 5 to 25 g/s. Fewer in a block is no pour, more no path of the machine has: that is a hand.
 * Six blocks on end: who takes something off the platform is done sooner (estimates).
 */
const LEAST_KG = 0.003;
const MOST_KG = 0.08;
const BLOCKS = 6;
/** A valve passes evenly, a hand that eases off does not: the least fall of a block as a share of the most (estimate). */
const EVEN = 0.4;
/** In all of them, beyond what the hoses may push less (estimate, and three standard deviations). */
const IN_ALL_KG = 0.025;

export const NOT_POURING: PourWatch = {
  means: [],
  sumKg: 0,
  sumPa: 0,
  samples: 0,
  sinceMs: undefined,
  pours: false,
};

/** `weight` is absent while a way out of the tank is open, or the scale does not read. */
export function watchPour(watch: PourWatch, weight: PourWeight | undefined, nowMs: number): PourWatch {
  if (weight === undefined) return NOT_POURING;
  if (watch.sinceMs === undefined) return { ...watch, sinceMs: nowMs + SETTLE_MS };
  if (nowMs < watch.sinceMs) return watch;
  const sumKg = watch.sumKg + weight.kg;
  const sumPa = watch.sumPa + weight.hosePa;
  const samples = watch.samples + 1;
  if (nowMs - watch.sinceMs < BLOCK_MS) return { ...watch, sumKg, sumPa, samples };
  const mean = { kg: sumKg / samples, hosePa: sumPa / samples };
  const last = watch.means.at(-1);
  const fallKg = last === undefined ? 0 : last.kg - mean.kg;
  const falls = fallKg >= LEAST_KG && fallKg <= MOST_KG;
  const means = falls ? [...watch.means, mean].slice(-BLOCKS) : [mean];
  return { ...NOT_POURING, means, sinceMs: nowMs, pours: isPour(means, weight.forceSdKgPerPa) };
}

function isPour(means: readonly Mean[], forceSdKgPerPa: number): boolean {
  if (means.length < BLOCKS) return false;
  const first = means[0]!;
  const last = means.at(-1)!;
  const falls = means.slice(1).map(({ kg }, index) => means[index]!.kg - kg);
  if (Math.min(...falls) < EVEN * Math.max(...falls)) return false;
  const hoseKg = SURE * forceSdKgPerPa * Math.abs(first.hosePa - last.hosePa);
  return first.kg - last.kg >= IN_ALL_KG + hoseKg;
}
