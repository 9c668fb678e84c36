// What the pressure of a shut vehicle says while someone searches for a leak: compensated for the weather, and honest
// about what it cannot show. Vapour alone follows p/T, 0.34 % per kelvin at 20 °C; above liquid the saturation curve.
import { GAS_CONSTANT_J_PER_MOL_K, SURE } from '../constants.ts';
import type { Equipment } from '../equipment.ts';
import type { SaturationCurve } from '../saturation.ts';
import { molarMassKgPerMol, saturationPa } from './saturation.ts';

export type WatchSaid =
  /** No fall that the sensors could tell from the weather. */
  | 'steady'
  /** A fall: a leak, or oil that takes up refrigerant. */
  | 'fell'
  /** There may be liquid: it holds the pressure whatever is lost. */
  | 'saturated'
  | 'unknown';

/** Pressure and temperature of one moment. */
export type Look = { readonly pa: number; readonly ambientK: number | undefined; readonly atMs: number };

export type PressureWatch = {
  readonly said: WatchSaid;
  readonly fromPa: number;
  readonly minutes: number;
  /** Beyond what the change of the weather explains. */
  readonly fallPa?: number;
  /** A loss below this could not have shown itself in that time. */
  readonly limitKgPerYear?: number;
};

/** Metal follows the room by and by: so much may the vehicle have cooled unseen (estimate). */
const UNSEEN_K = 1;
/** A gauge wanders and steps by this share of its deviation within the time of a search (estimate). */
const WANDER_SHARE = 0.3;
/** A large vehicle with its hoses (estimate). */
const VEHICLE_M3 = 4e-3;
const SECONDS_PER_YEAR = 365.25 * 86_400;

export function watched(
  from: Look,
  to: Look | undefined,
  curve: SaturationCurve,
  equipment: Equipment,
): PressureWatch {
  const minutes = ((to?.atMs ?? from.atMs) - from.atMs) / 60_000;
  const base = { fromPa: from.pa, minutes };
  if (to === undefined || from.ambientK === undefined || to.ambientK === undefined || !(minutes > 0))
    return { ...base, said: 'unknown' };
  if (mayHoldLiquid(from.pa, from.ambientK, curve, equipment)) return { ...base, said: 'saturated' };
  const fallPa = (from.pa * to.ambientK) / from.ambientK - to.pa;
  const doubtPa = Math.hypot(
    (from.pa * UNSEEN_K) / from.ambientK,
    WANDER_SHARE * equipment.pressure.highSideSdPa,
  );
  const kgPerPa = (VEHICLE_M3 * molarMassKgPerMol(curve)) / (GAS_CONSTANT_J_PER_MOL_K * from.ambientK);
  const limitKgPerYear = (doubtPa * kgPerPa * SECONDS_PER_YEAR) / (minutes * 60);
  return { ...base, said: fallPa > doubtPa ? 'fell' : 'steady', fallPa, limitKgPerYear };
}

/** Nearer to saturation than gauge and thermometer are sure of: liquid cannot be excluded. */
function mayHoldLiquid(
  pa: number,
  ambientK: number,
  curve: SaturationCurve,
  { pressure, temperatureSdK }: Equipment,
): boolean {
  const coldestK = ambientK - UNSEEN_K - SURE * temperatureSdK;
  return pa + SURE * pressure.highSideSdPa >= saturationPa(curve, coldestK);
}
