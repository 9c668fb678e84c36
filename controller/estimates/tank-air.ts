// Air in the tank, by how far it stands above the vapour pressure of what it holds.
import type { SaturationCurve } from '../saturation.ts';
import { saturationPa } from './saturation.ts';
import type { Seen } from './seen.ts';

/** As read, with whatever the two sensors are off; unknown while one of them is. */
export function tankExcessPa({ tankPa, tankTemperatureK }: Seen, curve: SaturationCurve): number | undefined {
  if (tankPa === undefined || tankTemperatureK === undefined) return undefined;
  return tankPa - saturationPa(curve, tankTemperatureK);
}
