// Whether the tank loses mass while every path to it is shut and the absolute sensor cannot tell why: a slow, steady fall.

export type RestMass = 'unwatched' | 'steady' | 'doubtful' | 'falling';

/** What the scale says while nothing may move, and by what it is read. */
export type RestWeight = {
  readonly kg: number;
  /** Of that, how far the force of the hoses may be off (one standard deviation): it moves with their pressure. */
  readonly hoseSdKg: number;
  readonly noiseKg: number;
  /** What the absolute sensor reads where it would show whatever came from the tank; what the scale falls by then is its own. */
  readonly sealedPa: number | undefined;
};

type Block = { readonly kg: number; readonly hoseSdKg: number };

export type LossWatch = {
  /** Means of whole blocks, oldest first, and the block that is being gathered. */
  readonly blocks: readonly Block[];
  readonly sumKg: number;
  readonly samples: number;
  /** From when on the block counts; absent while nothing is weighed. */
  readonly sinceMs: number | undefined;
  readonly noiseKg: number;
  /** Where the absolute sensor stood when the first block began, if it tells of the tank. */
  readonly sealedPa: number | undefined;
  /** So fast the scale falls by itself, as it was last seen to. */
  readonly driftKgPerS: number;
};

const BLOCK_MS = 12_500;
/** Valves shut and filters settle first; with the blocks it makes less than a minute. */
const SETTLE_MS = 4_000;
/** A bump makes one step or two; what falls in every block is none. */
const BLOCKS = 4;
/** Leaks of a tenth of a gram a second fall by several times this; noise, warmth and creep of a sound scale by less (estimates). */
const LEAST_KG_PER_S = 8e-6;
const LEAST_NOISES_PER_S = 0.022;
/** Each block falls by at least this share of what it would at a steady rate: a bump is one step or two (estimate). */
const EVEN_SHARE = 0.2;
/** Of the doubt in the force of the hoses (estimate). */
const SURE = 2;
/** Less than this, and nothing is told of a fall that two blocks show (estimate). */
const DOUBTFUL_SHARE = 0.6;
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
  sealedPa: undefined,
  driftKgPerS: 0,
};

/** `weight` is absent while anything is open, the scale is not trusted, or the hoses' pressure moves the platform. */
export function watchLoss(watch: LossWatch, weight: RestWeight | undefined, nowMs: number): LossWatch {
  if (weight === undefined)
    return watch.sinceMs === undefined ? watch : { ...NOT_WEIGHED, driftKgPerS: watch.driftKgPerS };
  if (watch.sinceMs === undefined || !isSame(watch, weight)) return begin(watch, weight, nowMs);
  if (nowMs < watch.sinceMs) return watch;
  const sumKg = watch.sumKg + weight.kg;
  const samples = watch.samples + 1;
  if (nowMs - watch.sinceMs < BLOCK_MS) return { ...watch, sumKg, samples };
  const block = { kg: sumKg / samples, hoseSdKg: weight.hoseSdKg };
  const blocks = [...watch.blocks.slice(1 - BLOCKS), block];
  const next = { ...watch, blocks, sumKg: 0, samples: 0, sinceMs: nowMs };
  if (watch.sealedPa === undefined || blocks.length < BLOCKS) return next;
  const driftKgPerS = Math.min(Math.max(fallKgPerS(blocks), 0), MOST_DRIFT_KG_PER_S);
  return { ...next, driftKgPerS };
}

const begin = ({ driftKgPerS }: LossWatch, { noiseKg, sealedPa }: RestWeight, nowMs: number): LossWatch => ({
  ...NOT_WEIGHED,
  sinceMs: nowMs + SETTLE_MS,
  noiseKg,
  sealedPa,
  driftKgPerS,
});

/** What tells of the tank is the same as before, and the absolute sensor stands where it stood. */
const isSame = (watch: LossWatch, { sealedPa }: RestWeight): boolean =>
  watch.sealedPa === undefined || sealedPa === undefined
    ? watch.sealedPa === sealedPa
    : Math.abs(sealedPa - watch.sealedPa) < TIGHT_PA;

/** The slope of the line through the blocks (least squares). */
function fallKgPerS(blocks: readonly Block[]): number {
  const middle = (blocks.length - 1) / 2;
  let up = 0;
  let square = 0;
  for (const [index, { kg }] of blocks.entries()) {
    up += (index - middle) * kg;
    square += (index - middle) ** 2;
  }
  return square === 0 ? 0 : (-up * 1000) / (square * BLOCK_MS);
}

/** What the scale falls faster by than it may by itself, as a share of what is called a loss. */
function lossShare({ blocks, noiseKg, driftKgPerS }: LossWatch): number {
  const overS = ((blocks.length - 1) * BLOCK_MS) / 1000;
  const hoseKg = Math.abs(blocks[0]!.hoseSdKg - blocks.at(-1)!.hoseSdKg);
  const leastKgPerS = Math.max(LEAST_KG_PER_S, LEAST_NOISES_PER_S * noiseKg) + (SURE * hoseKg) / overS;
  return (fallKgPerS(blocks) - driftKgPerS) / leastKgPerS;
}

/** Falls from every block to the next. */
function isEven({ blocks }: LossWatch): boolean {
  const leastKg = (EVEN_SHARE * (blocks[0]!.kg - blocks.at(-1)!.kg)) / (blocks.length - 1);
  return blocks.every(({ kg }, index) => index === 0 || blocks[index - 1]!.kg - kg >= leastKg);
}

export function restMassOf(watch: LossWatch): RestMass {
  if (watch.sealedPa !== undefined || watch.blocks.length < 2) return 'unwatched';
  const share = lossShare(watch);
  if (watch.blocks.length === BLOCKS && share >= 1 && isEven(watch)) return 'falling';
  return share >= DOUBTFUL_SHARE ? 'doubtful' : 'steady';
}
