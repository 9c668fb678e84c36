// Why a charge does not flow, as far as the sensors show it.
import { ROOM_K } from '../constants.ts';
import { liquidDensityKgPerM3 } from '../estimates/saturation.ts';
import { tankLiquidKg } from '../estimates/tank-liquid.ts';
import { NO_NOTICES, type NoticeCode, type NoticeDraft } from '../notices.ts';
import type { ChargeData } from './data-charge.ts';
import { grams, kilograms, minutes, type StageInput } from './stage.ts';

/** Nothing comes out of the tank when the hose stands this far below it (common practice: 1 bar). */
const SUPPLY_PA = 100_000;
/** Tank and vehicle at the same pressure within this. */
const EQUAL_PA = 40_000;
const SURE = 2;
/** The other side is empty when it shows less than this share of the hose (estimate). */
const EMPTY_SHARE = 0.2;
/** Choked vapour is a fifth of the mass that flashing liquid brings; liquid brings more than this down to 0.1 bar. */
const VAPOUR_SHARE = 0.4;
const DRIVING_PA = 30_000;
/** What a dip tube needs, and a third of a kilogram by which the tare of a tank may be off (estimate). */
const LITTLE_LIQUID_KG = 0.5;

/** Since when less flows than liquid would bring, and since when next to nothing does. */
export function watchStall(data: ChargeData, flow: number, { plan, nowMs }: StageInput): ChargeData {
  const peakFlowKgPerS = Math.max(data.peakFlowKgPerS, flow);
  const least = Math.max(plan.charge.stallKgPerS, plan.charge.stallFraction * peakFlowKgPerS);
  const slowSinceMs = flow < VAPOUR_SHARE * peakFlowKgPerS ? (data.slowSinceMs ?? nowMs) : undefined;
  if (flow >= least) {
    const same = peakFlowKgPerS === data.peakFlowKgPerS && slowSinceMs === data.slowSinceMs;
    return data.stallSinceMs === undefined && same
      ? data
      : { ...data, peakFlowKgPerS, slowSinceMs, stallSinceMs: undefined, stalledMs: 0 };
  }
  const stallSinceMs = data.stallSinceMs ?? nowMs;
  return { ...data, peakFlowKgPerS, slowSinceMs, stallSinceMs, stalledMs: nowMs - stallSinceMs };
}

type Told = { readonly told: readonly string[]; readonly notices: readonly NoticeDraft[] };

/** What is to be told of a flow that has stopped or slowed, each cause once; after the dip tube nothing else explains it. */
export function tellStall(data: ChargeData, delivered: number, input: StageInput): Told {
  return tell(causeOf(data, input), data, delivered, input);
}

/** A charge that is given up without a cause: pulses show none, but the tank may be short of liquid. */
export function tellGivenUp(data: ChargeData, delivered: number, input: StageInput): Told {
  const open = !data.told.some((code) => code.startsWith('charge-stalled'));
  return tell(open && shortOfLiquid(input) ? 'charge-stalled-dip-tube' : undefined, data, delivered, input);
}

function tell(
  code: NoticeCode | undefined,
  { told }: ChargeData,
  delivered: number,
  input: StageInput,
): Told {
  if (code === undefined || told.includes(code) || told.includes('charge-stalled-dip-tube')) {
    return { told, notices: NO_NOTICES };
  }
  const figures = {
    charged: grams(delivered),
    minutes: minutes(input.plan.charge.stallWaitMs),
    liquid: kilograms(liquidLeftKg(input)),
  };
  return { told: [...told, code], notices: [{ code, with: figures }] };
}

function causeOf(data: ChargeData, input: StageInput): NoticeCode | undefined {
  const { stallMs } = input.plan.charge;
  if (data.stalledMs >= stallMs) return diagnoseStall(input);
  const slow = data.slowSinceMs !== undefined && input.nowMs - data.slowSinceMs >= stallMs;
  return slow && data.stallSinceMs === undefined && drawsVapour(input)
    ? 'charge-stalled-dip-tube'
    : undefined;
}

const liquidLeftKg = ({ plan, equipment, seen, estimates }: StageInput): number =>
  tankLiquidKg(estimates.scale.massKg, equipment.tank, seen.tankTemperatureK ?? ROOM_K, plan.curve);

const doubtOf = ({ equipment: { pressure } }: StageInput): number =>
  SURE * Math.hypot(pressure.tankSdPa, pressure.highSideSdPa);

const shortOfLiquid = (input: StageInput): boolean => liquidLeftKg(input) < LITTLE_LIQUID_KG;

/** The tank surely drives the flow, and still less comes than liquid would bring. */
function drawsVapour(input: StageInput): boolean {
  const { tankPa, highSidePa } = input.seen;
  if (tankPa === undefined || highSidePa === undefined) return false;
  return tankPa - highSidePa > DRIVING_PA + doubtOf(input) && shortOfLiquid(input);
}

function diagnoseStall(input: StageInput): NoticeCode {
  const { tankPa, highSidePa, lowSidePa } = input.seen;
  if (tankPa === undefined || highSidePa === undefined) return 'charge-stalled';
  const doubtPa = doubtOf(input);
  if (tankPa - highSidePa > SUPPLY_PA + doubtPa) return 'charge-stalled-supply';
  // Vapour goes on flowing until both have one pressure; what stops before has been shut.
  if (shortOfLiquid(input)) return 'charge-stalled-dip-tube';
  if (lowSidePa !== undefined && Math.abs(tankPa - lowSidePa) < EQUAL_PA + doubtPa)
    return 'charge-stalled-warm';
  return 'charge-stalled';
}

/** The other side has answered when it has risen by this much: more than noise and a leaking core (estimate). */
const ANSWER_PA = 15_000;
/** A little more than hose and manifold hold as liquid. */
const HOSE_FILL = 1.6;

/** The flow has stopped with no more than a hose full given, and the vehicle's other side is still empty. Two ports. */
export function couplerShut({ lowFromPa }: ChargeData, deliveredKg: number, input: StageInput): boolean {
  const { plan, seen, equipment } = input;
  const { highSidePa, lowSidePa } = seen;
  if (plan.ticket.ports === 1 || highSidePa === undefined || lowSidePa === undefined) return false;
  // A warm vehicle fills slowly behind its expansion valve, but it fills.
  if (lowFromPa !== undefined && lowSidePa - lowFromPa > ANSWER_PA) return false;
  const { highVolumeM3, manifoldVolumeM3 } = equipment.hoses;
  const fullKg =
    (highVolumeM3 + manifoldVolumeM3) * liquidDensityKgPerM3(plan.curve, seen.tankTemperatureK ?? ROOM_K);
  return deliveredKg < HOSE_FILL * fullKg && lowSidePa < EMPTY_SHARE * highSidePa;
}
