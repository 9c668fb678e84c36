// Masses from pairs of weighings, and how sure they are.
import type { Equipment } from '../equipment.ts';
import { netMassKg } from './scale.ts';

/** One weighing with every path to the tank shut. */
export type Weighing = {
  /** Mean raw counts, so that the mass can be reckoned again with another calibration. */
  readonly counts: number;
  readonly meanSdKg: number;
  readonly offsetKg: number;
  readonly bumps: number;
  /** Mean hose pressure above ambient while weighing. */
  readonly hoseGaugePa: number;
  readonly ambientK: number | undefined;
  readonly atMs: number;
};

/** Force of the hoses on the platform, as learnt on this machine or as the equipment states it. */
export type HoseForce = { readonly kgPerPa: number; readonly sdKgPerPa: number };

/** Each accepted bump leaves this much doubt (estimate). */
const BUMP_SD_KG = 0.003;
/** Room and cell warm apart by this much even when the ambient probe reads the same (estimate). */
const HIDDEN_DRIFT_K = 0.3;

/** Gain of the tank between two weighings, with one standard deviation. */
export function gainOf(
  before: Weighing,
  after: Weighing,
  equipment: Equipment,
  force: HoseForce,
): { readonly massKg: number; readonly sdKg: number } {
  const { scale } = equipment;
  const hosePa = after.hoseGaugePa - before.hoseGaugePa;
  const massKg =
    netMassKg(after.counts, equipment) -
    netMassKg(before.counts, equipment) -
    (after.offsetKg - before.offsetKg) -
    force.kgPerPa * hosePa;
  const warmedK =
    before.ambientK === undefined || after.ambientK === undefined ? 1 : after.ambientK - before.ambientK;
  const sdKg = Math.hypot(
    before.meanSdKg,
    after.meanSdKg,
    scale.spanErrorSd * massKg,
    scale.creepSd * massKg,
    scale.zeroDriftKgPerKSd * Math.hypot(warmedK, HIDDEN_DRIFT_K),
    force.sdKgPerPa * hosePa,
    BUMP_SD_KG * Math.sqrt(after.bumps - before.bumps),
  );
  return { massKg, sdKg };
}

/** Learns the hose force from two weighings between which nothing moved but the hose pressure. */
export function hoseForceFrom(
  before: Weighing,
  after: Weighing,
  equipment: Equipment,
): HoseForce | undefined {
  const { scale } = equipment;
  const hosePa = after.hoseGaugePa - before.hoseGaugePa;
  const stepKg = netMassKg(after.counts, equipment) - netMassKg(before.counts, equipment);
  const stepSdKg = Math.hypot(before.meanSdKg, after.meanSdKg, scale.noiseKg);
  const kgPerPa = stepKg / hosePa;
  const sdKgPerPa = stepSdKg / Math.abs(hosePa);
  const believable = after.bumps === before.bumps && Math.abs(kgPerPa) < 4 * scale.hoseForceKgPerPaSd;
  return believable && sdKgPerPa < scale.hoseForceKgPerPaSd ? { kgPerPa, sdKgPerPa } : undefined;
}
