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
  /** Of all that was taken for refrigerant so far and may lie on the platform. */
  readonly undecidedVarianceKg2: number;
  /** Mean hose pressure above ambient while weighing. */
  readonly hoseGaugePa: number;
  /** How far that is off where the two sides do not agree though they are joined. */
  readonly hoseDoubtPa: number;
  readonly ambientK: number | undefined;
  /** The cell of the scale above the room, by how long the drives ran. */
  readonly cellWarmerK: number;
  /** How fast the zero of the scale was known to run away by then. */
  readonly driftKgPerS: number;
  readonly atMs: number;
};

/** Force of the hoses on the platform, as learnt on this machine or as the equipment states it. */
export type HoseForce = { readonly kgPerPa: number; readonly sdKgPerPa: number };

/** Creep comes by and by: half an hour, for which it is specified, is three times this (estimate). */
export const CREEP_TIME_S = 600;

/** Each accepted bump leaves this much doubt (estimate). */
const BUMP_SD_KG = 0.002;
/** What cell and room may be apart beyond what drives and probe tell (estimate). */
const HIDDEN_DRIFT_K = 0.1;

/** What a tank has gained, with one standard deviation. */
export type Gain = { readonly massKg: number; readonly sdKg: number };

/** Gain of the tank between two weighings. */
export function gainOf(before: Weighing, after: Weighing, equipment: Equipment, force: HoseForce): Gain {
  const { scale } = equipment;
  const hosePa = after.hoseGaugePa - before.hoseGaugePa;
  const massKg =
    netMassKg(after.counts, equipment) -
    netMassKg(before.counts, equipment) -
    (after.offsetKg - before.offsetKg) -
    force.kgPerPa * hosePa;
  const roomK =
    before.ambientK === undefined || after.ambientK === undefined ? 1 : after.ambientK - before.ambientK;
  const warmedK = roomK + after.cellWarmerK - before.cellWarmerK;
  const sdKg = Math.hypot(
    before.meanSdKg,
    after.meanSdKg,
    scale.spanErrorSd * massKg,
    scale.creepSd * massKg,
    scale.zeroDriftKgPerKSd * Math.hypot(warmedK, HIDDEN_DRIFT_K),
    force.sdKgPerPa * hosePa,
    force.kgPerPa * (after.hoseDoubtPa - before.hoseDoubtPa),
    BUMP_SD_KG * Math.sqrt(after.bumps - before.bumps),
    Math.sqrt(Math.abs(after.undecidedVarianceKg2 - before.undecidedVarianceKg2)),
    driftSdKg(before, after),
  );
  return { massKg, sdKg };
}

/** A zero that runs away does not run evenly: two deviations cover it as far as it was seen to go, and two thirds more (estimate). */
const DRIFT_SHARE = 1.67 / 2;

const driftSdKg = (before: Weighing, after: Weighing): number =>
  driftedSdKg(Math.max(before.driftKgPerS, after.driftKgPerS), Math.abs(after.atMs - before.atMs));

const driftedSdKg = (kgPerS: number, ms: number): number => (DRIFT_SHARE * kgPerS * ms) / 1000;

/** What was stated of a gain over so long a time (k = 2), now that the zero is known to run faster than was known then. */
export const withDrift = (
  uncertaintyKg: number,
  overMs: number,
  knownKgPerS: number,
  kgPerS: number,
): number =>
  Math.sqrt(
    uncertaintyKg ** 2 + 4 * (driftedSdKg(kgPerS, overMs) ** 2 - driftedSdKg(knownKgPerS, overMs) ** 2),
  );

/** Learns the hose force from two weighings between which nothing moved but the hose pressure. */
export function hoseForceFrom(
  before: Weighing,
  after: Weighing,
  equipment: Equipment,
): HoseForce | undefined {
  const hosePa = after.hoseGaugePa - before.hoseGaugePa;
  if (after.bumps !== before.bumps || hosePa === 0) return undefined;
  // Whoever leant on the platform at the first weighing may have let go by the second: no new bump, and another offset.
  const letGoKg = after.offsetKg - before.offsetKg;
  const stepKg = netMassKg(after.counts, equipment) - netMassKg(before.counts, equipment) - letGoKg;
  const letGoSdKg = letGoKg === 0 ? 0 : BUMP_SD_KG;
  const stepSdKg = Math.hypot(before.meanSdKg, after.meanSdKg, equipment.scale.noiseKg, letGoSdKg);
  return believable({ kgPerPa: stepKg / hosePa, sdKgPerPa: stepSdKg / Math.abs(hosePa) }, equipment);
}

/** Sums over readings taken while the hose pressure fell and nothing passed the scale. */
export type FallingHose = {
  readonly n: number;
  readonly pa: number;
  readonly kg: number;
  readonly paPa: number;
  readonly paKg: number;
};

export const NO_READINGS: FallingHose = { n: 0, pa: 0, kg: 0, paPa: 0, paKg: 0 };

export const withReading = (sums: FallingHose, pa: number, kg: number): FallingHose => ({
  n: sums.n + 1,
  pa: sums.pa + pa,
  kg: sums.kg + kg,
  paPa: sums.paPa + pa * pa,
  paKg: sums.paKg + pa * kg,
});

/** Overlapping medians, slow noise and drift: so many times the deviation of independent samples (estimate). */
const READING_FACTOR = 3;

/** The same from many readings: the slope of the line through them (least squares). */
export function hoseForceOver(sums: FallingHose, equipment: Equipment): HoseForce | undefined {
  const square = sums.paPa - (sums.pa * sums.pa) / sums.n;
  if (sums.n < 10 || !(square > 0)) return undefined;
  const kgPerPa = (sums.paKg - (sums.pa * sums.kg) / sums.n) / square;
  const sdKgPerPa = (READING_FACTOR * equipment.scale.noiseKg) / Math.sqrt(square);
  return believable({ kgPerPa, sdKgPerPa }, equipment);
}

const believable = (force: HoseForce, { scale }: Equipment): HoseForce | undefined =>
  Math.abs(force.kgPerPa) < 4 * Math.hypot(scale.hoseForceKgPerPaSd, force.sdKgPerPa) ? force : undefined;

/** What was known and what was found, each weighed by its certainty. */
export function surerForce(known: HoseForce, found: HoseForce | undefined): HoseForce {
  if (found === undefined) return known;
  const weight = known.sdKgPerPa ** 2 / (known.sdKgPerPa ** 2 + found.sdKgPerPa ** 2);
  return {
    kgPerPa: known.kgPerPa + weight * (found.kgPerPa - known.kgPerPa),
    sdKgPerPa: Math.sqrt(weight) * found.sdKgPerPa,
  };
}

/**
 * A weighing carried over a time in which nothing passed, between two further weighings: what the scale did meanwhile
 * drops out of a gain that is counted from it, and with it the doubt of bumps and drift; that of two more means comes in.
 */
export const acrossStandstill = (before: Weighing, stoodFrom: Weighing, stoodTo: Weighing): Weighing => {
  const carried = (
    of:
      | 'counts'
      | 'offsetKg'
      | 'bumps'
      | 'undecidedVarianceKg2'
      | 'hoseGaugePa'
      | 'hoseDoubtPa'
      | 'cellWarmerK'
      | 'atMs',
  ): number => before[of] + stoodTo[of] - stoodFrom[of];
  const known =
    before.ambientK !== undefined && stoodFrom.ambientK !== undefined && stoodTo.ambientK !== undefined;
  return {
    counts: carried('counts'),
    meanSdKg: Math.hypot(before.meanSdKg, stoodFrom.meanSdKg, stoodTo.meanSdKg),
    offsetKg: carried('offsetKg'),
    bumps: carried('bumps'),
    undecidedVarianceKg2: carried('undecidedVarianceKg2'),
    hoseGaugePa: carried('hoseGaugePa'),
    hoseDoubtPa: carried('hoseDoubtPa'),
    ambientK: known ? before.ambientK! + stoodTo.ambientK! - stoodFrom.ambientK! : undefined,
    cellWarmerK: carried('cellWarmerK'),
    driftKgPerS: Math.max(before.driftKgPerS, stoodTo.driftKgPerS),
    atMs: stoodTo.atMs,
  };
};
