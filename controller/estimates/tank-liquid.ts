// The liquid in the tank: what of a net mass lies over the dip tube, and how much net mass keeps the tube covered.
import { ROOM_K } from '../constants.ts';
import type { Equipment } from '../equipment.ts';
import type { SaturationCurve } from '../saturation.ts';
import { liquidDensityKgPerM3, vapourDensityKgPerM3 } from './saturation.ts';

type Room = Pick<Equipment['tank'], 'waterCapacityM3'>;
type Tank = Pick<Equipment['tank'], 'waterCapacityM3' | 'reserveKg' | 'temperatureLimitK'>;

/** Liquid in a tank of this net mass, kg; the rest is vapour in all the room above it. Air counts as none. */
export function tankLiquidKg(
  netKg: number,
  { waterCapacityM3 }: Room,
  temperatureK: number,
  curve: SaturationCurve,
): number {
  const vapour = vapourDensityKgPerM3(curve, temperatureK);
  const excessKg = netKg - vapour * waterCapacityM3;
  return Math.max(0, excessKg / (1 - vapour / liquidDensityKgPerM3(curve, temperatureK)));
}

/**
 * Net mass at which the tank holds its reserve of liquid and not a gram more, kg. Reckoned no colder than a room, because
 * a cold tank warms while the job runs, and for the hottest tank there may be when nobody knows how hot it is.
 */
export function reserveNetKg(tank: Tank, temperatureK: number | undefined, curve: SaturationCurve): number {
  const warmK = Math.max(temperatureK ?? tank.temperatureLimitK, ROOM_K);
  const vapour = vapourDensityKgPerM3(curve, warmK);
  const vapourM3 = tank.waterCapacityM3 - tank.reserveKg / liquidDensityKgPerM3(curve, warmK);
  return tank.reserveKg + vapour * vapourM3;
}
