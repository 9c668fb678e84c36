// What the scale shows after a job was cut off against how it stood at the journal's last words, and whether what was open then
// can have brought it. Nobody watched the platform meanwhile: what somebody has put there weighs like refrigerant.
import { type Gain, gainOf, type Weighing } from './estimates/masses.ts';
import { hoseGaugePa } from './estimates/pressures.ts';
import type { Output } from './signals.ts';
import type { ControllerState } from './state.ts';

export type Found = Gain & {
  /** By what was open, or by the doubt of both looks. Else somebody has touched the platform, or it is another tank. */
  readonly isExplained: boolean;
};

/** A look at the scale's median is so many times less sure than one of its readings is noisy (estimate). */
const LOOK_FACTOR = 2;
/** Of the difference of two looks, hose force and drift taken out (estimate). */
const DOUBT_SD = 3;
const LEAST_DOUBT_KG = 0.01;
/** More flows through no path of the machine before its journal writes again (estimate). */
const MOST_FLOWN_KG = 0.5;
/** A condenser drips into the tank for so long after its compressor (estimate). */
const DRIPS_MS = 300_000;

const INTO: readonly Output[] = ['recoveryValve', 'compressor'];
const OUT: readonly Output[] = ['chargeValve', 'airPurgeValve'];

/** The scale as it stood when the journal was last written; absent where it was not to be trusted then. */
function lastLook({ estimates, seen, equipment, memory }: ControllerState): Weighing | undefined {
  const { scale, drift } = estimates;
  if (scale.trust !== 'trusted' || seen === undefined) return undefined;
  return {
    counts: scale.counts,
    meanSdKg: LOOK_FACTOR * equipment.scale.noiseKg,
    offsetKg: scale.offsetKg,
    bumps: scale.bumps,
    undecidedVarianceKg2: scale.undecidedVarianceKg2,
    hoseGaugePa: hoseGaugePa(seen),
    hoseDoubtPa: estimates.joined.apartPa / 2,
    ambientK: seen.ambientK,
    cellWarmerK: estimates.cellWarmerK,
    driftKgPerS: drift.kgPerS,
    atMs: memory.lastScanMs,
  };
}

type Ways = { readonly into: boolean; readonly out: boolean };

/** Which way something may have passed since: what was open then, and what the journal's last line was about to open. */
function waysOpen({ estimates, memory }: ControllerState, opening: readonly string[]): Ways {
  const { path, underWay } = estimates.scale;
  const stoodMs = memory.lastScanMs - (memory.compressorOffSinceMs ?? memory.lastScanMs);
  const opens = (outputs: readonly Output[]): boolean => outputs.some((output) => opening.includes(output));
  return {
    into: path === 'into-tank' || underWay === 'into-tank' || stoodMs < DRIPS_MS || opens(INTO),
    out: path === 'out-of-tank' || underWay === 'out-of-tank' || opens(OUT),
  };
}

/**
 * @param journal what the controller knew in its last scan before the cut.
 * @param opening what the journal's very last line was about to open.
 * @param known a weighing that stands in the place of the journal's own look, where that had not been taken yet.
 * @param weighed the tank now, every path shut.
 * @returns absent where one of the two looks is not to be had.
 */
export function foundAfterCut(
  journal: ControllerState,
  opening: readonly string[],
  known: Weighing | undefined,
  weighed: Weighing | undefined,
): Found | undefined {
  const before = known ?? lastLook(journal);
  if (before === undefined || weighed === undefined) return undefined;
  const { offsetKg, undecidedVarianceKg2 } = before;
  const after = { ...weighed, offsetKg, undecidedVarianceKg2, bumps: before.bumps + 1 };
  const gain = gainOf(before, after, journal.equipment, journal.accounts.hoseForce);
  const { into, out } = waysOpen(journal, opening);
  const doubtKg = Math.max(LEAST_DOUBT_KG, DOUBT_SD * gain.sdKg);
  const mostKg = into ? MOST_FLOWN_KG : doubtKg;
  const leastKg = out ? -MOST_FLOWN_KG : -doubtKg;
  return { ...gain, isExplained: gain.massKg <= mostKg && gain.massKg >= leastKg };
}
