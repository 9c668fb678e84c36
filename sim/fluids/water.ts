// Water as the bench meets it: vapour pressure over liquid and ice, latent heats, and its vapour as an ideal gas.

/** Triple point, ITS-90. */
const WATER_TRIPLE_POINT_K = 273.16;

/**
 * Gas constant from IAPWS-95 (461.51805 J/(kg·K)); cp of the thin vapour near 300 K, 1864 J/(kg·K), the ideal-gas
 * value, within 1 % from −50 to 95 °C.
 */
export const WATER_VAPOUR = {
  gasConstantJPerKgK: 461.51805,
  cpJPerKgK: 1864,
  cvJPerKgK: 1864 - 461.51805,
} as const;

/**
 * Energies of condensed water, zero for liquid at 0 °C: heat capacities near 0 °C and heats of evaporation and fusion
 * there (IAPWS-95 and IAPWS R10-06 for ice). With constant heat capacities the latent heat is straight over
 * temperature, and within 0.3 % of the tables from −40 to 60 °C.
 */
export const CONDENSED_WATER = {
  freezingK: 273.15,
  liquidHeatJPerKgK: 4200,
  iceHeatJPerKgK: 2050,
  fusionJPerKg: 333_430,
  evaporationJPerKg: 2_500_900,
} as const;

/** What the energy of vapour, counted as cv·T, lacks on the scale of condensed water, J/kg. */
export const VAPOUR_ENERGY_OFFSET_J_PER_KG =
  CONDENSED_WATER.evaporationJPerKg - WATER_VAPOUR.cpJPerKgK * CONDENSED_WATER.freezingK;

const CRITICAL_TEMPERATURE_K = 647.096;
const CRITICAL_PRESSURE_PA = 22.064e6;
/** Vapour pressure and its slope with temperature. */
type VapourPressure = { readonly pressurePa: number; readonly dPdT: number };

/**
 * Over liquid: Wagner and Pruss, J. Phys. Chem. Ref. Data 22 (1993) 783-787 (IAPWS SR1-86(1992)), from the triple
 * point to the critical point; smooth below, where liquid is supercooled, and used there as an extrapolation.
 */
function overLiquid(temperatureK: number): VapourPressure {
  const theta = 1 - temperatureK / CRITICAL_TEMPERATURE_K;
  const root = Math.sqrt(theta);
  const cube = theta * theta * theta;
  // Exponents 1, 1.5, 3, 3.5, 4 and 7.5, spelt out because this runs for every wet node in every step.
  const a1 = -7.85951783 * theta;
  const a2 = 1.84408259 * theta * root;
  const a3 = -11.7866497 * cube;
  const a4 = 22.6807411 * cube * root;
  const a5 = -15.9618719 * cube * theta;
  const a6 = 1.80122502 * cube * cube * theta * root;
  const slope = (a1 + 1.5 * a2 + 3 * a3 + 3.5 * a4 + 4 * a5 + 7.5 * a6) / theta;
  const logRatio = (CRITICAL_TEMPERATURE_K / temperatureK) * (a1 + a2 + a3 + a4 + a5 + a6);
  const pressurePa = CRITICAL_PRESSURE_PA * Math.exp(logRatio);
  return { pressurePa, dPdT: (-pressurePa * (logRatio + slope)) / temperatureK };
}

/** Over ice: Murphy and Koop, Q. J. R. Meteorol. Soc. 131 (2005) 1539-1565, eq. (7), above 110 K. */
function overIce(temperatureK: number): VapourPressure {
  const log = Math.log(temperatureK);
  const pressurePa = Math.exp(9.550426 - 5723.265 / temperatureK + 3.53068 * log - 0.00728332 * temperatureK);
  const logSlope = 5723.265 / temperatureK ** 2 + 3.53068 / temperatureK - 0.00728332;
  return { pressurePa, dPdT: pressurePa * logSlope };
}

/** The stable phase decides: ice below the triple point, liquid above. The curves meet there within 1e-6. */
function stable(temperatureK: number): VapourPressure {
  return temperatureK < WATER_TRIPLE_POINT_K ? overIce(temperatureK) : overLiquid(temperatureK);
}

/** Vapour pressure over the stable phase, Pa, from 110 K to below the critical temperature. */
export const waterVapourPressurePa = (temperatureK: number): number => stable(temperatureK).pressurePa;

/** Slope of `waterVapourPressurePa`, Pa/K. */
export const waterVapourPressureSlope = (temperatureK: number): number => stable(temperatureK).dPdT;

/**
 * Latent heat of evaporation or, over ice, of sublimation, J/kg: Clapeyron with ideal vapour and no condensed
 * volume. That is 0.2 % high at 25 °C and 1 % high at 80 °C.
 */
export function waterLatentHeatJPerKg(temperatureK: number): number {
  const { pressurePa, dPdT } = stable(temperatureK);
  return (WATER_VAPOUR.gasConstantJPerKgK * temperatureK * temperatureK * dPdT) / pressurePa;
}

/**
 * The temperature at which the stable phase has this vapour pressure, K.
 * @throws RangeError outside 0.001 Pa to 10 MPa
 */
export function waterSaturationTemperatureK(pressurePa: number): number {
  if (!(pressurePa >= 1e-3 && pressurePa <= 1e7)) {
    throw new RangeError(
      `no saturation temperature of water at ${pressurePa} Pa: give 0.001 to 10 000 000 Pa`,
    );
  }
  let inverse = 1 / WATER_TRIPLE_POINT_K;
  for (let i = 0; i < 50; i++) {
    const t = 1 / inverse;
    const point = stable(t);
    const step = (Math.log(pressurePa / point.pressurePa) * point.pressurePa) / (t * t * point.dPdT);
    inverse -= step;
    if (Math.abs(step) < 1e-15) break;
  }
  return 1 / inverse;
}

/**
 * Viscosity of thin water vapour, Pa·s: dilute-gas term of IAPWS R12-08, valid from 0 °C up; below, an extrapolation
 * that stays smooth.
 */
export function waterVapourViscosityPaS(temperatureK: number): number {
  const t = temperatureK / CRITICAL_TEMPERATURE_K;
  const sum = 1.67752 + (2.20462 + (0.6366564 - 0.241605 / t) / t) / t;
  return (1e-4 * Math.sqrt(t)) / sum;
}
