// Whether the tank loses mass while every path to it is shut and the absolute sensor cannot tell why: a slow, steady fall.
import { lineThrough } from '../estimates/line.ts';

export type RestMass = 'unwatched' | 'steady' | 'doubtful' | 'falling';

/** What the scale says while nothing may move, and by what it is read. */
export type RestWeight = {
  readonly kg: number;
  /** Of that, how far the force of the hoses may be off (one standard deviation): it moves with their pressure. */
  readonly hoseSdKg: number;
  readonly noiseKg: number;
  /** So fast a scale of this class may creep after what was moved last. */
  readonly creepKgPerS: number;
  /** And so fast it may fall at worst without a loss: by creep far beyond its class, and by dew that dries off the tank. */
  readonly worstOwnKgPerS: number;
  /** What the absolute sensor reads where it would show whatever came from the tank; what the scale falls by then is its own. */
  readonly sealedPa: number | undefined;
};

/** Falling scale of a tank at rest, kg/s; negative where it rises. */
export type RestFall = { readonly kgPerS: number; readonly sdKgPerS: number };

type Block = { readonly kg: number; readonly hoseSdKg: number };

export type LossWatch = {
  /** Means of whole blocks, oldest first, and the block that is being gathered. */
  readonly blocks: readonly Block[];
  readonly sumKg: number;
  readonly samples: number;
  /** From when on the block counts; absent while nothing is weighed. */
  readonly sinceMs: number | undefined;
  readonly noiseKg: number;
  readonly creepKgPerS: number;
  readonly worstOwnKgPerS: number;
  /** Where the absolute sensor stood when the first block began, if it tells of the tank. */
  readonly sealedPa: number | undefined;
  /** So fast the scale falls by itself, as it was last seen to. */
  readonly driftKgPerS: number;
};

const BLOCK_MS = 12_500;
const BLOCK_S = BLOCK_MS / 1000;
/** Valves shut and filters settle first; with the blocks it makes less than a minute. */
const SETTLE_MS = 4_000;
/** A bump makes one step or two; what falls in every block is none. */
const BLOCKS = 4;
/**
 * Falls as fast from every block to the next: 0.05 g/s make twice to three times this. Tight machines fall by less, of
 * drift and creep and whatever their class (the bench's own simulator, 13,000 minutes of rest).
 */
const LOSS_KG_PER_S = 1.85e-5;
const LOSS_NOISES_PER_S = 0.03;
/**
 * The line through all of them falls by more than this: a charge valve may leak, or the scale creeps more than its class.
 * Noise and warmth of sound scales make it fall by less (the bench's own simulator, 4,000 rests of 160 jobs).
 */
const DOUBTFUL_KG_PER_S = 8e-6;
const DOUBTFUL_NOISES_PER_S = 0.016;
/** What falls by more than this in one block than in another was moved, and does not run out (estimate). */
const EVEN = 3;
/** One standard deviation of that line (the same rests). */
const NOISES_PER_S = 0.0045;
/** Of the doubt in the force of the hoses (estimate). */
const SURE = 2;
/** A vehicle joined to the manifold rises by more than this within a block where a seat passes what matters (estimate). */
const TIGHT_PA = 500;
/** A scale that falls faster by itself is no scale (estimate). */
const MOST_DRIFT_KG_PER_S = 3e-5;

export const NOT_WEIGHED: LossWatch = {
  blocks: [],
  sumKg: 0,
  samples: 0,
  sinceMs: undefined,
  noiseKg: 0,
  creepKgPerS: 0,
  worstOwnKgPerS: 0,
  sealedPa: undefined,
  driftKgPerS: 0,
};

/** `weight` is absent while anything is open, the scale is not trusted, or the hoses' pressure moves the platform. */
export function watchLoss(watch: LossWatch, weight: RestWeight | undefined, nowMs: number): LossWatch {
  if (weight === undefined)
    return watch.sinceMs === undefined ? watch : { ...NOT_WEIGHED, driftKgPerS: watch.driftKgPerS };
  if (watch.sinceMs === undefined || !isSame(watch, weight)) return begin(watch, weight, nowMs);
  const worstOwnKgPerS = Math.max(watch.worstOwnKgPerS, weight.worstOwnKgPerS);
  if (nowMs < watch.sinceMs) return { ...watch, worstOwnKgPerS };
  const sumKg = watch.sumKg + weight.kg;
  const samples = watch.samples + 1;
  if (nowMs - watch.sinceMs < BLOCK_MS) return { ...watch, worstOwnKgPerS, sumKg, samples };
  const block = { kg: sumKg / samples, hoseSdKg: weight.hoseSdKg };
  const blocks = [...watch.blocks.slice(1 - BLOCKS), block];
  const next = { ...watch, worstOwnKgPerS, blocks, sumKg: 0, samples: 0, sinceMs: nowMs };
  if (watch.sealedPa === undefined || blocks.length < BLOCKS) return next;
  const driftKgPerS = Math.min(Math.max(fallKgPerS(blocks), 0), MOST_DRIFT_KG_PER_S);
  return { ...next, driftKgPerS };
}

const begin = (
  { driftKgPerS }: LossWatch,
  { noiseKg, creepKgPerS, worstOwnKgPerS, sealedPa }: RestWeight,
  nowMs: number,
): LossWatch => ({
  ...NOT_WEIGHED,
  sinceMs: nowMs + SETTLE_MS,
  noiseKg,
  creepKgPerS,
  worstOwnKgPerS,
  sealedPa,
  driftKgPerS,
});

/** What tells of the tank is the same as before, and the absolute sensor stands where it stood. */
const isSame = (watch: LossWatch, { sealedPa }: RestWeight): boolean =>
  sealedPa === watch.sealedPa ||
  Math.abs((sealedPa ?? Number.NaN) - (watch.sealedPa ?? Number.NaN)) < TIGHT_PA;

const fallKgPerS = (blocks: readonly Block[]): number =>
  -lineThrough(
    blocks.map(({ kg }) => kg),
    BLOCK_S,
    0,
  ).slopePerS;

/** What the scale of a tight machine may fall by: its own drift and creep, and what the force of the hoses is off by. */
function ownFallKgPerS({ blocks, driftKgPerS, creepKgPerS }: LossWatch): number {
  const hoseKg = Math.abs(blocks[0]!.hoseSdKg - blocks.at(-1)!.hoseSdKg);
  return driftKgPerS + SURE * (creepKgPerS + hoseKg / ((blocks.length - 1) * BLOCK_S));
}

const doubtfulKgPerS = ({ noiseKg }: LossWatch): number =>
  Math.max(DOUBTFUL_KG_PER_S, DOUBTFUL_NOISES_PER_S * noiseKg);

const isFull = ({ blocks, sealedPa }: LossWatch): boolean =>
  sealedPa === undefined && blocks.length === BLOCKS;

const fallsOf = (blocks: readonly Block[]): readonly number[] =>
  blocks.slice(1).map(({ kg }, index) => blocks[index]!.kg - kg);

/** No seat that is watched for and no scale that creeps moves it so far from block to block: a hand or a tool does (estimate). */
const JUMP_KG = 0.003;

const jumps = (fallsKg: readonly number[]): boolean => fallsKg.some((kg) => Math.abs(kg) > JUMP_KG);

/**
 * What the scale of a shut tank falls by, with one standard deviation; absent before it was watched for long enough, or where
 * something was put on the platform or taken off it meanwhile.
 */
export const restFall = (watch: LossWatch): RestFall | undefined =>
  isFull(watch) && !jumps(fallsOf(watch.blocks))
    ? { kgPerS: fallKgPerS(watch.blocks), sdKgPerS: NOISES_PER_S * watch.noiseKg }
    : undefined;

/**
 * It falls evenly, and faster than a tight machine: the interlocks ask in every scan, and for nothing else. What a bad scale may
 * creep by after a charge is left in doubt, which the charge settles by its drawn manifold.
 */
export function isFalling(watch: LossWatch): boolean {
  if (!isFull(watch)) return false;
  const fastestKgPerS = Math.max(
    ownFallKgPerS(watch) + Math.max(LOSS_KG_PER_S, LOSS_NOISES_PER_S * watch.noiseKg),
    ownFallKgPerS(watch) + doubtfulKgPerS(watch) + watch.worstOwnKgPerS,
  );
  const fallsKg = fallsOf(watch.blocks);
  const leastKg = Math.min(...fallsKg);
  return leastKg >= BLOCK_S * fastestKgPerS && Math.max(...fallsKg) <= EVEN * leastKg;
}

export function restMassOf(watch: LossWatch): RestMass {
  if (!isFull(watch)) return 'unwatched';
  if (isFalling(watch)) return 'falling';
  const { blocks } = watch;
  const doubtful = ownFallKgPerS(watch) + doubtfulKgPerS(watch);
  return !jumps(fallsOf(blocks)) && fallKgPerS(blocks) >= doubtful ? 'doubtful' : 'steady';
}
