// Moist air: humidity, enthalpy and dew point, and a coil that cools it and lets its water condense.
import { ZERO_CELSIUS_K } from '../celsius.ts';
import { AIR } from './air.ts';
import { WATER_VAPOUR, waterSaturationTemperatureK, waterVapourPressurePa } from './water.ts';

/** Mass of water vapour to mass of dry air at equal partial pressures, 0.62198. */
const MASS_RATIO = AIR.gasConstantJPerKgK / WATER_VAPOUR.gasConstantJPerKgK;
/**
 * h = cp·t + W·(h_g0 + cp_v·t), t in °C, zero for dry air and liquid water at 0 °C: the form and figures of the ASHRAE
 * Handbook of Fundamentals, Psychrometrics (1.006 and 1.86 kJ/(kg·K), 2501 kJ/kg; from memory).
 */
const DRY_AIR_CP = 1006;
const VAPOUR_CP = 1860;
const VAPOUR_AT_ZERO = 2.501e6;
const STEP_K = 0.05;

/** What a coil does to the air: heat it takes, its slope with the coil's temperature, and the air behind it. */
export type CoilDuty = {
  heatW: number;
  /** −∂heat/∂(coil temperature), W/K. */
  conductanceWPerK: number;
  leavingK: number;
  condensateKgPerS: number;
};

/** Water vapour per dry air, kg/kg, where its partial pressure is `vapourPa`. Ideal gases. */
const ratioOf = (vapourPa: number, pressurePa: number): number =>
  (MASS_RATIO * vapourPa) / (pressurePa - vapourPa);

/** Humidity ratio at a relative humidity of 0 to 1, kg water per kg dry air; saturation over ice below 0 °C. */
export const humidityRatio = (temperatureK: number, relativeHumidity: number, pressurePa: number): number =>
  ratioOf(relativeHumidity * waterVapourPressurePa(temperatureK), pressurePa);

/** J per kg of dry air. */
export function moistEnthalpyJPerKg(temperatureK: number, ratio: number): number {
  const celsius = temperatureK - ZERO_CELSIUS_K;
  return DRY_AIR_CP * celsius + ratio * (VAPOUR_AT_ZERO + VAPOUR_CP * celsius);
}

/** Where air of this humidity ratio begins to give off water (frost point below 0 °C), K. Dry air has none: ratio > 0. */
export const dewPointK = (ratio: number, pressurePa: number): number =>
  waterSaturationTemperatureK((pressurePa * ratio) / (MASS_RATIO + ratio));

/**
 * A coil by bypass factor: the share `effectiveness` of the air comes to the state of the coil's surface, saturated
 * where that lies below the dew point; the rest passes unchanged. Heat and mass transfer with Lewis number 1 (the
 * enthalpy potential of Merkel); the condensate's own enthalpy, some 1 % of the heat, is left out. Valid for air of
 * −20 to 60 °C; frost that would close the coil is not modelled.
 */
export class Coil {
  readonly duty: CoilDuty = { heatW: 0.5, conductanceWPerK: 0.5, leavingK: 0.5, condensateKgPerS: 0.5 };
  readonly #airK: number;
  readonly #ratio: number;
  readonly #enthalpy: number;
  readonly #dewPointK: number;
  readonly #pressurePa: number;
  readonly #treatedKgPerS: number;
  readonly #effectiveness: number;

  /** Air at the inlet, its dry mass flow, and the number of transfer units of the air side. */
  constructor(
    air: { temperatureK: number; relativeHumidity: number; pressurePa: number },
    flowKgPerS: number,
    transferUnits: number,
  ) {
    this.#airK = air.temperatureK;
    this.#pressurePa = air.pressurePa;
    this.#ratio = humidityRatio(air.temperatureK, air.relativeHumidity, air.pressurePa);
    this.#enthalpy = moistEnthalpyJPerKg(air.temperatureK, this.#ratio);
    this.#dewPointK = this.#ratio > 0 ? dewPointK(this.#ratio, air.pressurePa) : 0;
    this.#effectiveness = 1 - Math.exp(-transferUnits);
    this.#treatedKgPerS = flowKgPerS * this.#effectiveness;
  }

  /**
   * The duty at a surface temperature, where `share` of the coil is at work and the rest lets its air pass unchanged;
   * the answer is overwritten by the next call.
   */
  at(surfaceK: number, share = 1): CoilDuty {
    const { duty } = this;
    const treatedKgPerS = share * this.#treatedKgPerS;
    const here = this.#surfaceEnthalpy(surfaceK);
    const slope = (this.#surfaceEnthalpy(surfaceK + STEP_K) - here) / STEP_K;
    duty.heatW = treatedKgPerS * (this.#enthalpy - here);
    duty.conductanceWPerK = treatedKgPerS * slope;
    duty.leavingK = this.#airK - share * this.#effectiveness * (this.#airK - surfaceK);
    duty.condensateKgPerS = treatedKgPerS * (this.#ratio - this.#surfaceRatio(surfaceK));
    return duty;
  }

  #surfaceRatio(surfaceK: number): number {
    return surfaceK < this.#dewPointK ? humidityRatio(surfaceK, 1, this.#pressurePa) : this.#ratio;
  }

  #surfaceEnthalpy(surfaceK: number): number {
    return moistEnthalpyJPerKg(surfaceK, this.#surfaceRatio(surfaceK));
  }
}
