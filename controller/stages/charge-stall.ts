// Why a charge does not flow, as far as the sensors show it.
import { ROOM_K } from '../constants.ts';
import { vehicleVolumeM3 } from '../estimates/charge-forecast.ts';
import type { FallingHose } from '../estimates/masses.ts';
import { liquidDensityKgPerM3, saturationK, vapourDensityKgPerM3 } from '../estimates/saturation.ts';
import { tankLiquidKg } from '../estimates/tank-liquid.ts';
import { NO_NOTICES, type NoticeCode, type NoticeDraft } from '../notices.ts';
import type { ChargeData } from './data-charge.ts';
import { grams, kilograms, minutes, type StageInput } from './stage.ts';

/** Nothing comes out of the tank when the hose stands this far below it (common practice: 1 bar). */
const SUPPLY_PA = 100_000;
/** Tank and vehicle at the same pressure within this. */
const EQUAL_PA = 40_000;
const SURE = 2;
/** Choked vapour is a fifth of the mass that flashing liquid brings; liquid brings more than this down to 0.1 bar. */
const VAPOUR_SHARE = 0.4;
const DRIVING_PA = 30_000;
/** What a dip tube needs, and a third of a kilogram by which the tare of a tank may be off (estimate). */
const LITTLE_LIQUID_KG = 0.5;

/** So many times the least flow ends a stall (estimate). */
const RESUMES = 2;
/** Weight of the newest reading: smooths over a second. */
const NEWEST = 0.1;
/** The scale shows the end of a flow late, and the gauges a little later (estimate). */
const ENDED_MS = 4_000;

/** A full hose behind a shut coupler warms above a colder tank while its valve is shut, and comes down so fast (estimate). */
const JOINED_MS = 3_000;

/** Since when less flows than liquid would bring, since when next to nothing does, and the pressures meanwhile. */
export function watchStall(before: ChargeData, flow: number, input: StageInput): ChargeData {
  const data = watchFlow(before, flow, input);
  const { tankPa, highSidePa } = input.seen;
  const joined = input.nowMs - data.stepSinceMs >= JOINED_MS;
  if (!joined || tankPa === undefined || highSidePa === undefined) return { ...data, gap: undefined };
  const readPa = tankPa - highSidePa;
  const last = data.gap;
  const pa = last === undefined ? readPa : last.pa + NEWEST * (readPa - last.pa);
  const leastPa = Math.min(last?.leastPa ?? pa, pa);
  const mostPa = Math.max(last?.mostPa ?? pa, pa);
  const stalledPa = data.stalledMs < ENDED_MS ? undefined : Math.max(last?.stalledPa ?? pa, pa);
  return { ...data, gap: { pa, leastPa, mostPa, stalledPa } };
}

function watchFlow(data: ChargeData, flow: number, { plan, nowMs }: StageInput): ChargeData {
  const peakFlowKgPerS = Math.max(data.peakFlowKgPerS, flow);
  // What has ended comes back with more than the noise of a scale.
  const noise = data.stallSinceMs === undefined ? 1 : RESUMES;
  const least = Math.max(noise * plan.charge.stallKgPerS, plan.charge.stallFraction * peakFlowKgPerS);
  const slowSinceMs = flow < VAPOUR_SHARE * peakFlowKgPerS ? (data.slowSinceMs ?? nowMs) : undefined;
  if (flow >= least) return { ...data, peakFlowKgPerS, slowSinceMs, stallSinceMs: undefined, stalledMs: 0 };
  const stallSinceMs = data.stallSinceMs ?? nowMs;
  return { ...data, peakFlowKgPerS, slowSinceMs, stallSinceMs, stalledMs: nowMs - stallSinceMs };
}

const SUPPLY = 'charge-stalled-supply';
const ENGINE = 'charge-stalled-engine';
const LAST_WORDS: readonly NoticeCode[] = [SUPPLY, ENGINE, 'charge-stalled-dip-tube'];

type Told = { readonly told: readonly string[]; readonly notices: readonly NoticeDraft[] };

/** What is to be told of a flow that has stopped or slowed, each cause once; after these last words nothing else explains it. */
export function tellStall(data: ChargeData, delivered: number, input: StageInput): Told {
  return tell(causeOf(data, delivered, input), data, delivered, input);
}

/** The sides are parted as by an engine: told as a wait begins, whatever came before, for it may last an hour. */
export const tellEngine = (data: ChargeData, delivered: number, input: StageInput): Told =>
  tell(ENGINE, data, delivered, input);

/** A charge that is given up without a cause: pulses show none, but the tank may be short of liquid. */
export function tellGivenUp(data: ChargeData, delivered: number, input: StageInput): Told {
  const open = !data.told.some((code) => code.startsWith('charge-stalled'));
  return tell(open ? causeUntold(input) : undefined, data, delivered, input);
}

/** What no stall has told yet: it ends without one where only pulses are left, or nothing is seen. */
function causeUntold(input: StageInput): NoticeCode | undefined {
  if (engineParts(input)) return ENGINE;
  if (shortOfLiquid(input)) return 'charge-stalled-dip-tube';
  const { tankPa, highSidePa, lowSidePa } = input.seen;
  const lowIsBlind = input.plan.ticket.ports === 2 && lowSidePa === undefined;
  const blind = tankPa === undefined || highSidePa === undefined || lowIsBlind;
  return blind ? 'charge-stalled-blind' : undefined;
}

function tell(
  code: NoticeCode | undefined,
  { told }: ChargeData,
  delivered: number,
  input: StageInput,
): Told {
  if (code === undefined || told.includes(code) || LAST_WORDS.some((last) => told.includes(last))) {
    return { told, notices: NO_NOTICES };
  }
  const figures = {
    charged: grams(delivered),
    minutes: minutes(input.plan.charge.stallWaitMs),
    liquid: kilograms(liquidLeftKg(input)),
  };
  return { told: [...told, code], notices: [{ code, with: figures }] };
}

function causeOf(data: ChargeData, delivered: number, input: StageInput): NoticeCode | undefined {
  const { stallMs } = input.plan.charge;
  if (data.stalledMs >= stallMs) return diagnoseStall(data, delivered, input);
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

/** No heat of an engine bay parts the sides of a vehicle at rest as far; a low side that never got anything is none (estimates). */
const ENGINE_APART_PA = 100_000;
const ENGINE_LOW_PA = 40_000;

/** The high side above the tank that feeds it, and the low side far below: something pumps from the one to the other. */
export function engineParts(input: StageInput): boolean {
  const { tankPa, highSidePa, lowSidePa } = input.seen;
  if (tankPa === undefined || highSidePa === undefined || lowSidePa === undefined) return false;
  const { highSideSdPa, lowSideSdPa } = input.equipment.pressure;
  const apartPa = ENGINE_APART_PA + SURE * Math.hypot(highSideSdPa, lowSideSdPa);
  const above = highSidePa - tankPa > doubtOf(input);
  return above && lowSidePa > ENGINE_LOW_PA && highSidePa - lowSidePa > apartPa;
}

function diagnoseStall(data: ChargeData, deliveredKg: number, input: StageInput): NoticeCode {
  const { tankPa, highSidePa, lowSidePa } = input.seen;
  if (tankPa === undefined || highSidePa === undefined) return 'charge-stalled';
  if (engineParts(input)) return ENGINE;
  const doubtPa = doubtOf(input);
  if (tankPa - highSidePa > SUPPLY_PA + doubtPa) return SUPPLY;
  // Vapour goes on flowing until both have one pressure; what stops before has been shut.
  if (shortOfLiquid(input)) return 'charge-stalled-dip-tube';
  if (cutOff(data, deliveredKg, input)) return SUPPLY;
  if (lowSidePa !== undefined && Math.abs(tankPa - lowSidePa) < EQUAL_PA + doubtPa)
    return 'charge-stalled-warm';
  return 'charge-stalled';
}

/** A hose open to the tank, with no flow, stands as high: more of a gap than this and beyond all doubt is none (estimates). */
const APART_PA = 15_000;
const BEYOND_DOUBT = 3;
/** So far it moves against the tank by noise and steps of the converter: so much, and this share of the sensors' doubt (estimates). */
const MOVES_PA = 2_500;
const MOVES_SHARE = 0.12;
/** So much of what help has brought the tank up is still there, and nothing flows (estimate). */
const HELPED_PA = 10_000;
/** The scale may be a little off (estimate). */
const SCALE_KG = 0.005;

/** In this charge, without what a leak check has let in before. */
const cameKg = (deliveredKg: number, { accounts }: StageInput): number =>
  deliveredKg - (accounts.leakCheck?.admittedKg ?? 0);

/**
 * Whether tank and hose are cut off from each other though the valve between them is open. A flow that ends by itself ends
 * where both have one pressure: from there the hose follows the tank, and the gap was never less. A hose whose supply is
 * shut falls to the vehicle as the flow ends, and follows that. What the sensors are off by is of no matter to this.
 */
function cutOff({ gap, assist }: ChargeData, deliveredKg: number, input: StageInput): boolean {
  if (gap?.stalledPa === undefined) return false;
  const { tankSdPa, highSideSdPa } = input.equipment.pressure;
  const sdPa = Math.hypot(tankSdPa, highSideSdPa);
  const movesPa = MOVES_PA + MOVES_SHARE * sdPa;
  if (gap.pa > APART_PA + BEYOND_DOUBT * sdPa || gap.stalledPa - gap.leastPa > movesPa) return true;
  if (assist?.helped !== true) return false;
  // Helped before anything flowed, nobody knows the sensors' difference; but a tank brought up against the hose moves it.
  return assist.fromKg > 0
    ? gap.pa - assist.evenPa > HELPED_PA
    : cameKg(deliveredKg, input) < SCALE_KG && gap.mostPa - gap.leastPa < movesPa;
}

/** The low side has answered when it has risen by this much beyond what a valve lets back: more than noise (estimate). */
const ANSWER_PA = 15_000;
/** The spring of a shut valve holds at least this from behind, and lets pass what is more (estimate). */
const HELD_BACK_PA = 300_000;
/** A hose joined to the vehicle falls and comes back while the charge pauses: mean deviation of both hoses' mean (estimate). */
const RESTLESS_PA = 8_000;
/** One port has only the hose to tell by: a supply that is shut shows within this time (estimate). */
export const ONE_PORT_MS = 30_000;
/** Of the flow at its most: what the lifted valve passes is less (estimate). */
const TRICKLE_SHARE = 0.15;
/** Hoses and manifold may hold more than is known. */
const FULL_SD = 2;
/** A hose that has filled has taken at least this share of what it holds (estimate). */
const FILLED_SHARE = 0.3;

/**
 * The flow has stopped at the tank's pressure with no more than a hose full given, and the vehicle has not answered. Where
 * a vehicle warmer than the tank is expected to stop it as early, one port cannot tell.
 */
export function couplerShut(data: ChargeData, deliveredKg: number, input: StageInput): boolean {
  const { plan, seen, equipment } = input;
  const onePort = plan.ticket.ports === 1;
  if (onePort ? data.stalledMs < ONE_PORT_MS : !trickles(data, input)) return false;
  if (data.told.includes(SUPPLY) || diagnoseStall(data, deliveredKg, input) === SUPPLY) return false;
  if (data.told.includes(ENGINE) || engineParts(input)) return false;
  if (!onePort && data.stalledMs >= APART_MS && sidesApart(input)) return true;
  if (vehicleAnswers(data, input) || (onePort && data.told.includes('charge-will-stall'))) return false;
  const { highVolumeM3, manifoldVolumeM3, volumeRelativeSd } = equipment.hoses;
  const fullKg =
    (highVolumeM3 + manifoldVolumeM3) * liquidDensityKgPerM3(plan.curve, seen.tankTemperatureK ?? ROOM_K);
  const came = cameKg(deliveredKg, input) - letBackKg(data, input);
  return came > FILLED_SHARE * fullKg && came - SCALE_KG < (1 + FULL_SD * volumeRelativeSd) * fullKg;
}

/** At rest an expansion valve keeps its sides no further apart than spring and bulb do (estimate), nor for so long a hose that is joined to a vehicle. */
const SIDES_APART_PA = 150_000;
const APART_MS = 20_000;

/** Nothing flows, and the open high side stands at the tank's pressure with the low side far below: it does not end in this vehicle. */
function sidesApart({
  seen: { tankPa, highSidePa, lowSidePa },
  equipment: { pressure },
}: StageInput): boolean {
  if (tankPa === undefined || highSidePa === undefined || lowSidePa === undefined) return false;
  const doubtPa = SURE * Math.hypot(pressure.highSideSdPa, pressure.lowSideSdPa);
  return highSidePa - lowSidePa > SIDES_APART_PA + doubtPa;
}

/** What a valve has let into the vehicle from behind: gas, as its low side shows. */
function letBackKg({ lowFromPa }: ChargeData, { plan, seen: { lowSidePa } }: StageInput): number {
  if (plan.ticket.ports === 1 || lowFromPa === undefined || lowSidePa === undefined) return 0;
  const { curve } = plan;
  const density = (pa: number): number => vapourDensityKgPerM3(curve, saturationK(curve, pa));
  return lowSidePa < lowFromPa + ANSWER_PA
    ? 0
    : vehicleVolumeM3(plan.ticket.nominalChargeKg) * (density(lowSidePa) - density(lowFromPa));
}

/** No more flows than a valve may let back out of the full hose, and the hose stands as high as the tank. */
function trickles({ slowSinceMs, stalledMs, peakFlowKgPerS, gap }: ChargeData, input: StageInput): boolean {
  const { plan, nowMs, estimates } = input;
  if (stalledMs >= plan.charge.stallMs) return true;
  const slow = slowSinceMs !== undefined && nowMs - slowSinceMs >= plan.charge.stallMs;
  const little = -estimates.scale.flowKgPerS < TRICKLE_SHARE * peakFlowKgPerS;
  return slow && little && gap !== undefined && gap.pa < APART_PA + doubtOf(input);
}

/** Its low side has risen, or its gas has moved the hose; or nobody can know. */
function vehicleAnswers({ lowFromPa, falling }: ChargeData, { plan, seen }: StageInput): boolean {
  const { highSidePa, lowSidePa } = seen;
  if (highSidePa === undefined || lowSidePa === undefined || lowFromPa === undefined) return true;
  const heldPa = Math.max(lowFromPa, highSidePa - HELD_BACK_PA);
  if (plan.ticket.ports === 2 && lowSidePa > heldPa + ANSWER_PA) return true;
  // What a valve lets back into the low hose moves the high one as well.
  return lowSidePa < lowFromPa + ANSWER_PA && deviationPa(falling) > RESTLESS_PA;
}

function deviationPa({ n, pa, paPa }: FallingHose): number {
  return n === 0 ? 0 : Math.sqrt(Math.max(paPa / n - (pa / n) ** 2, 0));
}
