// Fast run-time properties of one refrigerant, built from its equation of state at start-up.
import type { Fluid } from './fluid.ts';
import {
  newPropertyState,
  newSaturationState,
  type PropertyState,
  type SaturationState,
} from './property-state.ts';
import { SaturationSplines } from './saturation-splines.ts';
import { SinglePhaseGrid } from './single-phase-grid.ts';
import { TemperatureGuess } from './temperature-guess.ts';
import { diluteGasViscosityPaS } from './viscosity.ts';

const LOWEST_TEMPERATURE_K = 170;
const HIGHEST_TEMPERATURE_K = 410;
const HIGHEST_DENSITY_KG_PER_M3 = 1600;
const TEMPERATURE_CELLS = 160;
const DENSITY_CELLS = 200;
/** Viscosity is nearly straight over temperature: linear interpolation errs by less than 1e-6. */
const VISCOSITY_STEP_K = 1;

/** The last Newton step of a flash is applied along the tangent when it is shorter than this. */
const TANGENT_STEP_K = 1e-2;
/** An energy that falls into the hairline between two regions of the tables belongs to the temperature of the seam. */
const SEAM_K = 1e-8;
/** Rounding may carry a state at the very end of the tables so far beyond it. */
const END_K = 1e-6;
const MAX_FLASH_STEPS = 60;

/** Property tables over (density, temperature); the tests hold them to the exact equation. */
export class FluidTables {
  readonly fluid: Fluid;
  readonly minimumTemperatureK: number;
  readonly maximumTemperatureK = HIGHEST_TEMPERATURE_K;
  /** Zero density is allowed: pressure 0, ideal-gas energy. */
  readonly minimumDensityKgPerM3 = 0;
  readonly maximumDensityKgPerM3 = HIGHEST_DENSITY_KG_PER_M3;
  readonly #criticalTemperatureK: number;
  readonly #criticalDensity: number;
  readonly #saturation: SaturationSplines;
  readonly #grid: SinglePhaseGrid;
  readonly #guess: TemperatureGuess;
  readonly #viscosities: Float64Array;
  /** ln(p) at the ends of the saturation line. */
  readonly #logPressureSpan: readonly [number, number];

  constructor(fluid: Fluid) {
    this.fluid = fluid;
    this.minimumTemperatureK = Math.max(LOWEST_TEMPERATURE_K, fluid.minimumTemperatureK);
    const tc = fluid.criticalTemperatureK;
    this.#criticalTemperatureK = tc;
    this.#criticalDensity = fluid.criticalDensityKgPerM3;
    const saturation = new SaturationSplines(fluid, this.minimumTemperatureK);
    this.#saturation = saturation;
    this.#logPressureSpan = [
      Math.log(saturation.pressure(this.minimumTemperatureK)),
      Math.log(saturation.pressure(tc)),
    ];
    const shape = {
      minimumTemperatureK: this.minimumTemperatureK,
      maximumTemperatureK: this.maximumTemperatureK,
      temperatureCells: TEMPERATURE_CELLS,
      maximumDensityKgPerM3: this.maximumDensityKgPerM3,
      densityCells: DENSITY_CELLS,
    };
    const step = (this.maximumTemperatureK - this.minimumTemperatureK) / TEMPERATURE_CELLS;
    this.#grid = new SinglePhaseGrid(fluid.equation, shape, (row) => {
      const warmest = Math.min(this.minimumTemperatureK + (row + 1) * step, tc);
      return {
        upToDensity: saturation.vapourDensity(warmest),
        fromDensity: saturation.liquidDensity(warmest),
      };
    });
    const viscosityNodes =
      Math.ceil((this.maximumTemperatureK - this.minimumTemperatureK) / VISCOSITY_STEP_K) + 1;
    this.#viscosities = Float64Array.from({ length: viscosityNodes }, (_, i) =>
      diluteGasViscosityPaS(fluid.diluteGasViscosity, this.minimumTemperatureK + i * VISCOSITY_STEP_K),
    );
    this.#guess = new TemperatureGuess(this, newPropertyState());
  }

  /**
   * The equilibrium state at a density and temperature, with its first derivatives.
   * @throws RangeError outside the tables, which the range fields bound
   */
  evaluate(densityKgPerM3: number, temperatureK: number, out: PropertyState): void {
    if (
      !(
        densityKgPerM3 >= 0 &&
        densityKgPerM3 <= HIGHEST_DENSITY_KG_PER_M3 &&
        temperatureK >= this.minimumTemperatureK &&
        temperatureK <= HIGHEST_TEMPERATURE_K
      )
    ) {
      throw this.#outOfRange(`${densityKgPerM3} kg/m³ and ${temperatureK} K`);
    }
    if (this.#saturation.covers(densityKgPerM3, temperatureK)) {
      this.#saturation.fillMixture(densityKgPerM3, temperatureK, out);
    } else {
      this.#grid.fill(densityKgPerM3, temperatureK, out);
      out.quality = densityKgPerM3 < this.#criticalDensity ? 1 : 0;
    }
  }

  /**
   * The equilibrium state at a density and internal energy. Answers its temperature in kelvin and fills `out`;
   * pressure follows the last step along its tangent, the derivatives are those at most 10 mK beside.
   * @throws RangeError outside the tables
   */
  flash(densityKgPerM3: number, internalEnergyJPerKg: number, out: PropertyState): number {
    if (!(densityKgPerM3 >= 0 && densityKgPerM3 <= HIGHEST_DENSITY_KG_PER_M3)) {
      throw this.#outOfRange(`${densityKgPerM3} kg/m³`);
    }
    let low = this.minimumTemperatureK;
    let high = HIGHEST_TEMPERATURE_K;
    let t = this.#guess.at(densityKgPerM3, internalEnergyJPerKg);
    for (let i = 0; i < MAX_FLASH_STEPS; i++) {
      this.evaluate(densityKgPerM3, t, out);
      const step = (internalEnergyJPerKg - out.internalEnergyJPerKg) / out.dUdT;
      let next = t + step;
      if (step < TANGENT_STEP_K && step > -TANGENT_STEP_K) {
        if (next < this.minimumTemperatureK - END_K || next > HIGHEST_TEMPERATURE_K + END_K) break;
        if (this.#stepAlongTangent(densityKgPerM3, t, next, out)) return this.#within(next);
      }
      if (step > 0) low = t;
      else high = t;
      if (high - low < SEAM_K) {
        if (low === this.minimumTemperatureK || high === HIGHEST_TEMPERATURE_K) break;
        return t;
      }
      if (!(next > low && next < high)) next = (low + high) / 2;
      t = next;
    }
    throw this.#outOfRange(`${densityKgPerM3} kg/m³ and ${internalEnergyJPerKg} J/kg`);
  }

  /** Whether liquid and vapour coexist there. */
  isMixture(densityKgPerM3: number, temperatureK: number): boolean {
    return this.#saturation.covers(densityKgPerM3, temperatureK);
  }

  /**
   * Saturated liquid and vapour at a temperature.
   * @throws RangeError below the tables or above the critical temperature
   */
  saturation(temperatureK: number, out: SaturationState): void {
    if (!(temperatureK >= this.minimumTemperatureK && temperatureK <= this.#criticalTemperatureK)) {
      throw new RangeError(
        `${this.fluid.name} has no saturation at ${temperatureK} K in the tables: ` +
          `give ${this.minimumTemperatureK} to ${this.#criticalTemperatureK.toFixed(2)} K`,
      );
    }
    this.#saturation.fillSaturation(temperatureK, out);
  }

  /**
   * The temperature at which the vapour pressure is the given one.
   * @throws RangeError outside the saturation line of the tables
   */
  saturationTemperatureK(pressurePa: number): number {
    const [lowest, highest] = this.#logPressureSpan;
    const wanted = Math.log(pressurePa);
    if (!(wanted >= lowest && wanted <= highest)) {
      throw new RangeError(
        `${this.fluid.name} has no saturation at ${pressurePa} Pa in the tables: ` +
          `give ${Math.ceil(Math.exp(lowest))} to ${Math.floor(Math.exp(highest))} Pa`,
      );
    }
    // ln p is nearly straight over 1/T, so Newton runs in these two.
    const tMin = this.minimumTemperatureK;
    const tc = this.#criticalTemperatureK;
    const scratch = newSaturationState();
    let inverse = 1 / tMin + ((wanted - lowest) / (highest - lowest)) * (1 / tc - 1 / tMin);
    for (let i = 0; i < 8; i++) {
      const t = Math.min(Math.max(1 / inverse, tMin), tc);
      this.#saturation.fillSaturation(t, scratch);
      const step = ((wanted - Math.log(scratch.pressurePa)) * scratch.pressurePa) / (t * t * scratch.dPdT);
      inverse = 1 / t - step;
      if (Math.abs(step) < 1e-13) break;
    }
    return Math.min(Math.max(1 / inverse, tMin), tc);
  }

  /** Viscosity of the thin vapour, by the dilute-gas correlation named in the fluid's data. */
  vapourViscosityPaS(temperatureK: number): number {
    const x = (temperatureK - this.minimumTemperatureK) / VISCOSITY_STEP_K;
    const i = Math.min(Math.max(x | 0, 0), this.#viscosities.length - 2);
    const near = this.#viscosities[i]!;
    return near + (x - i) * (this.#viscosities[i + 1]! - near);
  }

  #within(temperatureK: number): number {
    return Math.min(Math.max(temperatureK, this.minimumTemperatureK), HIGHEST_TEMPERATURE_K);
  }

  /** Moves `out` from t to next, unless the dome's border lies between them. */
  #stepAlongTangent(density: number, t: number, next: number, out: PropertyState): boolean {
    const before = out.quality > 0 && out.quality < 1;
    if (this.#saturation.covers(density, next) !== before) return false;
    const step = next - t;
    out.pressurePa += out.dPdT * step;
    out.internalEnergyJPerKg += out.dUdT * step;
    if (before) out.quality = this.#saturation.quality(density, next);
    return true;
  }

  #outOfRange(given: string): RangeError {
    return new RangeError(
      `${this.fluid.name} at ${given} is outside the property tables: ` +
        `${this.minimumTemperatureK} to ${HIGHEST_TEMPERATURE_K} K, 0 to ${HIGHEST_DENSITY_KG_PER_M3} kg/m³`,
    );
  }
}
