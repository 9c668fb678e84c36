// How much has left the tank for the vehicle since that was last empty: told by scale and vacuum alone, not by the sequence.
import { SURE } from '../constants.ts';
import type { Equipment } from '../equipment.ts';
import { mostInCondenserKg } from '../estimates/condenser.ts';
import { liquidDensityKgPerM3 } from '../estimates/saturation.ts';
import type { SaturationCurve } from '../saturation.ts';

export type GivenWatch = {
  /** What the tank held when the vehicle was last empty, or later when more came out of the vehicle than was in it. */
  readonly fromKg: number | undefined;
  /** A vacuum has been seen in the vehicle: before, nobody knows what is in it. */
  readonly emptied: boolean;
  /** Something has been drawn since: separator and condenser keep a part of it, which the scale counts as given. */
  readonly drawn: boolean;
  /** Since it was last empty the tank has been opened to it: what stands in it is what was given. */
  readonly fed: boolean;
  /** Since when it has stood above a vacuum though nothing was given. */
  readonly filledSinceMs: number | undefined;
  /** The high-side hose shows pressure though nothing was given: the vehicle behind it is not the one that was empty. */
  readonly pressed: boolean;
  readonly spent: boolean;
};

export type GivenInput = {
  /** What the scale shows; absent while it is not trusted. */
  readonly tankKg: number | undefined;
  /** The absolute sensor shows a vacuum through an open hose: nothing is in the vehicle. */
  readonly empty: boolean;
  /** It shows more than a vacuum there. */
  readonly holds: boolean;
  /** The high-side hose surely stands above the atmosphere, whether its valve is open or shut. */
  readonly pressed: boolean;
  /** The charge valve is open, or was a moment ago. */
  readonly feeds: boolean;
  /** The compressor draws, or has a moment ago. */
  readonly draws: boolean;
  readonly mostKg: number;
  /** What may not have arrived of what was drawn. */
  readonly keptKg: number;
};

export const NOTHING_GIVEN: GivenWatch = {
  fromKg: undefined,
  emptied: false,
  drawn: false,
  fed: false,
  filledSinceMs: undefined,
  pressed: false,
  spent: false,
};

/** Hoses and manifold that were no vacuum have evened out with a vehicle that is one (estimate). */
const EVEN_MS = 3_000;

/** Published tolerance of a charge (SAE J2788) and as much again for the scale's own error (estimate). */
const TOLERANCE_KG = 0.03;
const HOSES_PRESS_PA = 600_000;
/** What the separator may keep of what was drawn: vapour and some that boils (estimate). */
const SEPARATOR_KEEPS_KG = 0.05;
/** The zero of a scale wanders by less than this within a scan or a minute. */
const SAME_KG = 0.001;

/**
 * Nominal charge, high-side hose and manifold full of liquid (no tank liquid ever gets to the low side), and what the scale
 * may be off by while hoses press on it.
 */
export function mostGivenKg(
  nominalChargeKg: number,
  { hoses }: Pick<Equipment, 'hoses'>,
  hoseForceSdKgPerPa: number,
  curve: SaturationCurve,
  ambientK: number,
): number {
  const roomM3 = hoses.highVolumeM3 + hoses.manifoldVolumeM3;
  const keptKg = roomM3 * liquidDensityKgPerM3(curve, ambientK);
  return nominalChargeKg + keptKg + TOLERANCE_KG + SURE * HOSES_PRESS_PA * hoseForceSdKgPerPa;
}

/** What separator and condenser may keep of what was drawn: the one vapour, the other full of liquid. */
export const mostKeptKg = (equipment: Pick<Equipment, 'compressor'>): number =>
  mostInCondenserKg(equipment) + SEPARATOR_KEEPS_KG;

export function watchGiven(watch: GivenWatch, input: GivenInput, nowMs: number): GivenWatch {
  const { tankKg, empty, draws, feeds, mostKg, keptKg } = input;
  const fed = !empty && (watch.fed || feeds);
  const pressed = input.pressed && !empty && !fed;
  const filledSinceMs = (input.holds || pressed) && !fed ? (watch.filledSinceMs ?? nowMs) : undefined;
  // Air, or what the oil gave off: whatever it is, nobody knows any more how much is in the vehicle.
  const filled = nowMs - (filledSinceMs ?? nowMs) >= EVEN_MS;
  const emptied = empty || (watch.emptied && !filled);
  const drawn = !empty && (watch.drawn || (emptied && draws));
  const { fromKg } = watch;
  const restarted = tankKg !== undefined && (fromKg === undefined || restarts(tankKg - fromKg, empty, draws));
  const nextKg = restarted ? tankKg : fromKg;
  // A figure that is no number never permits.
  const spent =
    tankKg === undefined ? watch.spent : !((nextKg ?? Number.NaN) - tankKg <= mostKg + (drawn ? keptKg : 0));
  const same =
    nextKg === fromKg &&
    spent === watch.spent &&
    emptied === watch.emptied &&
    drawn === watch.drawn &&
    fed === watch.fed &&
    pressed === watch.pressed &&
    filledSinceMs === watch.filledSinceMs;
  return same ? watch : { fromKg: nextKg, emptied, drawn, fed, filledSinceMs, pressed, spent };
}

/** With so much more in the tank than it counts from: an empty vehicle sets it, what is drawn out of one can only raise it. */
const restarts = (moreKg: number, empty: boolean, draws: boolean): boolean =>
  empty ? !(Math.abs(moreKg) < SAME_KG) : draws && moreKg >= SAME_KG;

export type Given = 'some-left' | 'spent' | 'unknown';

export const givenOf = ({ emptied, pressed, spent }: GivenWatch): Given =>
  spent ? 'spent' : emptied && !pressed ? 'some-left' : 'unknown';
