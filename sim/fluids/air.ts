// Dry air as an ideal gas, and the standard atmosphere.

/**
 * Gas constant of ISO 2533 (8.31432 J/(mol·K), 28.964420 g/mol). cp is that of dry air near 300 K, 1005 J/(kg·K),
 * a handbook value that holds within 0.5 % from −50 to 95 °C.
 */
export const AIR = {
  gasConstantJPerKgK: 287.05287,
  cpJPerKgK: 1005,
  cvJPerKgK: 1005 - 287.05287,
} as const;

/**
 * Viscosity of air, Pa·s, by Sutherland's law with the constants of ISO 2533 and the U.S. Standard Atmosphere 1976:
 * β = 1.458e-6 kg/(m·s·K^½), S = 110.4 K.
 */
export const airViscosityPaS = (temperatureK: number): number =>
  (1.458e-6 * temperatureK * Math.sqrt(temperatureK)) / (temperatureK + 110.4);

export const STANDARD_ATMOSPHERE_PA = 101_325;

/**
 * Barometric pressure at a geopotential altitude in the troposphere (−2000 to 11 000 m), ISO 2533: 15 °C at sea
 * level and 6.5 K less each kilometre.
 */
export function barometerPa(altitudeM: number): number {
  const lapseKPerM = 0.0065;
  const exponent = 9.80665 / (lapseKPerM * AIR.gasConstantJPerKgK);
  return STANDARD_ATMOSPHERE_PA * (1 - (lapseKPerM * altitudeM) / 288.15) ** exponent;
}
