// Looks up the plain saturation table.
import type { SaturationCurve } from '../../controller/saturation.ts';

/** Linear in temperature; outside the table the nearest end. */
export function liquidDensityKgPerM3(curve: SaturationCurve, temperatureK: number): number {
  const { temperatureK: temperatures, liquidDensityKgPerM3: densities } = curve;
  const above = temperatures.findIndex((temperature) => temperature >= temperatureK);
  if (above === 0) return densities[0]!;
  if (above === -1) return densities.at(-1)!;
  const [low, high] = [temperatures[above - 1]!, temperatures[above]!];
  const share = (temperatureK - low) / (high - low);
  return densities[above - 1]! + share * (densities[above]! - densities[above - 1]!);
}
