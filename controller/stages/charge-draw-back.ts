// The end of a charge whose hoses no engine sucks dry: a little too much is given, then the hoses are drawn back to the
// tank with a little of the vehicle's vapour behind their liquid. What they hold then is vapour and so known, and the
// weighing says what the vehicle has; the rest of the excess is drawn by displacement, a shortage is made good by doing all
// of it once more.
import { ROOM_K } from '../constants.ts';
import { startCount } from '../estimates/condenser.ts';
import type { Kept } from '../estimates/kept.ts';
import { gainOf, type Weighing } from '../estimates/masses.ts';
import { saturationK, thinVapourKgPerM3, vapourDensityKgPerM3 } from '../estimates/saturation.ts';
import { restMassOf } from '../interlocks/loss-watch.ts';
import { SAFE_COMMANDS } from '../signals.ts';
import { at, draw, drawManifold, low } from './charge-draw-manifold.ts';
import { FIRST_SHARE, refill } from './charge-refill.ts';
import { flowsAnew } from './charge-steps.ts';
import { heldUpKg, overKg, predictedHoseKg } from './charge-target.ts';
import type { ChargeData, DrawBack } from './data-charge.ts';
import { counting, cutOffSuction, drawOpened, keptAfter, shownKg, wantsFanStopped } from './draw.ts';
import { residueKg } from './recovered.ts';
import { type StageInput, type StageStep, want } from './stage.ts';

type Step = StageStep<ChargeData>;

/** One opening of the high-side valve, and how low the manifold must be before the next: both keep the absolute sensor in its span. */
const OPEN_MS = 50;
/**
 * The lower the compressor has drawn the manifold meanwhile, the longer the next: a cold vehicle, or a valve that hardly opens
 * in so short a time, feeds it too little, and at its lower end the draw would be over (estimates).
 */
const LONGER = [
  { belowPa: 30_000, openMs: 200 },
  { belowPa: 45_000, openMs: 100 },
] as const;
const AFTER_OPENING_MS = 700;
/** Nor may the compressor start on a manifold that has been drawn lower than some 20 kPa (IL-18). */
const FED_BELOW_PA = 35_000;
const OPEN_BELOW_PA = 75_000;
/** An excess that is left as it is, and a shortage that is not worth filling once more. */
const LEAVE_KG = 0.0015;
const SHORT_KG = 0.004;
/** How often that is tried: after each filling a draw by displacement leaves some per cent of an excess (estimates). */
const REFILLS = 2;
const DRAWS = 3;
/**
 * Liquid in the separator boils itself cold and holds no pressure while it is drawn at. Left to itself it shows within so
 * long; then it is drawn at for as long as the room takes to boil it off, so often (estimates).
 */
const PROOF_MS = 15_000;
const PROOF_FROM_MS = 2_000;
const WET_PA = 12_000;
const PROOFS = 3;
const BOILS_MS = 2 * 60_000;
/** Each step of the compressor. */
const LONGEST_MS = 4 * 60_000;

/**
 * The drawn manifold alone, once a filling: a charge valve that leaks shows itself to the interlocks before the separator's
 * room can hide it (estimate: 0.08 L through the atmosphere by 0.05 g/s).
 */
const APART_MS = 10_000;
/** By then a manifold that is drawn at has lost what the last opening let in (estimate). */
const DRAINED_MS = 10_000;
/** Liquid would have to be at -48 °C here, and the compressor may start again (estimate). */
const DRAINED_PA = 32_000;

const JOINED = want('recoveryValve');

/** A little is taken on top of what the hose is expected to hold, so that vapour follows its liquid. */
export const beginDrawBack = (data: ChargeData, input: StageInput, engineRan = false): ChargeData => ({
  ...data,
  topUpKg: undefined,
  drawBack: {
    count: startCount(input.nowMs, shownKg(input)),
    startedAtMs: undefined,
    fanStopped: wantsFanStopped(input),
    takeKg: predictedHoseKg(input, data.vehiclePa) + FIRST_SHARE * overKg(input.accounts),
    fromKg: 0,
    openedAtMs: undefined,
    openedForMs: 0,
    provenFromPa: undefined,
    proofs: 0,
    refills: data.drawBack?.refills ?? 0,
    draws: 0,
    heldKg: engineRan ? undefined : heldUpKg(input, data.vehiclePa),
    firstExcessKg: undefined,
    seatDoubted: restMassOf(input.lossWatch) === 'doubtful',
  },
});

export function stepDrawBack(data: ChargeData, input: StageInput): Step {
  const { nowMs, permitted } = input;
  const before = data.drawBack;
  if (before === undefined) return { data: { ...data, step: 'weigh-after' }, wanted: SAFE_COMMANDS };
  if (data.step === 'stand-apart') return standApart(data, before, input);
  if (data.step === 'prove-dry') return proveDry(data, before, input);
  const drawBack = {
    ...before,
    count: counting(before.count, before.fanStopped, input, cutOffSuction(input, stoodPa(data))),
  };
  const next = { ...data, drawBack };
  if (drawBack.startedAtMs === undefined && !permitted.compressor.on) {
    if (nowMs - data.stepSinceMs > LONGEST_MS) return weighNext(next, input, drawBack);
    const ready = input.compressorRested && input.estimates.scale.trust === 'trusted';
    if (!ready) return { data: next, wanted: SAFE_COMMANDS };
    return low(input, FED_BELOW_PA) ? fed(next, input, drawBack) : { data: next, wanted: draw(drawBack) };
  }
  const started = { ...drawBack, startedAtMs: drawBack.startedAtMs ?? nowMs };
  const stopped = !permitted.compressor.on && nowMs - started.startedAtMs > AFTER_OPENING_MS;
  if (stopped || nowMs - data.stepSinceMs > LONGEST_MS) return toProof(next, input, started);
  switch (data.step) {
    case 'draw-manifold':
      return drawManifold(data, input, started);
    case 'draw-hose':
      return drawHose({ ...data, drawBack: started }, input, started);
    default:
      return pumpedOut(data, started, input)
        ? toProof(data, input, started)
        : { data: { ...data, drawBack: started }, wanted: draw(started) };
  }
}

/** After a filling the proof that follows is of the charge valve first: only a manifold drained for a while proves it. */
function pumpedOut({ stepSinceMs }: ChargeData, drawBack: DrawBack, input: StageInput): boolean {
  const { proofs, startedAtMs, draws } = drawBack;
  if (proofs > 0) return startedAtMs !== undefined && input.nowMs - startedAtMs >= BOILS_MS;
  const drained = draws > 0 || input.nowMs - stepSinceMs >= DRAINED_MS;
  return (drained && low(input, input.plan.hoses.emptyPa)) || low(input, DRAINED_PA);
}

/** Only the first draw finds the manifold as high as the vehicle; what the hose then lets in by and by is low. */
const stoodPa = ({ step, vehiclePa }: ChargeData): number | undefined =>
  step === 'draw-manifold' ? vehiclePa : undefined;

/** One short opening after the other, until what has come through is enough. */
function drawHose(data: ChargeData, input: StageInput, drawBack: DrawBack): Step {
  const { nowMs } = input;
  const { openedAtMs } = drawBack;
  const busy = openedAtMs !== undefined && nowMs - openedAtMs < AFTER_OPENING_MS;
  if (busy) return fed(data, input, drawBack);
  if (!low(input, Number.POSITIVE_INFINITY)) return { data, wanted: draw(drawBack) };
  const cameKg = drawBack.count.totalKg - drawBack.fromKg + underWayKg(input);
  if (cameKg >= drawBack.takeKg)
    return { data: at(data, 'pump-out', nowMs, drawBack), wanted: draw(drawBack) };
  return low(input, OPEN_BELOW_PA) ? fed(data, input, drawBack) : { data, wanted: draw(drawBack) };
}

/** One opening, and the time after it. */
function fed(data: ChargeData, input: StageInput, drawBack: DrawBack): Step {
  const { nowMs } = input;
  const { openedAtMs, openedForMs, fanStopped } = drawBack;
  if (openedAtMs !== undefined && nowMs - openedAtMs < AFTER_OPENING_MS) {
    const isOpen = nowMs - openedAtMs < openedForMs;
    return { data, wanted: isOpen ? drawOpened(fanStopped, openedForMs) : draw(drawBack) };
  }
  const openMs = LONGER.find(({ belowPa }) => low(input, belowPa))?.openMs ?? OPEN_MS;
  return {
    data: { ...data, drawBack: { ...drawBack, openedAtMs: nowMs, openedForMs: openMs } },
    wanted: drawOpened(fanStopped, openMs),
  };
}

/** Gas between high-side valve and compressor beyond what is left there at the end of a draw. */
function underWayKg({ plan, equipment, seen }: StageInput): number {
  const morePa = Math.max((seen.manifoldPa ?? 0) - plan.hoses.drawnPa, 0);
  const volumeM3 = equipment.hoses.manifoldVolumeM3 + equipment.separatorM3;
  return volumeM3 * thinVapourKgPerM3(plan.curve, morePa, seen.ambientK ?? ROOM_K);
}

function toProof(data: ChargeData, { nowMs }: StageInput, drawBack: DrawBack): Step {
  const proof = { ...drawBack, provenFromPa: undefined, proofs: drawBack.proofs + 1 };
  const first = proof.proofs === 1 && proof.draws === 0 && !proof.seatDoubted;
  return first
    ? { data: at(data, 'stand-apart', nowMs, proof), wanted: SAFE_COMMANDS }
    : { data: at(data, 'prove-dry', nowMs, proof), wanted: JOINED };
}

function standApart(data: ChargeData, before: DrawBack, input: StageInput): Step {
  const drawBack = {
    ...before,
    count: counting(before.count, before.fanStopped, input, cutOffSuction(input)),
  };
  if (input.nowMs - data.stepSinceMs < APART_MS)
    return { data: { ...data, drawBack }, wanted: SAFE_COMMANDS };
  const again = { ...drawBack, seatDoubted: false, startedAtMs: undefined };
  if (!data.drawsBack) return givenOnceMore(data, again, input);
  return drawBack.seatDoubted
    ? { data: at(data, 'draw-manifold', input.nowMs, again), wanted: SAFE_COMMANDS }
    : { data: at(data, 'prove-dry', input.nowMs, drawBack), wanted: JOINED };
}

/**
 * What an engine will suck out of the hoses is not drawn: what was taken from the manifold is given once more, but for what
 * the coil keeps of it. No later weighing can tell that from what is given now, so that the scale is read before.
 */
function givenOnceMore(data: ChargeData, drawBack: DrawBack, input: StageInput): Step {
  const { accounts, nowMs } = input;
  const kept = keptNow(drawBack, -shownKg(input), input);
  const targetKg = data.targetKg + kept.kg - accounts.kept.kg;
  return {
    data: { ...flowsAnew(at(data, 'settle', nowMs, drawBack)), result: undefined, targetKg },
    wanted: want('highSideValve'),
    accounts: { ...accounts, kept, targetKg },
  };
}

/** Manifold and separator joined, nothing drawn: what rises is liquid, and it is drawn once more. */
function proveDry(data: ChargeData, before: DrawBack, input: StageInput): Step {
  const { nowMs, seen } = input;
  const waitedMs = nowMs - data.stepSinceMs;
  const drawBack = {
    ...before,
    count: counting(before.count, before.fanStopped, input, cutOffSuction(input, stoodPa(data))),
  };
  if (waitedMs < PROOF_FROM_MS) return { data: { ...data, drawBack }, wanted: JOINED };
  const provenFromPa = drawBack.provenFromPa ?? seen.manifoldPa;
  const next = { ...drawBack, provenFromPa };
  if (waitedMs < PROOF_MS) return { data: { ...data, drawBack: next }, wanted: JOINED };
  const stands = seen.manifoldOverSpan ? input.equipment.pressure.manifoldSpanPa : (seen.manifoldPa ?? 0);
  const rosePa = stands - (provenFromPa ?? Number.POSITIVE_INFINITY);
  const again = { ...next, startedAtMs: undefined };
  return rosePa > WET_PA && next.proofs < PROOFS
    ? { data: at(data, 'pump-out', nowMs, again), wanted: SAFE_COMMANDS }
    : weighNext(data, input, next);
}

const weighNext = (data: ChargeData, { nowMs }: StageInput, drawBack: DrawBack): Step => ({
  data: at(data, 'weigh-drawn', nowMs, drawBack),
  wanted: SAFE_COMMANDS,
});

/** What the condenser holds now; `lostKg` is what the tank has lost since it was last weighed before this stage. */
export const keptNow = ({ count }: DrawBack, lostKg: number, input: StageInput): Kept =>
  keptAfter(count, -lostKg, input);

/** The vehicle has what the tank has lost, but for what lies in the coil and the vapour in the hoses. */
export function weighDrawn(data: ChargeData, input: StageInput, weighed: Weighing): Step {
  const { accounts, plan, equipment, nowMs } = input;
  const { drawBack, reference } = data;
  if (drawBack === undefined || reference === undefined || !data.drawsBack) {
    return { data: { ...data, step: 'weigh-after', weighing: undefined }, wanted: SAFE_COMMANDS };
  }
  const gain = gainOf(reference, weighed, equipment, accounts.hoseForce);
  // The draw is counted from the newest weighing, which a partial charge has put after the reference.
  const shown = gainOf(accounts.weighed ?? reference, weighed, equipment, accounts.hoseForce);
  const kept = keptNow(drawBack, -shown.massKg, input);
  const keptMoreKg = kept.kg - (accounts.keptBeforeCharge ?? accounts.kept).kg;
  const excessKg =
    -gain.massKg - keptMoreKg - hoseVapourKg(data, input) + residueKg(accounts) - plan.ticket.nominalChargeKg;
  // From here on what is aimed at is what the tank must have lost for good.
  const targetKg = -gain.massKg - excessKg;
  const aimed = { ...data, targetKg };
  const settled = { ...accounts, kept, targetKg };
  const firstExcessKg = drawBack.firstExcessKg ?? excessKg;
  const again = {
    ...drawBack,
    firstExcessKg,
    count: startCount(nowMs, shown.massKg),
    startedAtMs: undefined,
  };
  if (excessKg > LEAVE_KG && again.draws < DRAWS)
    return drawMore(aimed, { ...again, takeKg: excessKg }, { ...input, accounts: settled });
  if (excessKg < -SHORT_KG && again.refills < REFILLS)
    return refill(data, again, { firstExcessKg, wantedLostKg: targetKg }, { ...input, accounts: settled });
  return { data: at(aimed, 'weigh-after', nowMs, again), wanted: SAFE_COMMANDS, accounts: settled };
}

const drawMore = (data: ChargeData, drawBack: DrawBack, { nowMs, accounts }: StageInput): Step => ({
  data: at(data, 'draw-manifold', nowMs, {
    ...drawBack,
    draws: drawBack.draws + 1,
    fromKg: 0,
    openedAtMs: undefined,
    proofs: 0,
  }),
  wanted: SAFE_COMMANDS,
  accounts,
});

const hoseVapourKg = (data: ChargeData, input: StageInput): number => {
  const { highVolumeM3, lowVolumeM3 } = input.equipment.hoses;
  return vapourKg(highVolumeM3 + (input.plan.ticket.ports === 2 ? lowVolumeM3 : 0), data, input);
};

/** Saturated vapour at the vehicle's pressure. */
const vapourKg = (volumeM3: number, { vehiclePa }: ChargeData, { plan, seen }: StageInput): number =>
  volumeM3 *
  vapourDensityKgPerM3(
    plan.curve,
    vehiclePa === undefined ? (seen.ambientK ?? ROOM_K) : saturationK(plan.curve, vehiclePa),
  );
