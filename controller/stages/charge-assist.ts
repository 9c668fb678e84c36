// What helps a charge whose flow has ended: every valve shut, the tank warmed where it has a heater, until the tank stands
// above the vehicle again; the charge then goes on to the same target.
import { ROOM_K, ZERO_CELSIUS_K } from '../constants.ts';
import { forecastFill } from '../estimates/charge-forecast.ts';
import { acrossStandstill, gainOf, type Weighing } from '../estimates/masses.ts';
import { liquidDensityKgPerM3, saturationK, saturationPa } from '../estimates/saturation.ts';
import type { NoticeDraft } from '../notices.ts';
import { SAFE_COMMANDS } from '../signals.ts';
import type { Accounts } from '../state.ts';
import { beginEngineHelp, mayUseEngine } from './charge-engine.ts';
import { engineParts, ONE_PORT_MS, tellEngine } from './charge-stall.ts';
import { at, HIGH_OPEN } from './charge-steps.ts';
import type { ChargeAssist, ChargeData } from './data-charge.ts';
import { grams, minutes, type StageInput, type StageStep, want } from './stage.ts';
import { whenWeighed } from './weighing.ts';

type Step = StageStep<ChargeData>;

const HEAT = want('tankHeater');

/** Shut within the first flow back: more than the noise and the waver of a scale (estimate). */
const RUN_BACK_KG = 0.004;
/** The limit of the tank is an interlock; the heater goes off before it (estimate). */
const BELOW_LIMIT_K = 1;
/** An interlock that holds the heater back does not let go of it within moments (estimate). */
const HELD_MS = 5_000;

const heaterFitted = ({ equipment }: StageInput): boolean => equipment.fitted.includes('tankHeater');

/** Warm enough, or nobody knows how warm. */
function atLimit({ seen, equipment }: StageInput): boolean {
  const { tankTemperatureK } = seen;
  return (
    tankTemperatureK === undefined || tankTemperatureK > equipment.tank.temperatureLimitK - BELOW_LIMIT_K
  );
}

const vehicleK = ({ seen }: StageInput): number => seen.ambientK ?? ROOM_K;

/** Before anything is given: what will run in by itself, if that is not all; with a heater the tank is warmed first. */
export function foresee(
  data: ChargeData,
  weighed: Weighing,
  input: StageInput,
): { data: ChargeData; notices: NoticeDraft[] } {
  const { plan, seen, nowMs } = input;
  const { nominalChargeKg } = plan.ticket;
  if (seen.tankPa === undefined || seen.ambientK === undefined) return { data, notices: [] };
  const forecast = forecastFill({
    curve: plan.curve,
    tankPa: seen.tankPa,
    vehicleK: seen.ambientK,
    wantedKg: nominalChargeKg,
    insideKg: input.accounts.leakCheck?.admittedKg ?? 0,
  });
  if (forecast.runsInKg >= nominalChargeKg) return { data, notices: [] };
  const figures = {
    grams: grams(forecast.runsInKg),
    charge: grams(nominalChargeKg),
    tank: (forecast.tankK - ZERO_CELSIUS_K).toFixed(0),
    vehicle: (seen.ambientK - ZERO_CELSIUS_K).toFixed(0),
  };
  const heats = heaterFitted(input) && !atLimit(input);
  if (!heats) {
    const code = 'charge-will-stall';
    return { data: { ...data, told: [...data.told, code] }, notices: [{ code, with: figures }] };
  }
  const assist = { ...newAssist(undefined, 0, 0, true, input), still: weighed };
  return {
    data: { ...data, step: 'heat', stepSinceMs: nowMs, assist },
    notices: [{ code: 'tank-heated-first', with: figures }],
  };
}

const newAssist = (
  before: ChargeAssist | undefined,
  deliveredKg: number,
  evenPa: number,
  heats: boolean,
  { seen, nowMs }: StageInput,
): ChargeAssist => ({
  rounds: (before?.rounds ?? 0) + 1,
  spentMs: before?.spentMs ?? 0,
  sinceMs: nowMs,
  fromKg: deliveredKg,
  still: undefined,
  helped: false,
  heats,
  evenPa,
  markPa: seen.tankPa,
  markGapPa: undefined,
  markAtMs: nowMs,
});

/** What has been given runs back into the tank. */
const runsBack = ({ mostKg }: ChargeData, deliveredKg: number): boolean => mostKg - deliveredKg > RUN_BACK_KG;

/** Time the flow may stand before help begins: common practice waits for the vehicle first, but not while it runs back. */
export const helpAfterMs = (data: ChargeData, deliveredKg: number, input: StageInput): number => {
  const { charge } = input.plan;
  if (runsBack(data, deliveredKg)) return input.plan.ticket.ports === 1 ? ONE_PORT_MS : charge.stallMs;
  return heaterFitted(input) ? charge.helpMs : charge.stallWaitMs;
};

/** A tank that is shut or short of liquid is not helped by warming it. */
const NO_HELP: readonly string[] = ['charge-stalled-supply', 'charge-stalled-dip-tube'];

/** Whether there is time left for help, and sensors to see it by. */
const mayHelp = (data: ChargeData, { plan, seen }: StageInput): boolean =>
  seen.tankPa !== undefined &&
  seen.highSidePa !== undefined &&
  (data.assist?.spentMs ?? 0) < plan.charge.assistMs &&
  (data.assist?.rounds ?? 0) < plan.charge.assists;

/** Waits that only cooled the vehicle: after so many the engine is the better help. */
const COOLING_ROUNDS = 2;

/** What helps a flow that has ended, if anything: another wait, or the engine. */
export function helpFor(data: ChargeData, deliveredKg: number, input: StageInput): Step | undefined {
  if (data.told.some((code) => NO_HELP.includes(code))) return undefined;
  const { assist } = data;
  const waits = mayHelp(data, input);
  const enough = assist !== undefined && !assist.heats && assist.rounds >= COOLING_ROUNDS;
  if ((enough || !waits) && mayUseEngine(data, input)) return beginEngineHelp(data, input);
  return waits ? beginHelp(at(data, 'cushion', input.nowMs), deliveredKg, input) : undefined;
}

/** Nothing flows through the open valve: tank and hose have one pressure, and what their sensors differ by is seen. */
function beginHelp(data: ChargeData, deliveredKg: number, input: StageInput): Step {
  const { seen } = input;
  const evenPa = (seen.tankPa ?? 0) - (seen.highSidePa ?? 0);
  const engine = engineParts(input);
  const heats = heaterFitted(input) && !atLimit(input) && data.assist?.heats !== false && !engine;
  const assist = newAssist(data.assist, deliveredKg, evenPa, heats, input);
  const helped = { ...data, assist };
  if (engine) {
    const { told, notices } = tellEngine(helped, deliveredKg, input);
    return { data: { ...helped, told }, wanted: HIGH_OPEN, notices };
  }
  const code = heats ? 'charge-waits-heating' : 'charge-waits-cooling';
  return { data: helped, wanted: HIGH_OPEN, notices: [{ code, with: { charged: grams(deliveredKg) } }] };
}

/** One scan of the wait, up to the weighing that ends it. */
export function stepHelp(data: ChargeData, assist: ChargeAssist, input: StageInput): Step {
  const { nowMs, plan } = input;
  // The liquid in the manifold gets a way out first, so that no full segment is shut in.
  if (data.step === 'cushion') {
    return nowMs - data.stepSinceMs < plan.charge.cushionMs
      ? { data, wanted: HIGH_OPEN }
      : { data: { ...data, step: 'weigh-still', weighing: undefined }, wanted: SAFE_COMMANDS };
  }
  if (data.step === 'weigh-still') {
    return whenWeighed(data, input, (weighing, _, still) => ({
      data: { ...weighing, step: 'heat', stepSinceMs: nowMs, assist: { ...assist, still, markAtMs: nowMs } },
      wanted: SAFE_COMMANDS,
    }));
  }
  return heat(data, assist, input);
}

function heat(data: ChargeData, assist: ChargeAssist, input: StageInput): Step {
  const { plan, nowMs, permitted, seen } = input;
  const { charge } = plan;
  const gapPa = gapOf(assist, input);
  if (gapPa === undefined) return weighAgain(data, assist, false, input);
  if (isReady(assist, gapPa, data.mostKg > 0, input)) return weighAgain(data, assist, true, input);
  if (assist.spentMs + nowMs - assist.sinceMs > charge.assistMs)
    return weighAgain(data, assist, false, input);
  const cools = { ...assist, heats: false, markGapPa: gapPa, markAtMs: nowMs };
  const heldBack = !permitted.tankHeater.on && nowMs - data.stepSinceMs > HELD_MS;
  if (assist.heats && (heldBack || atLimit(input))) return wait(data, cools);
  if (assist.markGapPa === undefined) return wait(data, { ...assist, markGapPa: gapPa });
  if (nowMs - assist.markAtMs < charge.lookAgainMs) return wait(data, assist);
  const tankPa = seen.tankPa ?? 0;
  if (assist.heats && tankPa - (assist.markPa ?? tankPa) < charge.heatedPa + roomWarmsPa(input)) {
    const notice = { code: 'tank-heater-no-effect', with: { minutes: minutes(charge.lookAgainMs) } } as const;
    return { ...wait(data, cools), notices: [notice] };
  }
  const coolsNoFurther = !assist.heats && gapPa - assist.markGapPa < charge.cooledPa;
  return coolsNoFurther
    ? weighAgain(data, assist, false, input)
    : wait(data, { ...assist, markPa: tankPa, markGapPa: gapPa, markAtMs: nowMs });
}

/** A warmer room warms 8 kg in a bare cylinder, of 4 W/K, by this share of the difference from look to look (estimate). */
const ROOM_SHARE = 0.1;

function roomWarmsPa({ seen: { ambientK, tankTemperatureK }, plan: { curve } }: StageInput): number {
  if (ambientK === undefined || tankTemperatureK === undefined || ambientK < tankTemperatureK) return 0;
  const warmedK = tankTemperatureK + ROOM_SHARE * (ambientK - tankTemperatureK);
  return saturationPa(curve, warmedK) - saturationPa(curve, tankTemperatureK);
}

const wait = (data: ChargeData, assist: ChargeAssist): Step => ({
  data: { ...data, assist },
  wanted: assist.heats ? HEAT : SAFE_COMMANDS,
});

const weighAgain = (
  data: ChargeData,
  assist: ChargeAssist,
  helped: boolean,
  { nowMs }: StageInput,
): Step => ({
  data: {
    ...data,
    step: 'weigh-again',
    stepSinceMs: nowMs,
    weighing: undefined,
    assist: { ...assist, helped },
  },
  wanted: SAFE_COMMANDS,
});

/** So much dew dries off a cold tank, and a scale drifts so far (estimates); beyond it something has moved. */
const NO_REFRIGERANT_KG = 0.05;
/** A charge valve that leaks fills a manifold which is not known to be empty: less is believed then (estimate). */
const DOUBTFUL_KG = 0.012;

/** The wait is over: weighings from before it are moved by what the scale shows of it. */
export function afterWait(
  data: ChargeData,
  assist: ChargeAssist,
  input: StageInput,
  again: Weighing,
): { data: ChargeData; accounts: Accounts } {
  const { accounts, equipment, nowMs } = input;
  const { still } = assist;
  const done = { ...assist, spentMs: assist.spentMs + nowMs - assist.sinceMs };
  const waited = { ...data, assist: done };
  if (still === undefined) return { data: waited, accounts };
  const shiftKg = gainOf(still, again, equipment, accounts.hoseForce).massKg;
  const believedKg = data.mostKg > 0 ? DOUBTFUL_KG : NO_REFRIGERANT_KG;
  if (Math.abs(shiftKg) > believedKg) return { data: waited, accounts };
  const moved = (weighing: Weighing | undefined): Weighing | undefined =>
    weighing === undefined ? undefined : acrossStandstill(weighing, still, again);
  return {
    data: { ...waited, reference: moved(data.reference) },
    accounts: {
      ...accounts,
      weighed: moved(accounts.weighed),
      weighedBeforeCharge: moved(accounts.weighedBeforeCharge),
    },
  };
}

/**
 * The hose keeps the liquid of before the wait, as cold as the vehicle and with no vapour to it, until as much as it holds
 * has followed: for what it will hold, the tank counts as no warmer than that.
 */
export function asHoseFilled(
  { assist }: ChargeData,
  deliveredKg: number,
  vehiclePa: number | undefined,
  input: StageInput,
): StageInput {
  const { plan, seen, equipment } = input;
  const { tankTemperatureK } = seen;
  if (!assist?.helped || vehiclePa === undefined || tankTemperatureK === undefined) return input;
  const coldK = Math.min(tankTemperatureK, saturationK(plan.curve, vehiclePa));
  const { highVolumeM3, manifoldVolumeM3 } = equipment.hoses;
  const fullKg = (highVolumeM3 + manifoldVolumeM3) * liquidDensityKgPerM3(plan.curve, coldK);
  return assist.fromKg > 0 && deliveredKg - assist.fromKg < fullKg
    ? { ...input, seen: { ...seen, tankTemperatureK: coldK } }
    : input;
}

/** A warmed tank leaves more liquid in the hose than a tank of the vehicle's own warmth (estimate); what is too much is drawn back. */
const MORE_KG = 0.02;

export const moreForHelp = ({ assist, drawsBack }: ChargeData): number =>
  drawsBack && assist?.helped === true ? MORE_KG : 0;

/** How far the tank stands above the vehicle, the difference of the two sensors taken out. */
const gapOf = ({ evenPa }: ChargeAssist, { seen }: StageInput): number | undefined =>
  seen.tankPa === undefined || seen.highSidePa === undefined
    ? undefined
    : seen.tankPa - seen.highSidePa - evenPa;

/**
 * A heated tank must also be warmer than the vehicle, or the charge stalls again with the next few grams: the vehicle holds
 * vapour and rises with them. Each further round asks for more, because the sensors may be off.
 */
function isReady({ heats, rounds, evenPa }: ChargeAssist, gapPa: number, begun: boolean, input: StageInput) {
  const { plan, seen, accounts } = input;
  const { charge } = plan;
  if (!heats) return gapPa >= charge.apartPa;
  // The high-side sensor was zeroed against the vacuum; through it the tank's is known too.
  const tankPa = (seen.tankPa ?? 0) - (begun ? evenPa + accounts.highSideZeroPa : 0);
  const warmPa = saturationPa(plan.curve, vehicleK(input) + charge.warmerK * rounds);
  return gapPa >= charge.heatedApartPa * rounds && tankPa >= warmPa;
}
