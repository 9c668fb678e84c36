// Vapour pressure of water and ice, for what a vacuum says about moisture.

import { ZERO_CELSIUS_K } from '../constants.ts';
/** At the triple point, 0.01 °C. */
export const TRIPLE_POINT_PA = 611.7;
/**
 * A thermal sensor, calibrated in air, shows so many times the pressure of water vapour (vacuum literature, from memory),
 * and some 1.3 times that of a refrigerant.
 */
export const WATER_READS = 1.8;

/**
 * Saturation pressure in pascal over ice below 0 °C and over water above: improved Magnus form of Alduchov and Eskridge,
 * J. Appl. Meteorol. 35 (1996) 601, within 0.4 % from −40 to 50 °C.
 */
export function waterVapourPa(temperatureK: number): number {
  const celsius = temperatureK - ZERO_CELSIUS_K;
  return celsius < 0
    ? 611.21 * Math.exp((22.587 * celsius) / (273.86 + celsius))
    : 610.94 * Math.exp((17.625 * celsius) / (243.04 + celsius));
}
