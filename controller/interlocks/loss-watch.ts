// Whether the tank loses mass while every valve is shut and the absolute sensor cannot tell why: a slow, steady fall.

export type RestMass = 'steady' | 'falling';

/** What the scale says while nothing may move, and what it may be off by from one mean to the next. */
export type RestWeight = { readonly kg: number; readonly leastFallKg: number };

export type LossWatch = {
  /** Means of whole blocks, oldest first, and the block that is being gathered. */
  readonly meansKg: readonly number[];
  readonly sumKg: number;
  readonly samples: number;
  /** From when on the block counts; absent while nothing is weighed. */
  readonly sinceMs: number | undefined;
};

const BLOCK_MS = 13_500;
/** Hoses and filters settle first; with the blocks it makes a minute. */
const SETTLE_MS = 4_000;
/** A bump makes one step or two; what falls in every block is none. */
const BLOCKS = 4;
/**
 * Fall from one mean to the next: 0.05 g/s make 0.7 g. Tight machines fall by less than 0.3 g (the bench's own simulator,
 * 13,000 minutes of rest), of drift and creep and whatever their class.
 */
const LEAST_FALL_KG = 0.00025;
const LEAST_FALL_NOISES = 0.4;

export const leastFallKg = (noiseKg: number): number => Math.max(LEAST_FALL_KG, LEAST_FALL_NOISES * noiseKg);

export const NOT_WEIGHED: LossWatch = { meansKg: [], sumKg: 0, samples: 0, sinceMs: undefined };

/** `weight` is absent while anything is open, the scale is not trusted, or the hoses' pressure moves the platform. */
export function watchLoss(watch: LossWatch, weight: RestWeight | undefined, nowMs: number): LossWatch {
  if (weight === undefined) return watch.sinceMs === undefined ? watch : NOT_WEIGHED;
  if (watch.sinceMs === undefined) return { ...watch, sinceMs: nowMs + SETTLE_MS };
  if (nowMs < watch.sinceMs) return watch;
  const sumKg = watch.sumKg + weight.kg;
  const samples = watch.samples + 1;
  if (nowMs - watch.sinceMs < BLOCK_MS) return { ...watch, sumKg, samples };
  const meanKg = sumKg / samples;
  const lastKg = watch.meansKg.at(-1);
  const falls = lastKg !== undefined && lastKg - meanKg >= weight.leastFallKg;
  return { meansKg: falls ? [...watch.meansKg, meanKg] : [meanKg], sumKg: 0, samples: 0, sinceMs: nowMs };
}

export const restMassOf = ({ meansKg }: LossWatch): RestMass =>
  meansKg.length >= BLOCKS ? 'falling' : 'steady';
