// Air in the tank, by how far it stands above the vapour pressure of what it holds.
import { SURE } from '../constants.ts';
import type { Equipment } from '../equipment.ts';
import type { SaturationCurve } from '../saturation.ts';
import { saturationPa } from './saturation.ts';
import type { Seen } from './seen.ts';

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
