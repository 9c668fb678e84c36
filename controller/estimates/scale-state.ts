// What the scale chain knows from one reading to the next, and the figures that its parts share.
/** Which way refrigerant may pass between tank and hoses, as the permitted commands have it. */
export type Path = 'shut' | 'into-tank' | 'out-of-tank';

export type ScaleTrust = 'not-read' | 'trusted' | 'disturbed' | 'stuck';

export type ScaleState = {
  readonly trust: ScaleTrust;
  /** The last raw counts, newest last, at most five. */
  readonly recent: readonly number[];
  /** Median of the recent counts: what weighings and the fill limit use. */
  readonly counts: number;
  /** Net mass and its rate, bump offsets and hose force taken out. Positive flow is into the tank. */
  readonly massKg: number;
  readonly flowKgPerS: number;
  readonly variance: readonly [number, number, number];
  /** The flow of the last three seconds, oldest first, and when it was last noted. */
  readonly pastFlowsKgPerS: readonly number[];
  readonly notedAtMs: number;
  readonly slowMassKg: number;
  readonly slowFlowKgPerS: number;
  /** What leaning and bumps added so far: not refrigerant. */
  readonly offsetKg: number;
  /** The same before the last bump. */
  readonly offsetBeforeKg: number;
  readonly bumps: number;
  /** Mass before the last of them: what was bridged over it is known no better. */
  readonly bumpFromKg: number;
  /** What may have come while it lasted and was not reckoned with. */
  readonly bumpUnseenKg: number;
  /** How far off the reckoning may be of what went out of the tank meanwhile. */
  readonly bumpBridgedKg: number;
  /** What was last taken for refrigerant because a young draw may have brought it, and since when it was there. */
  readonly takenLeastKg: number;
  readonly takenMostKg: number;
  readonly takenAtMs: number;
  /** What of that the coil may have given, or else lies on the platform. Nothing where there is no such doubt, or a bump was last. */
  readonly doubtedKg: number;
  readonly doubtedVarianceKg2: number;
  /** Somebody had touched the platform then, and let go of it. */
  readonly doubtedKnocked: boolean;
  /** Of everything that was so taken, and beneath bumps, the last too. */
  readonly undecidedVarianceKg2: number;
  /** Mass when the disturbance began, and when that was. */
  readonly disturbedFromKg: number;
  readonly disturbedAtMs: number;
  /** The furthest that the reading has been from the mass since. */
  readonly disturbedMostKg: number;
  /** How long draws have lasted since then that began after it. */
  readonly begunDrawsMs: number;
  /** What the coil held then and what was drawn since, where that is known. */
  readonly coilGivesKg: number | undefined;
  readonly coilSdKg: number;
  readonly coilDrawnKg: number;
  readonly coilFills: boolean;
  readonly atMs: number;
  readonly sameSinceMs: number;
  /** While disturbed: since when the reading has been quiet, around which level. */
  readonly quietSinceMs: number;
  readonly quietLevelKg: number;
  /** Hose pressure of the last few calm seconds: what it jumps from may be what moves the platform. */
  readonly calmHosePa: number;
  readonly hoseForceKgPerPa: number;
  readonly path: Path;
  /** The same, but the path before for as long as it settles. */
  readonly underWay: Path;
};

/** The coil of the draw under way. */
export type Coil = {
  /** Drawn by displacement and not yet on the scale, with what the run before left. Never less than nothing. */
  readonly heldKg: number;
  /** One standard deviation of it. */
  readonly sdKg: number;
  /** Drawn by displacement since the run began. */
  readonly drawnKg: number;
  /** It may keep what comes: it is not known to pass everything on. */
  readonly fills: boolean;
};

export type ScaleInput = {
  readonly counts: number | undefined;
  readonly atMs: number | undefined;
  readonly path: Path;
  /** Every path is shut, but what was under way is still arriving. */
  readonly settling: boolean;
  /** Since when the compressor runs. */
  readonly drawsSinceMs: number | undefined;
  /** What it draws into; absent while it stands, or where nothing is known of it. */
  readonly coil: Coil | undefined;
  /** Mean hose pressure above ambient, for the force of the hoses on the platform. */
  readonly hoseGaugePa: number;
  /** What of its change since the last scan is none: a side sensor has fallen silent, or is heard again. */
  readonly hosePhantomPa?: number;
  /** What that pressure adds to the reading, with one standard deviation. */
  readonly hoseForceKgPerPa: number;
  readonly hoseForceSdKgPerPa: number;
};

export const FLOW_VARIANCE_PER_S = 0.0005 ** 2;
export const NOISE_FLOOR_KG = 0.0003;
/** Faster than any path of the machine: a bump (estimate: twice the largest flow). */
export const FASTEST_KG_PER_S = 0.06;
export const PAST_FLOWS = 6;
export const NOTED_EVERY_MS = 500;
export const OFFSET_WORTH_KG = 0.005;
export const LONGEST_GAP_S = 5;

export const openScale = (): ScaleState => ({
  trust: 'not-read',
  recent: [],
  counts: 0,
  massKg: 0,
  flowKgPerS: 0,
  variance: [1, 0, 1e-6],
  pastFlowsKgPerS: [],
  notedAtMs: 0,
  slowMassKg: 0,
  slowFlowKgPerS: 0,
  offsetKg: 0,
  offsetBeforeKg: 0,
  bumps: 0,
  bumpFromKg: 0,
  bumpUnseenKg: 0,
  bumpBridgedKg: 0,
  takenLeastKg: 0,
  takenMostKg: 0,
  takenAtMs: Number.MIN_SAFE_INTEGER,
  doubtedKg: 0,
  doubtedVarianceKg2: 0,
  doubtedKnocked: false,
  undecidedVarianceKg2: 0,
  disturbedFromKg: 0,
  disturbedAtMs: 0,
  disturbedMostKg: 0,
  begunDrawsMs: 0,
  coilGivesKg: undefined,
  coilSdKg: 0,
  coilDrawnKg: 0,
  coilFills: false,
  atMs: Number.MIN_SAFE_INTEGER,
  sameSinceMs: 0,
  quietSinceMs: 0,
  quietLevelKg: 0,
  calmHosePa: 0,
  hoseForceKgPerPa: 0,
  path: 'shut',
  underWay: 'shut',
});
