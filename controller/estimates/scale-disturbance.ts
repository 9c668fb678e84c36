// While someone leans on the platform: wait for quiet, bridge what flowed meanwhile, and tell what was put down from refrigerant.
import type { Equipment } from '../equipment.ts';
import {
  coilAtStart,
  coilSince,
  doubt,
  doubting,
  mostArrivedKg,
  surgeKg,
  underBumpSdKg,
} from './coil-surge.ts';
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

const QUIET_MS = 5_000;
const QUIET_SIGMA = 4;
/** The level of a quiet scale is a mean that lags a second behind, at ten readings a second. */
const LEVEL_GAIN = 0.1;
const BEHIND_S = 1;
/** How far off the reckoning may be that bridges a disturbance: when the valve really shut, and what flowed until then (estimates). */
const BRIDGE_S = 1;
const OPENED_KG_PER_S = 0.02;
/** Standard deviations in the half width of what is spread evenly. */
const EVENLY = Math.sqrt(3);

/** What a draw has become meanwhile, or a new one brings, is found within a second or two (estimate). */
const FOUND_MS = 3_000;
const RESUMED_FLOW_VARIANCE = 0.005 ** 2;

/** What goes again by as much as it had come, to this share, is the same and no second one (estimate). */
const ALIKE_SHARE = 0.01;

/** Nobody leans on a platform for longer (estimate). */
const LEANS_MS = 30_000;

/** Vapour that no room makes denser (R-134a saturated at 45 °C, REFPROP 10). */
const DENSEST_KG_PER_M3 = 57;

/**
 * The first of a bump may pass for flow: what a compressor brings into the tank goes on as it was some seconds before, or,
 * where it did not run then, as it was seen last. Nothing flows back through its check valve.
 */
function steady(state: ScaleState, input: ScaleInput, equipment: Equipment): number {
  const { flowKgPerS, pastFlowsKgPerS: past } = state;
  if (input.path !== 'into-tank') return flowKgPerS;
  const isPast =
    past.length === PAST_FLOWS && !begunWithin(PAST_FLOWS * NOTED_EVERY_MS + FOUND_MS, state, input);
  return Math.min(Math.max(isPast ? past[0]! : flowKgPerS, 0), mostDrawnKgPerS(equipment));
}

const begunWithin = (ms: number, { disturbedAtMs }: ScaleState, { drawsSinceMs }: ScaleInput): boolean =>
  drawsSinceMs !== undefined && disturbedAtMs - drawsSinceMs < ms;

const mostDrawnKgPerS = ({ compressor }: Equipment): number => DENSEST_KG_PER_M3 * compressor.sweptM3PerS;

/** Of a draw that was too new for its flow to be found displacement tells, where the coil passes on what comes. */
const byDisplacementKg = (state: ScaleState, input: ScaleInput): number | undefined =>
  begunWithin(FOUND_MS, state, input) && !state.coilFills && state.coilGivesKg !== undefined
    ? state.disturbedFromKg + state.coilGivesKg
    : undefined;

/** Begins to wait for quiet. */
export const disturbing = (
  state: ScaleState,
  input: ScaleInput,
  measuredKg: number,
  atMs: number,
): ScaleState => ({
  ...state,
  trust: 'disturbed',
  disturbedFromKg: state.massKg,
  disturbedAtMs: atMs,
  disturbedMostKg: Math.abs(measuredKg - state.massKg),
  begunDrawsMs: 0,
  ...coilAtStart(input),
  quietSinceMs: atMs,
  quietLevelKg: measuredKg,
});

/** Waits for quiet. */
export function disturbed(
  state: ScaleState,
  measuredKg: number,
  input: ScaleInput,
  atMs: number,
  equipment: Equipment,
): ScaleState {
  const dtS = Math.min((atMs - state.atMs) / 1000, LONGEST_GAP_S);
  const open = input.path !== 'shut';
  const coil = coilSince(state, input);
  const reckonedKg = open ? state.massKg + steady(state, input, equipment) * dtS : state.massKg;
  // What rushed in before does not go on, once all is there that was drawn.
  const cappedKg = Math.min(reckonedKg, Math.max(state.massKg, mostArrivedKg({ ...state, ...coil })));
  const massKg = byDisplacementKg({ ...state, ...coil }, input) ?? cappedKg;
  const disturbedMostKg = Math.max(state.disturbedMostKg, Math.abs(measuredKg - massKg));
  const begun = input.drawsSinceMs !== undefined && input.drawsSinceMs > state.disturbedAtMs;
  const begunDrawsMs = state.begunDrawsMs + (begun ? 1000 * dtS : 0);
  const coasted = { ...state, massKg, disturbedMostKg, begunDrawsMs, ...coil, atMs };
  const calmKg =
    QUIET_SIGMA * Math.max(equipment.scale.noiseKg, NOISE_FLOOR_KG) + (open ? FASTEST_KG_PER_S : 0);
  if (Math.abs(measuredKg - state.quietLevelKg) > calmKg) {
    return { ...coasted, quietSinceMs: atMs, quietLevelKg: measuredKg };
  }
  const quietLevelKg = state.quietLevelKg + LEVEL_GAIN * (measuredKg - state.quietLevelKg);
  if (atMs - state.quietSinceMs < QUIET_MS) return { ...coasted, quietLevelKg };
  // While something flows the mean stays behind, and whoever lets go in the last moment leaves one between two levels: then
  // the last reading tells more.
  const behindKg =
    QUIET_SIGMA * Math.max(equipment.scale.noiseKg, NOISE_FLOOR_KG) + BEHIND_S * Math.abs(state.flowKgPerS);
  const isBehind = Math.abs(measuredKg - quietLevelKg) > behindKg;
  const level = { quietLevelKg: open || isBehind ? measuredKg : quietLevelKg };
  return trustedAgain({ ...coasted, ...level }, input, equipment);
}

/**
 * Quiet again. Who leaned on the platform lets go of it: the level that fits without the last bump, or with the offset as
 * it is, is taken as the mass; one that fits neither is another bump.
 */
function trustedAgain(state: ScaleState, input: ScaleInput, equipment: Equipment): ScaleState {
  // Pressure that came into the hoses meanwhile moves the platform too, and nobody can tell that from what was put down.
  const hoseSdKg = input.hoseForceSdKgPerPa * Math.abs(input.hoseGaugePa - state.calmHosePa);
  const hoseKg = 4 * hoseSdKg;
  const openedKgPerS = state.underWay === 'out-of-tank' ? OPENED_KG_PER_S : 0;
  const bridgedKg = BRIDGE_S * Math.max(Math.abs(state.flowKgPerS), openedKgPerS);
  const doubtKg = OFFSET_WORTH_KG + hoseKg + bridgedKg;
  const lowKg = Math.min(state.disturbedFromKg, state.massKg) - doubtKg;
  const highKg = Math.max(state.disturbedFromKg, state.massKg) + doubtKg;
  const fits = (kg: number): boolean => kg >= lowKg && kg <= highKg;
  // The draw over which the last bump was bridged may have ebbed in it.
  const isSinceBump = (kg: number): boolean =>
    state.underWay === 'into-tank' &&
    state.offsetKg !== state.offsetBeforeKg &&
    kg >= state.bumpFromKg - doubtKg &&
    kg <= highKg + state.bumpUnseenKg;
  const levelKg = state.quietLevelKg;
  const letGoKg = levelKg + state.offsetKg - state.offsetBeforeKg;
  const rest = (massKg: number, offsetKg: number): ScaleState =>
    settled(state, { massKg, offsetKg }, input, equipment);
  const letsGo = (massKg: number): ScaleState => {
    const after = { ...rest(massKg, state.offsetBeforeKg), bumpBridgedKg: 0 };
    return state.doubtedKg > 0 ? after : undoubted(after);
  };
  if (fits(levelKg)) return rest(levelKg, state.offsetKg);
  // The outflow over which the last bump was bridged shows now.
  const againKg = ALIKE_SHARE * Math.abs(state.offsetKg - state.offsetBeforeKg) + state.bumpBridgedKg;
  if (letGoKg >= lowKg - againKg && letGoKg <= highKg + againKg) return letsGo(letGoKg);
  if (isSinceBump(letGoKg)) return taking(letsGo(letGoKg), state, letGoKg, state.bumpUnseenKg, doubtKg);
  const isDoubtedBack = state.doubtedKg > 0 && Math.abs(levelKg + state.doubtedKg - state.massKg) <= doubtKg;
  if (isDoubtedBack) return undoubted(rest(levelKg, state.offsetKg));
  if (wasTaken(state, levelKg, lowKg, highKg)) return rest(levelKg, state.offsetKg);
  const unseen = Math.max(unseenKg(state, input, equipment), surgeKg(state));
  const mayHaveCome = (kg: number): boolean => kg >= lowKg && kg <= highKg + unseen;
  const isLetGo = mayHaveCome(letGoKg) && Math.abs(letGoKg - state.massKg) < Math.abs(levelKg - state.massKg);
  if (isLetGo) return taking(letsGo(letGoKg), state, letGoKg, unseen, doubtKg);
  if (mayHaveCome(levelKg)) {
    const taken = taking(rest(levelKg, state.offsetKg), state, levelKg, unseen, doubtKg);
    return state.coilGivesKg === undefined ? taken : doubting(taken, state, levelKg);
  }
  const bumpBridgedKg = state.underWay === 'out-of-tank' ? bridgedKg : 0;
  const begunKg = begunSdKg(state, input, equipment);
  const bumped = {
    ...state,
    offsetBeforeKg: state.offsetKg,
    bumps: state.bumps + 1,
    bumpFromKg: state.disturbedFromKg,
    bumpUnseenKg: unseen,
    bumpBridgedKg,
    ...doubt(state, 0, Math.hypot(underBumpSdKg(state), begunKg, hoseSdKg, bumpBridgedKg / EVENLY)),
    doubtedKnocked: false,
  };
  return settled(
    bumped,
    { massKg: state.massKg, offsetKg: state.offsetKg + levelKg - state.massKg },
    input,
    equipment,
  );
}

/** What went by as brought by a young draw was someone who now lets go. */
const wasTaken = (
  { atMs, takenAtMs, takenLeastKg, takenMostKg }: ScaleState,
  levelKg: number,
  lowKg: number,
  highKg: number,
): boolean =>
  atMs - takenAtMs <= LEANS_MS && levelKg + takenMostKg >= lowKg && levelKg + takenLeastKg <= highKg;

/** Remembers what a level has beyond what was reckoned, and may be nobody's refrigerant. */
const taking = (
  after: ScaleState,
  { massKg, disturbedAtMs }: ScaleState,
  levelKg: number,
  unseenKg: number,
  doubtKg: number,
): ScaleState => ({
  ...after,
  takenMostKg: levelKg - massKg + doubtKg,
  takenLeastKg: levelKg - massKg - unseenKg,
  takenAtMs: disturbedAtMs,
});

/** What had been put down is taken away, and with it the doubt. */
const undoubted = (after: ScaleState): ScaleState => ({
  ...after,
  doubtedKg: 0,
  doubtedKnocked: false,
  doubtedVarianceKg2: 0,
  undecidedVarianceKg2: Math.max(after.undecidedVarianceKg2 - after.doubtedVarianceKg2, 0),
});

/** A draw is young for so long: its flow has not been seen yet (estimate). */
const YOUNG_MS = 6_000;

/** A compressor that had just begun to draw has brought up to what it can, and nobody has seen how much. */
function unseenKg(state: ScaleState, input: ScaleInput, equipment: Equipment): number {
  const young = begunWithin(YOUNG_MS, state, input);
  return young ? (mostDrawnKgPerS(equipment) * (state.atMs - state.disturbedAtMs)) / 1000 : 0;
}

/** What a draw has brought that was begun beneath a bump, or just before and is not counted: anything from nothing to all that it can. */
function begunSdKg(state: ScaleState, input: ScaleInput, equipment: Equipment): number {
  const uncounted =
    state.coilGivesKg === undefined && state.begunDrawsMs === 0 && begunWithin(FOUND_MS, state, input);
  const ms = uncounted ? state.atMs - state.disturbedAtMs : state.begunDrawsMs;
  return (mostDrawnKgPerS(equipment) * ms) / 1000 / 2;
}

/** A draw that went on goes on; any other flow is found anew. */
function settled(
  state: ScaleState,
  { massKg, offsetKg }: Pick<ScaleState, 'massKg' | 'offsetKg'>,
  input: ScaleInput,
  equipment: Equipment,
): ScaleState {
  const draws = input.path === 'into-tank';
  const flowKgPerS = draws ? steady(state, input, equipment) : 0;
  return {
    ...state,
    trust: 'trusted',
    massKg,
    offsetKg,
    flowKgPerS,
    pastFlowsKgPerS: draws ? state.pastFlowsKgPerS : [],
    slowMassKg: massKg,
    slowFlowKgPerS: flowKgPerS,
    variance: [equipment.scale.noiseKg ** 2, 0, draws ? RESUMED_FLOW_VARIANCE : FLOW_VARIANCE_PER_S],
  };
}
