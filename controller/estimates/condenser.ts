// What stays in the machine's condenser: a coil colder than the tank keeps the last grams of every draw.
// Method: once little flows, what the compressor has drawn by its displacement and the scale does not show is in the coil.
// Figures are estimates for a small finned coil and a small reciprocating compressor.
import { GAS_CONSTANT_J_PER_MOL_K, SURE } from '../constants.ts';
import type { SaturationCurve } from '../saturation.ts';
import {
  evaporationJPerKg,
  molarMassKgPerMol,
  saturationK,
  saturationPa,
  vapourDensityKgPerM3,
} from './saturation.ts';

/** No coil of this size keeps more (estimate). */
const MOST_IN_COIL_KG = 0.15;
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
  /** What the scale had shown of this run by then. */
  readonly shownKg: number;
  /** Coil above the room, by the heat of what came. */
  readonly coilWarmerK: number;
};

/** `shownKg` is what the scale shows already, of something else than this run. */
export const startCount = (atMs: number, shownKg = 0): DrawCount => ({
  atMs,
  pushedEmpty: false,
  drawnKg: 0,
  totalKg: 0,
  shownKg,
  coilWarmerK: 0,
});

export type CountInput = {
  readonly curve: SaturationCurve;
  readonly nowMs: number;
  readonly running: boolean;
  readonly suctionPa: number | undefined;
  readonly tankPa: number | undefined;
  readonly tankSdPa: number;
  readonly ambientK: number | undefined;
  readonly temperatureSdK: number;
  readonly sweptM3PerS: number;
  readonly fanStopped: boolean;
  /** Of this run on the scale so far, and what comes there now. */
  readonly shownKg: number;
};

/** Brings the count up to now; nothing is counted while a pressure or a temperature is unknown. */
export function countDraw(count: DrawCount, input: CountInput): DrawCount {
  const { curve, nowMs, running, suctionPa, tankPa, ambientK, sweptM3PerS } = input;
  const seconds = (nowMs - count.atMs) / 1000;
  const idle = !running || suctionPa === undefined || !(suctionPa > 0);
  if (idle || tankPa === undefined || ambientK === undefined) return { ...count, atMs: nowMs };
  const dischargePa = Math.min(tankPa, saturationPa(curve, ambientK + drownedWarmerK(count, input)));
  const inletPa = suctionPa * (1 - SUCTION_LOSS * filledShare(suctionPa, dischargePa) ** 2);
  const flow = drawKgPerS(curve, { suctionPa: inletPa, dischargePa, ambientK, sweptM3PerS });
  const lostW = (input.fanStopped ? COIL_STILL_W_PER_K : COIL_W_PER_K) * count.coilWarmerK;
  const heatW = flow * (evaporationJPerKg(curve, ambientK) + HOT_GAS_J_PER_KG);
  const warmedK = count.coilWarmerK + ((heatW - lostW) * seconds) / COIL_J_PER_K;
  const pushesK = pushesFromK(input, tankPa) - ambientK;
  const coilWarmerK = Math.min(warmedK, Math.max(pushesK, 0) + MOST_WARMER_K);
  const totalKg = count.totalKg + flow * seconds;
  return coilWarmerK > pushesK
    ? { atMs: nowMs, pushedEmpty: true, drawnKg: 0, totalKg, shownKg: input.shownKg, coilWarmerK }
    : { ...count, atMs: nowMs, drawnKg: count.drawnKg + flow * seconds, totalKg, coilWarmerK };
}

/** What this run has left in the coil takes surface away, and the rest becomes so much warmer. */
function drownedWarmerK({ coilWarmerK, drawnKg, shownKg }: DrawCount, input: CountInput): number {
  const drowned = Math.max(drawnKg + shownKg - input.shownKg, 0) / MOST_IN_COIL_KG;
  return coilWarmerK / Math.max(1 - drowned, LEAST_SURFACE);
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

/** Liquid in the coil, and one standard deviation. */
export type Kept = {
  readonly kg: number;
  readonly sdKg: number;
  /** How often it was pushed empty: what was there before is of no matter then. */
  readonly pushes: number;
};

export const NOTHING_KEPT: Kept = { kg: 0, sdKg: 0.001, pushes: 0 };

/** Displacement against the truth: volumetric efficiency and gas density are known no better (estimate). */
const DISPLACEMENT_SD = 0.03;
/** Gauges, hoses and the shaking platform while the scale is read in a run (estimate). */
const SHOWN_SD_KG = 0.0005;

/** After a run: what came by displacement and did not arrive, on top of what was there. */
export function keptAfterRun(count: DrawCount, arrivedKg: number, before: Kept): Kept {
  const from = count.pushedEmpty ? { ...NOTHING_KEPT, pushes: before.pushes + 1 } : before;
  const sdKg = DISPLACEMENT_SD * count.drawnKg + SHOWN_SD_KG;
  return keptOf(from, count.drawnKg, arrivedKg - count.shownKg, sdKg);
}

/** Of the change between: what was there stays in both, unless it was pushed out. */
export const keptChangeSdKg = (before: Kept, after: Kept): number =>
  after.pushes > before.pushes
    ? Math.hypot(before.sdKg, after.sdKg)
    : Math.sqrt(Math.max(after.sdKg ** 2 - before.sdKg ** 2, 0));

/** The same for a known mass. */
export const keptOf = (before: Kept, broughtKg: number, arrivedKg: number, sdKg: number): Kept => ({
  kg: Math.min(Math.max(before.kg + broughtKg - arrivedKg, 0), MOST_IN_COIL_KG),
  sdKg: Math.hypot(before.sdKg, sdKg),
  pushes: before.pushes,
});

/** A reciprocating compressor of this clearance and exponent (estimates, common for small machines). */
const CLEARANCE = 0.05;
const EXPONENT = 1.1;

/** What the compressor draws at a suction pressure, in kg/s: volumetric efficiency by re-expansion. */
export function drawKgPerS(
  curve: SaturationCurve,
  { suctionPa, dischargePa, ambientK, sweptM3PerS }: DrawInput,
): number {
  const densityKgPerM3 = suctionDensityKgPerM3(curve, suctionPa, ambientK);
  return sweptM3PerS * filledShare(suctionPa, dischargePa) * densityKgPerM3;
}

function filledShare(suctionPa: number, dischargePa: number): number {
  const ratio = Math.max(dischargePa / suctionPa, 1);
  return Math.max(1 + CLEARANCE - CLEARANCE * ratio ** (1 / EXPONENT), 0);
}

/** Between thin vapour, ideal, and saturated vapour straight over the pressure: the second virial coefficient. */
function suctionDensityKgPerM3(curve: SaturationCurve, pressurePa: number, temperatureK: number): number {
  const kgPerM3Pa = molarMassKgPerMol(curve) / (GAS_CONSTANT_J_PER_MOL_K * temperatureK);
  const saturatedPa = saturationPa(curve, temperatureK);
  const denser = vapourDensityKgPerM3(curve, temperatureK) / (kgPerM3Pa * saturatedPa) - 1;
  return kgPerM3Pa * pressurePa * (1 + denser * Math.min(pressurePa / saturatedPa, 1));
}

export type DrawInput = {
  readonly suctionPa: number;
  readonly dischargePa: number;
  readonly ambientK: number;
  readonly sweptM3PerS: number;
};
