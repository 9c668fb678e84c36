// Where tank and vehicle stand in the diagrams, by the saturation line of their refrigerant.
import type { Dome, Snapshot } from '../../shown.ts';
import type { VehicleView } from '../../shown-class.ts';

/** Less liquid than this is a film that no gauge tells from none. */
const WET_KG = 1e-3;

/** Where a rising list comes to a value: the place after it and the share of the step before it. */
function placeIn(list: readonly number[], value: number): Place | undefined {
  const above = list.findIndex((one) => one >= value);
  if (above < 1) return undefined;
  return [above, (value - list[above - 1]!) / (list[above]! - list[above - 1]!)];
}

type Place = readonly [number, number];
const at = (list: readonly number[], [above, share]: Place): number =>
  list[above - 1]! + share * (list[above]! - list[above - 1]!);

type State = { readonly temperatureK: number; readonly pressurePa: number; readonly jPerKg: number };

/**
 * The vehicle as one vessel. With liquid in it its vapour is saturated: its density tells the temperature. Without, it
 * stands at the temperature of the air as an ideal gas, which is a few per cent off.
 */
function stateOf(vehicle: VehicleView, dome: Dome, ambientK: number): State | undefined {
  const { liquidKg, vapourKg, volumeM3 } = vehicle;
  const warm = placeIn(dome.temperatureK, ambientK);
  if (warm === undefined || vapourKg <= 0) return undefined;
  const vapourM3 = volumeM3 - liquidKg / at(dome.liquidDensityKgPerM3, warm);
  const density = vapourKg / vapourM3;
  const saturated = placeIn(dome.vapourDensityKgPerM3, density);
  const ambientDensity = at(dome.vapourDensityKgPerM3, warm);
  if (liquidKg < WET_KG && density < ambientDensity)
    return {
      temperatureK: ambientK,
      pressurePa: (at(dome.pressurePa, warm) * density) / ambientDensity,
      jPerKg: at(dome.vapourJPerKg, warm),
    };
  if (saturated === undefined) return undefined;
  const quality = vapourKg / (vapourKg + liquidKg);
  const liquidJPerKg = at(dome.liquidJPerKg, saturated);
  return {
    temperatureK: at(dome.temperatureK, saturated),
    pressurePa: at(dome.pressurePa, saturated),
    jPerKg: liquidJPerKg + quality * (at(dome.vapourJPerKg, saturated) - liquidJPerKg),
  };
}

export const vehicleState = ({ vehicle, ambientK }: Snapshot, dome: Dome): State | undefined =>
  vehicle === undefined || ambientK === undefined ? undefined : stateOf(vehicle, dome, ambientK);

/** Enthalpy of what stands in a vessel: its mean density shares it between the two phases of its temperature. */
export function mixed(dome: Dome, temperatureK: number, densityKgPerM3: number): number | undefined {
  const place = placeIn(dome.temperatureK, temperatureK);
  if (place === undefined) return undefined;
  const [liquid, vapour] = [
    1 / at(dome.liquidDensityKgPerM3, place),
    1 / at(dome.vapourDensityKgPerM3, place),
  ];
  const quality = Math.min(Math.max((1 / densityKgPerM3 - liquid) / (vapour - liquid), 0), 1);
  return (
    at(dome.liquidJPerKg, place) + quality * (at(dome.vapourJPerKg, place) - at(dome.liquidJPerKg, place))
  );
}
