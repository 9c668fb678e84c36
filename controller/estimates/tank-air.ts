// Air in the tank, by how far it stands above the vapour pressure of what it holds.
import { GAS_CONSTANT_J_PER_MOL_K, SURE, ZERO_CELSIUS_K } from '../constants.ts';
import type { Equipment } from '../equipment.ts';
import type { SaturationCurve } from '../saturation.ts';
import { liquidDensityKgPerM3, saturationPa } from './saturation.ts';
import type { Seen } from './seen.ts';
import { tankLiquidKg } from './tank-liquid.ts';

type Sensors = Pick<Equipment, 'temperatureSdK'> & {
  readonly pressure: Pick<Equipment['pressure'], 'tankSdPa'>;
};

/** As read, with whatever the two sensors are off; unknown while one of them is. */
export function tankExcessPa({ tankPa, tankTemperatureK }: Seen, curve: SaturationCurve): number | undefined {
  if (tankPa === undefined || tankTemperatureK === undefined) return undefined;
  return tankPa - saturationPa(curve, tankTemperatureK);
}

/** One standard deviation of that excess: the gauge's error, and the thermometer's by the slope of the curve. */
export function tankExcessSdPa(
  { tankTemperatureK }: Seen,
  { pressure, temperatureSdK }: Sensors,
  curve: SaturationCurve,
): number | undefined {
  if (tankTemperatureK === undefined) return undefined;
  const warmerPa = saturationPa(curve, tankTemperatureK + temperatureSdK);
  return Math.hypot(pressure.tankSdPa, warmerPa - saturationPa(curve, tankTemperatureK));
}

/** How far the tank surely stands above saturation: nothing but air does that in a tank at rest. 0 when unknown. */
export function surelyOverPa(seen: Seen, sensors: Sensors, curve: SaturationCurve): number {
  const excessPa = tankExcessPa(seen, curve);
  const sdPa = tankExcessSdPa(seen, sensors, curve);
  return excessPa === undefined || sdPa === undefined ? 0 : Math.max(0, excessPa - SURE * sdPa);
}

/** How far the tank surely stands below saturation, where liquid and air can only stand at it or above. 0 when unknown. */
export function surelyUnderPa(seen: Seen, sensors: Sensors, curve: SaturationCurve): number {
  const excessPa = tankExcessPa(seen, curve);
  const sdPa = tankExcessSdPa(seen, sensors, curve);
  return excessPa === undefined || sdPa === undefined ? 0 : Math.max(0, -excessPa - SURE * sdPa);
}

/** Air is judged at 65 °F or warmer (SAE J1989, in 40 CFR 82 subpart B appendix A: there after twelve hours). */
const COLDEST_K = ZERO_CELSIUS_K + 18.3;
/** A tank that has come to rest has the temperature of the room, as nearly as the two thermometers tell (estimate). */
const ROOM_WITHIN_K = 1;

/** Whether the tank shows the temperature of a tank that has rested: what liquid, wall and thermometer then share. */
export function tankRests(
  { tankTemperatureK, ambientK }: Seen,
  { temperatureSdK }: Pick<Equipment, 'temperatureSdK'>,
): boolean {
  if (tankTemperatureK === undefined || ambientK === undefined) return false;
  const withinK = ROOM_WITHIN_K + SURE * Math.SQRT2 * temperatureSdK;
  return tankTemperatureK >= COLDEST_K - temperatureSdK && Math.abs(tankTemperatureK - ambientK) <= withinK;
}

const AIR_KG_PER_MOL = 0.028965;

/** Mass of the air that makes this excess in the room over the liquid; ideal gas. */
export function tankAirKg(
  seen: Seen,
  netKg: number,
  { waterCapacityM3 }: Pick<Equipment['tank'], 'waterCapacityM3'>,
  curve: SaturationCurve,
): number | undefined {
  const excessPa = tankExcessPa(seen, curve);
  const { tankTemperatureK } = seen;
  if (excessPa === undefined || tankTemperatureK === undefined) return undefined;
  const liquidKg = tankLiquidKg(netKg, { waterCapacityM3 }, tankTemperatureK, curve);
  const roomM3 = waterCapacityM3 - liquidKg / liquidDensityKgPerM3(curve, tankTemperatureK);
  return (Math.max(0, excessPa) * roomM3 * AIR_KG_PER_MOL) / (GAS_CONSTANT_J_PER_MOL_K * tankTemperatureK);
}
