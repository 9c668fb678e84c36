// What stays in the machine's condenser: a coil colder than the tank keeps the last grams of every draw.
// Method: once little flows, what the compressor has drawn by its displacement and the scale does not show is in the coil.
// Figures are estimates for a small finned coil and a small reciprocating compressor.
import { GAS_CONSTANT_J_PER_MOL_K, SURE } from '../constants.ts';
import type { Equipment } from '../equipment.ts';
import type { SaturationCurve } from '../saturation.ts';
import { type Suction, watchSuction } from './draw-proof.ts';
import {
  evaporationJPerKg,
  liquidDensityKgPerM3,
  molarMassKgPerMol,
  saturationK,
  saturationPa,
  vapourDensityKgPerM3,
} from './saturation.ts';

/** Share of the coil that condenses even then (estimate). */
const LEAST_SURFACE = 0.1;
const COIL_J_PER_K = 800;
const COIL_W_PER_K = 40;
const COIL_STILL_W_PER_K = 6;
/** Hot gas gives this up before it condenses (estimate). */
const HOT_GAS_J_PER_KG = 40_000;
/** Of the pressure at the hoses, what the flow of a full cylinder costs in valves, separator and filter (estimate). */
const SUCTION_LOSS = 0.07;
/** A check valve and the line to the tank want this much more (estimate). */
const PUSHES_PA = 10_000;
/** And once it passes on what comes, the coil hardly gets any warmer (estimate). */
const MOST_WARMER_K = 0.5;

/** One run of the compressor, as far as it may leave liquid in the coil. */
export type DrawCount = {
  readonly atMs: number;
  /** So much came, so warm was the coil, that nothing can have stayed in it: the rest is counted from there. */
  readonly pushedEmpty: boolean;
  /** Drawn by displacement since then, or since the start. */
  readonly drawnKg: number;
  /** Drawn by displacement since the start, whatever became of it. */
  readonly totalKg: number;
  /** One standard deviation of `drawnKg`. */
  readonly drawnSdKg: number;
  /** What the scale had shown of this run by then, and at which pressure of the hoses above ambient. */
  readonly shownKg: number;
  readonly hoseGaugePa: number | undefined;
  /** Coil above the room, by the heat of what came. */
  readonly coilWarmerK: number;
  /** What the scale showed when the run began. */
  readonly fromShownKg: number;
  readonly suction: Suction | undefined;
};

/** `shownKg` is what the scale shows already, of something else than this run. */
export const startCount = (atMs: number, shownKg = 0): DrawCount => ({
  atMs,
  pushedEmpty: false,
  drawnKg: 0,
  totalKg: 0,
  drawnSdKg: 0,
  shownKg,
  hoseGaugePa: undefined,
  coilWarmerK: 0,
  fromShownKg: shownKg,
  suction: undefined,
});

export type CountInput = {
  readonly curve: SaturationCurve;
  readonly nowMs: number;
  readonly running: boolean;
  readonly suctionPa: number | undefined;
  /** One standard deviation of it, as a share. */
  readonly suctionSdShare: number;
  /** A side sensor tells it: the absolute one on the manifold has no value. */
  readonly suctionByGauge?: boolean;
  /** And the other side stands elsewhere: nobody knows which of the two is drawn on. */
  readonly suctionApart?: boolean;
  /** The absolute sensor tells it now, and every gauge says something else. */
  readonly suctionDenied?: boolean;
  readonly tankPa: number | undefined;
  readonly tankSdPa: number;
  readonly ambientK: number | undefined;
  readonly temperatureSdK: number;
  readonly sweptM3PerS: number;
  readonly condenserM3: number;
  readonly fanStopped: boolean;
  /** Of this run on the scale so far. */
  readonly shownKg: number;
  readonly hoseGaugePa: number;
  /** What earlier runs have left in the coil. */
  readonly coilKg: number;
};

/** What the temperature of the room makes of the fluid. */
type Room = {
  readonly curve: SaturationCurve;
  readonly ambientK: number;
  readonly evaporationJPerKg: number;
  /** Of a coil full of liquid. */
  readonly liquidKgPerM3: number;
  readonly saturatedPa: number;
  /** Density of thin vapour over its pressure, and by which share saturated vapour is denser. */
  readonly kgPerM3Pa: number;
  readonly denser: number;
};

function newRoom(curve: SaturationCurve, ambientK: number): Room {
  const saturatedPa = saturationPa(curve, ambientK);
  const kgPerM3Pa = molarMassKgPerMol(curve) / (GAS_CONSTANT_J_PER_MOL_K * ambientK);
  return {
    curve,
    ambientK,
    evaporationJPerKg: evaporationJPerKg(curve, ambientK),
    liquidKgPerM3: liquidDensityKgPerM3(curve, ambientK),
    saturatedPa,
    kgPerM3Pa,
    denser: vapourDensityKgPerM3(curve, ambientK) / (kgPerM3Pa * saturatedPa) - 1,
  };
}

let lastRoom: Room | undefined;

/** The last answer is kept: the stage and the interlocks count the same draw in the same room, ten times a second. */
function roomOf(curve: SaturationCurve, ambientK: number): Room {
  if (lastRoom?.curve !== curve || lastRoom.ambientK !== ambientK) lastRoom = newRoom(curve, ambientK);
  return lastRoom;
}

/** Brings the count up to now; nothing is counted while a pressure or a temperature is unknown. */
export function countDraw(before: DrawCount, input: CountInput): DrawCount {
  const { curve, nowMs, running, suctionPa, tankPa, ambientK, sweptM3PerS, shownKg } = input;
  const suction = watchSuction(before.suction, input);
  const count = { ...before, suction, hoseGaugePa: before.hoseGaugePa ?? input.hoseGaugePa };
  const seconds = (nowMs - count.atMs) / 1000;
  const idle = !running || suctionPa === undefined || !(suctionPa > 0);
  if (idle || tankPa === undefined || ambientK === undefined) {
    return { ...count, atMs: nowMs, coilWarmerK: running ? count.coilWarmerK : cooled(count, seconds) };
  }
  const room = roomOf(curve, ambientK);
  const coilK = ambientK + drownedWarmerK(count, input, room);
  const dischargePa = Math.min(tankPa, saturationPa(curve, coilK));
  const inletPa = suctionPa * (1 - SUCTION_LOSS * filledShare(suctionPa, dischargePa) ** 2);
  const filled = filledShare(inletPa, dischargePa);
  const flow = sweptM3PerS * filled * suctionDensityKgPerM3(room, inletPa);
  const coilWarmerK = warmed(count, flow * seconds, seconds, input, room);
  const totalKg = count.totalKg + flow * seconds;
  const pushesK = pushesFromK(input, tankPa) - ambientK;
  if (coilWarmerK > pushesK)
    return {
      ...startCount(nowMs, shownKg),
      pushedEmpty: true,
      totalKg,
      fromShownKg: count.fromShownKg,
      suction,
      hoseGaugePa: input.hoseGaugePa,
      coilWarmerK: Math.min(coilWarmerK, Math.max(pushesK, 0) + MOST_WARMER_K),
    };
  const sdShare = Math.hypot(drawSdShare(filled, input.temperatureSdK), input.suctionSdShare);
  return {
    ...count,
    atMs: nowMs,
    drawnKg: count.drawnKg + flow * seconds,
    totalKg,
    drawnSdKg: count.drawnSdKg + sdShare * flow * seconds,
    coilWarmerK,
  };
}

/** The coil above the room after so much more has come. */
function warmed(
  { coilWarmerK }: DrawCount,
  cameKg: number,
  seconds: number,
  { fanStopped }: CountInput,
  room: Room,
): number {
  const lostJ = (fanStopped ? COIL_STILL_W_PER_K : COIL_W_PER_K) * coilWarmerK * seconds;
  const heatJ = cameKg * (room.evaporationJPerKg + HOT_GAS_J_PER_KG);
  return coilWarmerK + (heatJ - lostJ) / COIL_J_PER_K;
}

/** The same after a time in which the compressor stood: the fan runs then. */
const cooled = ({ coilWarmerK }: DrawCount, seconds: number): number =>
  coilWarmerK * Math.exp((-COIL_W_PER_K * seconds) / COIL_J_PER_K);

/** What came by displacement and the scale does not show, on top of what earlier runs have left in the coil. */
export const inCoilKg = (
  { drawnKg, shownKg, pushedEmpty }: Pick<DrawCount, 'drawnKg' | 'shownKg' | 'pushedEmpty'>,
  now: Pick<CountInput, 'shownKg' | 'coilKg'>,
): number => Math.max((pushedEmpty ? 0 : now.coilKg) + drawnKg + shownKg - now.shownKg, 0);

/** Liquid that stays in the coil takes surface away, and the rest becomes so much warmer. */
function drownedWarmerK(count: DrawCount, input: CountInput, room: Room): number {
  const drowned = inCoilKg(count, input) / (input.condenserM3 * room.liquidKgPerM3);
  return count.coilWarmerK / Math.max(1 - drowned, LEAST_SURFACE);
}

/**
 * From this temperature on the coil surely pushes its liquid into the tank. The tank's pressure holds against it, of air
 * as well; its thermometer follows the warm liquid that comes minutes late.
 */
function pushesFromK({ curve, tankSdPa, temperatureSdK }: CountInput, tankPa: number): number {
  const heldK = saturationK(curve, tankPa + PUSHES_PA);
  const paPerK = saturationPa(curve, heldK + 0.5) - saturationPa(curve, heldK - 0.5);
  return heldK + SURE * Math.hypot(temperatureSdK, tankSdPa / paPerK);
}

/** Displacement against the truth: volumetric efficiency and gas density are known no better (estimate). */
const DISPLACEMENT_SD = 0.015;
/** How much warmer than the room the coil is, so drowned as it is (estimate). */
const COIL_SD_K = 0.3;
/** A kelvin of the coil changes its saturation pressure by this share (R-134a and R-1234yf at room temperature, REFPROP 10). */
const PRESSURE_SHARE_PER_K = 0.028;

/** Of a draw that dead space lets hardly through, a little more or less pressure in the coil makes much. */
function drawSdShare(filled: number, temperatureSdK: number): number {
  const dischargeSdShare = PRESSURE_SHARE_PER_K * Math.hypot(temperatureSdK, COIL_SD_K);
  const expanded = 1 + CLEARANCE - filled;
  return Math.min(Math.hypot(DISPLACEMENT_SD, ((expanded / EXPONENT) * dischargeSdShare) / filled), 1);
}

/** Liquid at 0 °C (R-134a: 1295 kg/m³; R-1234yf less). */
const COLD_LIQUID_KG_PER_M3 = 1_295;

/** The condenser full of cold liquid: as much comes into the tank yet after the compressor has stopped. */
export const mostInCondenserKg = ({ compressor }: Pick<Equipment, 'compressor'>): number =>
  compressor.condenserM3 * COLD_LIQUID_KG_PER_M3;

/** A reciprocating compressor of this clearance and exponent (estimates, common for small machines). */
const CLEARANCE = 0.05;
const EXPONENT = 1.1;

/** What the compressor draws at a suction pressure, in kg/s: volumetric efficiency by re-expansion. */
export function drawKgPerS(
  curve: SaturationCurve,
  { suctionPa, dischargePa, ambientK, sweptM3PerS }: DrawInput,
): number {
  const densityKgPerM3 = suctionDensityKgPerM3(roomOf(curve, ambientK), suctionPa);
  return sweptM3PerS * filledShare(suctionPa, dischargePa) * densityKgPerM3;
}

function filledShare(suctionPa: number, dischargePa: number): number {
  const ratio = Math.max(dischargePa / suctionPa, 1);
  return Math.max(1 + CLEARANCE - CLEARANCE * ratio ** (1 / EXPONENT), 0);
}

/** Between thin vapour, ideal, and saturated vapour straight over the pressure: the second virial coefficient. */
const suctionDensityKgPerM3 = ({ saturatedPa, kgPerM3Pa, denser }: Room, pressurePa: number): number =>
  kgPerM3Pa * pressurePa * (1 + denser * Math.min(pressurePa / saturatedPa, 1));

export type DrawInput = {
  readonly suctionPa: number;
  readonly dischargePa: number;
  readonly ambientK: number;
  readonly sweptM3PerS: number;
};
