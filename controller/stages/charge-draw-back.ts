// The end of a charge whose hoses no engine sucks dry: a little too much is given, then the hoses are drawn back to the
// tank with a little of the vehicle's vapour behind their liquid. What they hold then is vapour and so known, and the
// weighing says what the vehicle has; the rest of the excess is drawn by displacement, a shortage is made good by doing all
// of it once more.
import { GAS_CONSTANT_J_PER_MOL_K, ROOM_K } from '../constants.ts';
import { type Kept, startCount } from '../estimates/condenser.ts';
import { gainOf, type Weighing } from '../estimates/masses.ts';
import { molarMassKgPerMol, saturationK, vapourDensityKgPerM3 } from '../estimates/saturation.ts';
import { type Commands, SAFE_COMMANDS } from '../signals.ts';
import { flowsAnew } from './charge-steps.ts';
import { overKg, predictedHoseKg } from './charge-target.ts';
import type { ChargeData, DrawBack } from './data.ts';
import { counting, drawAlone, drawOpened, keptAfter, shownKg, wantsFanStopped } from './draw.ts';
import { residueKg } from './recovered.ts';
import { type StageInput, type StageStep, want } from './stage.ts';

type Step = StageStep<ChargeData>;

/** One opening of the high-side valve, and how low the manifold must be before the next: both keep the absolute sensor in its span. */
const OPEN_MS = 50;
const AFTER_OPENING_MS = 700;
const OPEN_BELOW_PA = 75_000;
/** Of what is given too much, this is drawn on the first go, on top of what the hose is expected to hold. */
const FIRST_SHARE = 0.25;
/** An excess that is left as it is, and a shortage that is not worth filling once more. */
const LEAVE_KG = 0.0015;
const SHORT_KG = 0.004;
/** How often that is tried: after each filling a draw by displacement leaves some per cent of an excess (estimates). */
const REFILLS = 2;
const DRAWS = 3;
/** Each step of the compressor. */
const LONGEST_MS = 4 * 60_000;
/** What gas in manifold and separator adds to what is under way (estimate: a separator of 0.4 L). */
const SEPARATOR_M3 = 0.4e-3;

const at = (data: ChargeData, step: ChargeData['step'], nowMs: number, drawBack: DrawBack): ChargeData => ({
  ...data,
  step,
  stepSinceMs: nowMs,
  weighing: undefined,
  drawBack,
});

export const beginDrawBack = (data: ChargeData, input: StageInput): ChargeData => ({
  ...data,
  topUpKg: undefined,
  drawBack: {
    count: startCount(input.nowMs, shownKg(input)),
    startedAtMs: undefined,
    fanStopped: wantsFanStopped(input),
    takeKg: predictedHoseKg(input, data.vehiclePa) + FIRST_SHARE * overKg(input.accounts),
    fromKg: 0,
    openedAtMs: undefined,
    refills: data.drawBack?.refills ?? 0,
    draws: 0,
  },
});

export function stepDrawBack(data: ChargeData, input: StageInput): Step {
  const { nowMs, permitted } = input;
  const before = data.drawBack;
  if (before === undefined) return { data: { ...data, step: 'weigh-after' }, wanted: SAFE_COMMANDS };
  const drawBack = { ...before, count: counting(before.count, before.fanStopped, input, suctionPa(input)) };
  const next = { ...data, drawBack };
  if (drawBack.startedAtMs === undefined && !permitted.compressor.on) {
    if (nowMs - data.stepSinceMs > LONGEST_MS) return weighNext(next, input, drawBack);
    const ready = input.compressorRested && input.estimates.scale.trust === 'trusted';
    return { data: next, wanted: ready ? draw(drawBack) : SAFE_COMMANDS };
  }
  const started = { ...drawBack, startedAtMs: drawBack.startedAtMs ?? nowMs };
  const stopped = !permitted.compressor.on && nowMs - started.startedAtMs > AFTER_OPENING_MS;
  if (stopped || nowMs - data.stepSinceMs > LONGEST_MS) return weighNext(next, input, started);
  switch (data.step) {
    case 'draw-manifold':
      return low(input, input.plan.hoses.drawnPa)
        ? {
            data: at(data, 'draw-hose', nowMs, { ...started, fromKg: started.count.totalKg }),
            wanted: draw(started),
          }
        : { data: { ...data, drawBack: started }, wanted: draw(started) };
    case 'draw-hose':
      return drawHose({ ...data, drawBack: started }, input, started);
    default:
      return low(input, input.plan.hoses.emptyPa)
        ? weighNext(data, input, started)
        : { data: { ...data, drawBack: started }, wanted: draw(started) };
  }
}

/** The manifold is cut off from the vehicle; above the span of its sensor it is at least there. */
const suctionPa = ({ seen, equipment }: StageInput): number | undefined =>
  seen.manifoldOverSpan ? equipment.pressure.manifoldSpanPa : seen.manifoldPa;

const draw = ({ fanStopped }: DrawBack): Commands => drawAlone(fanStopped);

const low = ({ seen }: StageInput, pa: number): boolean =>
  seen.manifoldPa !== undefined && seen.manifoldPa <= pa;

/** One short opening after the other, until what has come through is enough. */
function drawHose(data: ChargeData, input: StageInput, drawBack: DrawBack): Step {
  const { nowMs } = input;
  const { openedAtMs, fanStopped } = drawBack;
  const opening = drawOpened(fanStopped, OPEN_MS);
  if (openedAtMs !== undefined && nowMs - openedAtMs < OPEN_MS) return { data, wanted: opening };
  const busy = openedAtMs !== undefined && nowMs - openedAtMs < AFTER_OPENING_MS;
  if (busy || !low(input, Number.POSITIVE_INFINITY)) return { data, wanted: draw(drawBack) };
  const cameKg = drawBack.count.totalKg - drawBack.fromKg + underWayKg(input);
  if (cameKg >= drawBack.takeKg)
    return { data: at(data, 'pump-out', nowMs, drawBack), wanted: draw(drawBack) };
  if (!low(input, OPEN_BELOW_PA)) return { data, wanted: draw(drawBack) };
  return { data: { ...data, drawBack: { ...drawBack, openedAtMs: nowMs } }, wanted: opening };
}

/** Gas between high-side valve and compressor beyond what is left there at the end of a draw. */
function underWayKg({ plan, equipment, seen }: StageInput): number {
  const moreKg = Math.max((seen.manifoldPa ?? 0) - plan.hoses.drawnPa, 0);
  const volumeM3 = equipment.hoses.manifoldVolumeM3 + SEPARATOR_M3;
  return (
    (moreKg * volumeM3 * molarMassKgPerMol(plan.curve)) /
    (GAS_CONSTANT_J_PER_MOL_K * (seen.ambientK ?? ROOM_K))
  );
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
  if (drawBack === undefined || reference === undefined) {
    return { data: { ...data, step: 'weigh-after', weighing: undefined }, wanted: SAFE_COMMANDS };
  }
  const gain = gainOf(reference, weighed, equipment, accounts.hoseForce);
  // The draw is counted from the newest weighing, which a partial charge has put after the reference.
  const shown = gainOf(accounts.weighed ?? reference, weighed, equipment, accounts.hoseForce);
  const kept = keptNow(drawBack, -shown.massKg, input);
  const keptMoreKg = kept.kg - (accounts.keptBeforeCharge ?? accounts.kept).kg;
  const excessKg =
    -gain.massKg - keptMoreKg - hoseVapourKg(data, input) + residueKg(accounts) - plan.ticket.nominalChargeKg;
  const settled = { ...accounts, kept };
  const again = { ...drawBack, count: startCount(nowMs, shown.massKg), startedAtMs: undefined };
  if (excessKg > LEAVE_KG && again.draws < DRAWS)
    return drawMore(data, { ...again, takeKg: excessKg }, { ...input, accounts: settled });
  if (excessKg < -SHORT_KG && again.refills < REFILLS)
    return refill(data, again, -excessKg, { ...input, accounts: settled });
  return { data: at(data, 'weigh-after', nowMs, again), wanted: SAFE_COMMANDS, accounts: settled };
}

const drawMore = (data: ChargeData, drawBack: DrawBack, { nowMs, accounts }: StageInput): Step => ({
  data: at(data, 'draw-manifold', nowMs, {
    ...drawBack,
    draws: drawBack.draws + 1,
    fromKg: 0,
    openedAtMs: undefined,
  }),
  wanted: SAFE_COMMANDS,
  accounts,
});

/**
 * All once more: what the draw has brought back, what is missing, and a little too much, so that the next draw takes and
 * does not miss. What the hoses hold of it is what they held the first time.
 */
function refill(data: ChargeData, drawBack: DrawBack, shortKg: number, input: StageInput): Step {
  const topUpKg = data.deliveredAtShutKg + shortKg + FIRST_SHARE * overKg(input.accounts);
  const next = {
    ...flowsAnew(at(data, 'settle', input.nowMs, { ...drawBack, refills: drawBack.refills + 1 })),
    topUpKg,
    targetKg: topUpKg,
  };
  return { data: next, wanted: want('highSideValve'), accounts: input.accounts };
}

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
