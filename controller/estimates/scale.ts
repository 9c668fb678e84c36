// The scale chain: counts to a trusted mass and flow, with spikes, bumps and a dead sensor told apart.
// Method: median of five against spikes, a two-state Kalman filter [mass, flow] for the cut-off, a slow
// critically damped filter for "has the flow stopped", and a gate on the innovation against bumps.
import type { Equipment } from '../equipment.ts';

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
  readonly slowMassKg: number;
  readonly slowFlowKgPerS: number;
  /** What leaning and bumps added so far: not refrigerant. */
  readonly offsetKg: number;
  /** The same before the last bump. */
  readonly offsetBeforeKg: number;
  readonly bumps: number;
  /** Mass when the disturbance began. */
  readonly disturbedFromKg: number;
  readonly atMs: number;
  readonly sameSinceMs: number;
  /** While disturbed: since when the reading has been quiet, around which level. */
  readonly quietSinceMs: number;
  readonly quietLevelKg: number;
  /** Hose pressure of the last few calm seconds: what it jumps from may be what moves the platform. */
  readonly calmHosePa: number;
  readonly hoseForceKgPerPa: number;
  readonly path: Path;
};

export type ScaleInput = {
  readonly counts: number | undefined;
  readonly atMs: number | undefined;
  readonly path: Path;
  /** Every path is shut, but what was under way is still arriving. */
  readonly settling: boolean;
  /** Mean hose pressure above ambient, for the force of the hoses on the platform. */
  readonly hoseGaugePa: number;
  /** What that pressure adds to the reading, with one standard deviation. */
  readonly hoseForceKgPerPa: number;
  readonly hoseForceSdKgPerPa: number;
};

const FLOW_VARIANCE_PER_S = 0.0005 ** 2;
/** A path that opens or shuts changes the flow at once: by up to 20 g/s, one standard deviation (estimate). */
const TURNED_FLOW_VARIANCE = 0.02 ** 2;
/** With every path shut only slow things happen: a condenser draining, drift. */
const SHUT_FLOW_VARIANCE_PER_S = 0.00003 ** 2;
const NOISE_FLOOR_KG = 0.0003;
const GATE_SIGMA = 5;
/** Faster than any path of the machine: a bump (estimate: twice the largest flow). */
const FASTEST_KG_PER_S = 0.06;
/** Pressure coming into the hoses moves the platform within a scan or two; not a bump (estimate). */
const OPEN_STEP_KG = 0.012;
const SLOW_TIME_S = 10;
const QUIET_MS = 5_000;
const QUIET_SIGMA = 4;
const OFFSET_WORTH_KG = 0.005;
/** A live converter never repeats itself this long (hazard: same code, no change with known flow). */
const STUCK_MS = 2_000;
/** About two seconds at ten readings a second. */
const CALM_GAIN = 0.05;
const LONGEST_GAP_S = 5;

export const openScale = (): ScaleState => ({
  trust: 'not-read',
  recent: [],
  counts: 0,
  massKg: 0,
  flowKgPerS: 0,
  variance: [1, 0, 1e-6],
  slowMassKg: 0,
  slowFlowKgPerS: 0,
  offsetKg: 0,
  offsetBeforeKg: 0,
  bumps: 0,
  disturbedFromKg: 0,
  atMs: Number.MIN_SAFE_INTEGER,
  sameSinceMs: 0,
  quietSinceMs: 0,
  quietLevelKg: 0,
  calmHosePa: 0,
  hoseForceKgPerPa: 0,
  path: 'shut',
});

/** Net mass of raw counts, bumps not taken out. */
export const netMassKg = (counts: number, equipment: Equipment): number =>
  (counts - equipment.scale.zeroCounts) / equipment.scale.countsPerKg;

const medianOfThree = (a: number, b: number, c: number): number =>
  Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));

/** Of five without sorting (it runs every scan); of fewer the upper middle. */
export function median(values: readonly number[]): number {
  if (values.length !== 5) return [...values].sort((a, b) => a - b)[values.length >> 1]!;
  const [a, b, c, d, e] = values as [number, number, number, number, number];
  const least = Math.max(Math.min(a, b), Math.min(c, d));
  const most = Math.min(Math.max(a, b), Math.max(c, d));
  return medianOfThree(e, least, most);
}

/** Feeds one reading; an old one changes nothing. */
export function updateScale(state: ScaleState, input: ScaleInput, equipment: Equipment): ScaleState {
  const { counts, atMs } = input;
  if (counts === undefined || atMs === undefined) return unread(state);
  if (atMs <= state.atMs) return state;
  if (state.trust === 'not-read') return firstReading(state, counts, atMs, equipment);
  const last = state.recent[state.recent.length - 1];
  const recent = state.recent.length < 5 ? [...state.recent, counts] : [...state.recent.slice(1), counts];
  const middle = median(recent);
  const sameSinceMs = counts === last ? state.sameSinceMs : atMs;
  const measuredKg =
    netMassKg(middle, equipment) - state.offsetKg - input.hoseForceKgPerPa * input.hoseGaugePa;
  const base = { ...relearnt(state, input), recent, counts: middle, sameSinceMs };
  if (state.trust === 'disturbed') return disturbed(base, measuredKg, input, atMs, equipment);
  if (atMs - sameSinceMs > STUCK_MS) return { ...base, trust: 'stuck', atMs };
  return filtered(base, measuredKg, input, atMs, equipment);
}

/** A scale that has fallen silent is not trusted; when it speaks again it must first come to rest. */
const unread = (state: ScaleState): ScaleState =>
  state.trust === 'trusted' || state.trust === 'stuck'
    ? {
        ...state,
        trust: 'disturbed',
        disturbedFromKg: state.massKg,
        quietSinceMs: state.atMs,
        quietLevelKg: state.massKg,
      }
    : state;

/** The force has just been learnt: the same reading means another mass. */
function relearnt(state: ScaleState, { hoseForceKgPerPa, hoseGaugePa }: ScaleInput): ScaleState {
  if (hoseForceKgPerPa === state.hoseForceKgPerPa) return state;
  const changeKg = (hoseForceKgPerPa - state.hoseForceKgPerPa) * hoseGaugePa;
  return {
    ...state,
    hoseForceKgPerPa,
    massKg: state.massKg - changeKg,
    slowMassKg: state.slowMassKg - changeKg,
  };
}

function firstReading(state: ScaleState, counts: number, atMs: number, equipment: Equipment): ScaleState {
  const massKg = netMassKg(counts, equipment);
  return {
    ...state,
    trust: 'trusted',
    recent: [counts],
    counts,
    massKg,
    slowMassKg: massKg,
    variance: [equipment.scale.noiseKg ** 2, 0, 1e-8],
    atMs,
    sameSinceMs: atMs,
    quietLevelKg: massKg,
  };
}

function filtered(
  state: ScaleState,
  measuredKg: number,
  input: ScaleInput,
  atMs: number,
  equipment: Equipment,
): ScaleState {
  const dtS = Math.min((atMs - state.atMs) / 1000, LONGEST_GAP_S);
  const shut = input.path === 'shut' && !input.settling;
  const [p00, p01, p11] = state.variance;
  const flow = state.flowKgPerS;
  const predictedKg = state.massKg + flow * dtS;
  const noise = Math.max(equipment.scale.noiseKg, NOISE_FLOOR_KG) ** 2;
  const a = p00 + 2 * dtS * p01 + dtS * dtS * p11;
  const b = p01 + dtS * p11;
  const turned = input.path === state.path ? 0 : TURNED_FLOW_VARIANCE;
  const c = p11 + turned + (shut ? SHUT_FLOW_VARIANCE_PER_S : FLOW_VARIANCE_PER_S) * dtS;
  const innovation = measuredKg - predictedKg;
  const gate =
    GATE_SIGMA * Math.sqrt(a + noise) + (shut ? OFFSET_WORTH_KG / 2 : OPEN_STEP_KG + FASTEST_KG_PER_S * dtS);
  if (Math.abs(innovation) > gate) {
    return {
      ...state,
      trust: 'disturbed',
      disturbedFromKg: state.massKg,
      quietSinceMs: atMs,
      quietLevelKg: measuredKg,
      atMs,
    };
  }
  const gainMass = a / (a + noise);
  const gainFlow = b / (a + noise);
  const fade = Math.exp(-dtS / SLOW_TIME_S);
  const slowPredicted = state.slowMassKg + state.slowFlowKgPerS * dtS;
  const slowInnovation = measuredKg - slowPredicted;
  return {
    ...state,
    trust: 'trusted',
    massKg: predictedKg + gainMass * innovation,
    flowKgPerS: flow + gainFlow * innovation,
    variance: [a * (1 - gainMass), b * (1 - gainMass), c - gainFlow * b],
    slowMassKg: slowPredicted + (1 - fade * fade) * slowInnovation,
    slowFlowKgPerS: state.slowFlowKgPerS + ((1 - fade) ** 2 / dtS) * slowInnovation,
    calmHosePa: state.calmHosePa + CALM_GAIN * (input.hoseGaugePa - state.calmHosePa),
    path: input.path,
    atMs,
  };
}

/** How far off the reckoning may be that bridges a disturbance: when the valve really shut (estimate). */
const BRIDGE_S = 0.4;

/** A compressor's flow changes by no more within the slow filter's time (estimate). */
const STEADY_KG_PER_S = 0.001;

/** The first of a bump may pass for flow; what a compressor brings into the tank goes on as it was. */
const steady = ({ flowKgPerS, slowFlowKgPerS }: ScaleState, path: Path): number =>
  path === 'into-tank' ? Math.min(flowKgPerS, Math.max(slowFlowKgPerS, 0) + STEADY_KG_PER_S) : flowKgPerS;

/** Waits for quiet. */
function disturbed(
  state: ScaleState,
  measuredKg: number,
  input: ScaleInput,
  atMs: number,
  equipment: Equipment,
): ScaleState {
  const dtS = Math.min((atMs - state.atMs) / 1000, LONGEST_GAP_S);
  const open = input.path !== 'shut';
  const massKg = open ? state.massKg + steady(state, input.path) * dtS : state.massKg;
  const coasted = { ...state, massKg, atMs };
  const calmKg =
    QUIET_SIGMA * Math.max(equipment.scale.noiseKg, NOISE_FLOOR_KG) + (open ? FASTEST_KG_PER_S : 0);
  if (Math.abs(measuredKg - state.quietLevelKg) > calmKg) {
    return { ...coasted, quietSinceMs: atMs, quietLevelKg: measuredKg };
  }
  const quietLevelKg = state.quietLevelKg + 0.1 * (measuredKg - state.quietLevelKg);
  if (atMs - state.quietSinceMs < QUIET_MS) return { ...coasted, quietLevelKg };
  return trustedAgain({ ...coasted, quietLevelKg }, input, equipment);
}

/**
 * Quiet again. Who leaned on the platform lets go of it: the level that fits without the last bump, or with the offset as
 * it is, is taken as the mass; one that fits neither is another bump.
 */
function trustedAgain(state: ScaleState, input: ScaleInput, equipment: Equipment): ScaleState {
  const hoseKg = 4 * input.hoseForceSdKgPerPa * Math.abs(input.hoseGaugePa - state.calmHosePa);
  const doubtKg = OFFSET_WORTH_KG + hoseKg + BRIDGE_S * Math.abs(state.flowKgPerS);
  const lowKg = Math.min(state.disturbedFromKg, state.massKg) - doubtKg;
  const highKg = Math.max(state.disturbedFromKg, state.massKg) + doubtKg;
  const fits = (kg: number): boolean => kg >= lowKg && kg <= highKg;
  const levelKg = state.quietLevelKg;
  const letGoKg = levelKg + state.offsetKg - state.offsetBeforeKg;
  if (fits(levelKg)) return settled(state, levelKg, state.offsetKg, equipment);
  if (fits(letGoKg)) return settled(state, letGoKg, state.offsetBeforeKg, equipment);
  const offsetKg = state.offsetKg + levelKg - state.massKg;
  const bumped = { ...state, offsetBeforeKg: state.offsetKg, bumps: state.bumps + 1 };
  return settled(bumped, state.massKg, offsetKg, equipment);
}

const settled = (state: ScaleState, massKg: number, offsetKg: number, equipment: Equipment): ScaleState => ({
  ...state,
  trust: 'trusted',
  massKg,
  flowKgPerS: 0,
  slowMassKg: massKg,
  slowFlowKgPerS: 0,
  variance: [equipment.scale.noiseKg ** 2, 0, FLOW_VARIANCE_PER_S],
  offsetKg,
});
