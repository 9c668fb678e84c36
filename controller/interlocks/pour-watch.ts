// Whether the tank pours out although no valve that leads out of it is open, whatever else is: a steady fall, within seconds where
// it is a stream, within a quarter of a minute where something on its way holds it up, within half a minute out of a leak.
import { SURE } from '../constants.ts';

/** What the raw scale says, and the pressure in the hoses, which push the platform by a force that is learnt in between. */
export type PourWeight = {
  readonly kg: number;
  readonly hosePa: number;
  /** As it is known by now: what was weighed before it was learnt is reckoned with it as well. */
  readonly forceKgPerPa: number;
  readonly forceSdKgPerPa: number;
  /** The scale shows nothing but a steady load or a flow. */
  readonly calm: boolean;
};

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

/** Fewer in a block is no pour, more no path of the machine has: that is a hand. */
export type Pace = {
  readonly blockMs: number;
  readonly blocks: number;
  readonly leastKg: number;
  readonly mostKg: number;
  /** In all of them, beyond what the hoses may push less. */
  readonly inAllKg: number;
};

/**
 * A welded charge valve passes 5 to 25 g/s into an open hose. Six blocks on end: who takes something off the platform is done
 * sooner (estimates).
 */
export const STREAM: Pace = { blockMs: 1_000, blocks: 6, leastKg: 0.003, mostKg: 0.08, inAllKg: 0.025 };
/** Into a vehicle that is nearly as warm as the tank, or past a valve that it lifts, it passes 2 to 4 g/s (estimates). */
export const TRICKLE: Pace = { blockMs: 3_000, blocks: 5, leastKg: 0.004, mostKg: 0.24, inAllKg: 0.02 };
/** A joint or a purge valve that lets vapour off loses half a gram a second and more; the paces above see what loses more than a trickle (estimates). */
export const SEEP: Pace = { blockMs: 6_000, blocks: 5, leastKg: 0.0035, mostKg: 0.02, inAllKg: 0.012 };

/** Valves have really shut, and the median of the readings has forgotten them (estimate). */
const SETTLE_MS = 1_500;
/** A valve passes evenly, a hand that eases off does not: the least fall of a block as a share of the most (estimate). */
const EVEN = 0.4;

export const NOT_POURING: PourWatch = {
  means: [],
  sumKg: 0,
  sumPa: 0,
  samples: 0,
  sinceMs: undefined,
  pours: false,
};

/** `weight` is absent while a way out of the tank is open, or the scale does not read. */
export function watchPour(
  watch: PourWatch,
  weight: PourWeight | undefined,
  nowMs: number,
  pace: Pace,
): PourWatch {
  if (weight === undefined) return NOT_POURING;
  if (watch.sinceMs === undefined) return { ...watch, sinceMs: nowMs + SETTLE_MS };
  if (nowMs < watch.sinceMs) return watch;
  const sumKg = watch.sumKg + weight.kg;
  const sumPa = watch.sumPa + weight.hosePa;
  const samples = watch.samples + 1;
  if (nowMs - watch.sinceMs < pace.blockMs) {
    // Named one by one: three of these are written every scan.
    const { means, sinceMs, pours } = watch;
    return { means, sumKg, sumPa, samples, sinceMs, pours };
  }
  const mean = { kg: sumKg / samples, hosePa: sumPa / samples };
  const row = [...watch.means, mean].slice(-pace.blocks);
  const fallsKg = fallsOf(freedOf(row, weight));
  const means = row.slice(1 + fallsKg.findLastIndex((kg) => kg < pace.leastKg || kg > pace.mostKg));
  return { ...NOT_POURING, means, sinceMs: nowMs, pours: isPour(means, weight, pace) };
}

/** What the means would be without the force of the hoses. */
const freedOf = (means: readonly Mean[], { forceKgPerPa }: PourWeight): readonly number[] =>
  means.map(({ kg, hosePa }) => kg - forceKgPerPa * hosePa);

const fallsOf = (freedKg: readonly number[]): readonly number[] =>
  freedKg.slice(1).map((kg, index) => freedKg[index]! - kg);

function isPour(means: readonly Mean[], weight: PourWeight, pace: Pace): boolean {
  if (means.length < pace.blocks) return false;
  const freedKg = freedOf(means, weight);
  const fallsKg = fallsOf(freedKg);
  if (Math.min(...fallsKg) < EVEN * Math.max(...fallsKg)) return false;
  const hoseKg = SURE * weight.forceSdKgPerPa * Math.abs(means[0]!.hosePa - means.at(-1)!.hosePa);
  return freedKg[0]! - freedKg.at(-1)! >= pace.inAllKg + hoseKg;
}
