// The scale chain: counts to a trusted mass and flow, with spikes, bumps and a dead sensor told apart.
// Method: median of five against spikes, a two-state Kalman filter [mass, flow] for the cut-off, a slow
// critically damped filter for "has the flow stopped", and a gate on the innovation against bumps.
import type { Equipment } from '../equipment.ts';
import { sureOfSurge } from './coil-surge.ts';
import { disturbed, disturbing } from './scale-disturbance.ts';
import {
  FASTEST_KG_PER_S,
  FLOW_VARIANCE_PER_S,
  LONGEST_GAP_S,
  NOISE_FLOOR_KG,
  NOTED_EVERY_MS,
  OFFSET_WORTH_KG,
  PAST_FLOWS,
  type ScaleInput,
  type ScaleState,
} from './scale-state.ts';

/** A path that opens or shuts changes the flow at once: by up to 20 g/s, one standard deviation (estimate). */
const TURNED_FLOW_VARIANCE = 0.02 ** 2;
/** With every path shut only slow things happen: a condenser draining, drift. */
const SHUT_FLOW_VARIANCE_PER_S = 0.00003 ** 2;
const GATE_SIGMA = 5;
/** Pressure coming into the hoses moves the platform within a scan or two; not a bump (estimate). */
const OPEN_STEP_KG = 0.012;
const SLOW_TIME_S = 10;
/** A live converter never repeats itself this long (hazard: same code, no change with known flow). */
const STUCK_MS = 2_000;
/** About two seconds at ten readings a second. */
const CALM_GAIN = 0.05;

/** Net mass of raw counts, bumps not taken out. */
export const netMassKg = (counts: number, equipment: Equipment): number =>
  (counts - equipment.scale.zeroCounts) / equipment.scale.countsPerKg;

const medianOfThree = (a: number, b: number, c: number): number =>
  Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));

/** Of five without sorting (it runs every scan); of fewer the upper middle. */
export function median(values: readonly number[]): number {
  if (values.length !== 5) return [...values].sort((a, b) => a - b)[values.length >> 1]!;
  const a = values[0]!;
  const b = values[1]!;
  const c = values[2]!;
  const d = values[3]!;
  const least = Math.max(Math.min(a, b), Math.min(c, d));
  const most = Math.min(Math.max(a, b), Math.max(c, d));
  return medianOfThree(values[4]!, least, most);
}

/** Written out, because it runs every scan. */
const withNewest = (recent: readonly number[], counts: number): readonly number[] =>
  recent.length < 5 ? [...recent, counts] : [recent[1]!, recent[2]!, recent[3]!, recent[4]!, counts];

/** What one reading leaves in the state, whatever it is taken for. */
type Read = Pick<ScaleState, 'recent' | 'counts' | 'sameSinceMs'>;

/** Feeds one reading; an old one changes nothing. */
export function updateScale(state: ScaleState, input: ScaleInput, equipment: Equipment): ScaleState {
  const { counts, atMs } = input;
  if (counts === undefined || atMs === undefined) return unread(state, input);
  if (atMs <= state.atMs) return state;
  if (state.trust === 'not-read') return firstReading(state, counts, atMs, equipment);
  const last = state.recent[state.recent.length - 1];
  const recent = withNewest(state.recent, counts);
  const read: Read = {
    recent,
    counts: median(recent),
    sameSinceMs: counts === last ? state.sameSinceMs : atMs,
  };
  const measuredKg =
    netMassKg(read.counts, equipment) - state.offsetKg - input.hoseForceKgPerPa * input.hoseGaugePa;
  const base = sureOfSurge(relearnt(state, input), input);
  if (base.trust === 'disturbed') return disturbed({ ...base, ...read }, measuredKg, input, atMs, equipment);
  if (atMs - read.sameSinceMs > STUCK_MS) return { ...base, ...read, trust: 'stuck', atMs };
  return filtered(base, read, measuredKg, input, atMs, equipment);
}

/** A scale that has fallen silent is not trusted; when it speaks again it must first come to rest. */
const unread = (state: ScaleState, input: ScaleInput): ScaleState =>
  state.trust === 'trusted' || state.trust === 'stuck'
    ? disturbing(state, input, state.massKg, state.atMs)
    : state;

/**
 * The force has just been learnt, or a side sensor has fallen silent and its mean pressure is another: the same reading
 * means another mass, and nothing has moved.
 */
function relearnt(state: ScaleState, input: ScaleInput): ScaleState {
  const { hoseForceKgPerPa, hoseGaugePa, hosePhantomPa = 0 } = input;
  if (hosePhantomPa !== 0) {
    const moved = shifted(state, state.hoseForceKgPerPa * hosePhantomPa);
    const calmHosePa = state.calmHosePa + hosePhantomPa;
    return relearnt({ ...moved, calmHosePa }, { ...input, hosePhantomPa: 0 });
  }
  if (hoseForceKgPerPa === state.hoseForceKgPerPa) return state;
  const changeKg = (hoseForceKgPerPa - state.hoseForceKgPerPa) * hoseGaugePa;
  return { ...shifted(state, changeKg), hoseForceKgPerPa };
}

const shifted = (state: ScaleState, kg: number): ScaleState => ({
  ...state,
  massKg: state.massKg - kg,
  slowMassKg: state.slowMassKg - kg,
});

function firstReading(state: ScaleState, counts: number, atMs: number, equipment: Equipment): ScaleState {
  const massKg = netMassKg(counts, equipment) - state.offsetKg;
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
  read: Read,
  measuredKg: number,
  input: ScaleInput,
  atMs: number,
  equipment: Equipment,
): ScaleState {
  const dtS = Math.min((atMs - state.atMs) / 1000, LONGEST_GAP_S);
  const shut = input.path === 'shut' && !input.settling;
  const p00 = state.variance[0];
  const p01 = state.variance[1];
  const p11 = state.variance[2];
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
    return disturbing({ ...state, ...read, atMs }, input, measuredKg, atMs);
  }
  const gainMass = a / (a + noise);
  const gainFlow = b / (a + noise);
  const fade = Math.exp(-dtS / SLOW_TIME_S);
  const slowPredicted = state.slowMassKg + state.slowFlowKgPerS * dtS;
  const slowInnovation = measuredKg - slowPredicted;
  const flowKgPerS = flow + gainFlow * innovation;
  const noted = atMs - state.notedAtMs < NOTED_EVERY_MS;
  const past = state.pastFlowsKgPerS;
  return {
    ...state,
    recent: read.recent,
    counts: read.counts,
    sameSinceMs: read.sameSinceMs,
    trust: 'trusted',
    massKg: predictedKg + gainMass * innovation,
    flowKgPerS,
    pastFlowsKgPerS: noted ? past : [...past.slice(1 - PAST_FLOWS), flowKgPerS],
    notedAtMs: noted ? state.notedAtMs : atMs,
    variance: [a * (1 - gainMass), b * (1 - gainMass), c - gainFlow * b],
    slowMassKg: slowPredicted + (1 - fade * fade) * slowInnovation,
    slowFlowKgPerS: state.slowFlowKgPerS + ((1 - fade) ** 2 / dtS) * slowInnovation,
    calmHosePa: state.calmHosePa + CALM_GAIN * (input.hoseGaugePa - state.calmHosePa),
    path: input.path,
    underWay: input.settling ? state.underWay : input.path,
    atMs,
  };
}
