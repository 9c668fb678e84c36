// Exact evaluation of a Helmholtz equation of state at temperature and density.
import { type IdealData, idealPart, type ResidualData, ResidualTerms } from './terms.ts';

export type EquationData = {
  readonly reducingTemperatureK: number;
  readonly reducingDensityKgPerM3: number;
  readonly ideal: IdealData;
  readonly residual: ResidualData;
};

/** All properties of one homogeneous state, stable or metastable. Energies and entropy in the IIR reference state. */
export type HomogeneousState = {
  readonly temperatureK: number;
  readonly densityKgPerM3: number;
  readonly pressurePa: number;
  readonly internalEnergyJPerKg: number;
  readonly enthalpyJPerKg: number;
  readonly entropyJPerKgK: number;
  readonly gibbsEnergyJPerKg: number;
  readonly cvJPerKgK: number;
  readonly cpJPerKgK: number;
  /** Square of the speed of sound; negative inside the spinodal, where no sound travels. */
  readonly soundSpeedSquaredM2PerS2: number;
  /** ∂p/∂T at constant density, Pa/K. */
  readonly dPdT: number;
  /** ∂p/∂ρ at constant temperature, Pa·m³/kg. */
  readonly dPdRho: number;
};

/** Every property follows from the reduced Helmholtz energy α(δ, τ), δ = ρ/ρ_red and τ = T_red/T. */
export class HelmholtzEquation {
  readonly gasConstantJPerKgK: number;
  readonly reducingTemperatureK: number;
  readonly reducingDensityKgPerM3: number;
  readonly residual: ResidualTerms;
  readonly #ideal: IdealData;

  constructor(data: EquationData, gasConstantJPerKgK: number) {
    this.gasConstantJPerKgK = gasConstantJPerKgK;
    this.reducingTemperatureK = data.reducingTemperatureK;
    this.reducingDensityKgPerM3 = data.reducingDensityKgPerM3;
    this.residual = new ResidualTerms(data.residual);
    this.#ideal = data.ideal;
  }

  /** The state at one temperature and density; density must be positive. */
  at(temperatureK: number, densityKgPerM3: number): HomogeneousState {
    return this.isotherm(temperatureK).at(densityKgPerM3);
  }

  /** All states of one temperature, for solvers that try many densities. */
  isotherm(temperatureK: number): Isotherm {
    return new Isotherm(this, temperatureK, this.ideal(temperatureK));
  }

  /** Ideal-gas internal energy and heat capacity at constant volume: the limit of zero density. */
  idealGas(temperatureK: number): { internalEnergyJPerKg: number; cvJPerKgK: number } {
    const tau = this.reducingTemperatureK / temperatureK;
    const { d1, d2 } = this.ideal(temperatureK);
    return {
      internalEnergyJPerKg: this.gasConstantJPerKgK * this.reducingTemperatureK * d1,
      cvJPerKgK: -this.gasConstantJPerKgK * tau * tau * d2,
    };
  }

  /** The ideal part of α without ln δ, and its derivatives in τ. */
  ideal(temperatureK: number): { value: number; d1: number; d2: number } {
    return idealPart(this.#ideal, this.reducingTemperatureK / temperatureK);
  }
}

/** One temperature of the equation, its temperature factors worked out once. */
export class Isotherm {
  readonly temperatureK: number;
  readonly #equation: HelmholtzEquation;
  readonly #ideal: { value: number; d1: number; d2: number };
  readonly #temperatureFactors: Float64Array;
  readonly #densityFactors: Float64Array;

  constructor(
    equation: HelmholtzEquation,
    temperatureK: number,
    ideal: { value: number; d1: number; d2: number },
  ) {
    const { residual } = equation;
    this.temperatureK = temperatureK;
    this.#equation = equation;
    this.#ideal = ideal;
    this.#temperatureFactors = new Float64Array(3 * residual.count);
    this.#densityFactors = new Float64Array(4 * residual.count);
    residual.temperatureFactors(equation.reducingTemperatureK / temperatureK, this.#temperatureFactors);
  }

  at(densityKgPerM3: number): HomogeneousState {
    const { gasConstantJPerKgK: gas, reducingTemperatureK, reducingDensityKgPerM3 } = this.#equation;
    const t = this.temperatureK;
    const tau = reducingTemperatureK / t;
    const delta = densityKgPerM3 / reducingDensityKgPerM3;
    const { a, aD, aDD, aT, aTT, aDT } = this.#residual(delta);

    const pressurePa = densityKgPerM3 * gas * t * (1 + delta * aD);
    const dPdRho = gas * t * (1 + 2 * delta * aD + delta * delta * aDD);
    const dPdT = densityKgPerM3 * gas * (1 + delta * aD - delta * tau * aDT);
    const internalEnergyJPerKg = gas * reducingTemperatureK * (this.#ideal.d1 + aT);
    const alpha = Math.log(delta) + this.#ideal.value + a;
    const entropyJPerKgK = internalEnergyJPerKg / t - gas * alpha;
    const cvJPerKgK = -gas * tau * tau * (this.#ideal.d2 + aTT);
    const stretch = (t * dPdT * dPdT) / (densityKgPerM3 * densityKgPerM3);
    const enthalpyJPerKg = internalEnergyJPerKg + pressurePa / densityKgPerM3;
    return {
      temperatureK: t,
      densityKgPerM3,
      pressurePa,
      internalEnergyJPerKg,
      enthalpyJPerKg,
      entropyJPerKgK,
      gibbsEnergyJPerKg: gas * t * alpha + pressurePa / densityKgPerM3,
      cvJPerKgK,
      cpJPerKgK: cvJPerKgK + stretch / dPdRho,
      soundSpeedSquaredM2PerS2: dPdRho + stretch / cvJPerKgK,
      dPdT,
      dPdRho,
    };
  }

  #residual(delta: number) {
    const g = this.#temperatureFactors;
    const f = this.#densityFactors;
    this.#equation.residual.densityFactors(delta, f);
    let a = 0;
    let aD = 0;
    let aDD = 0;
    let aT = 0;
    let aTT = 0;
    let aDT = 0;
    for (let i = 0, j = 0; i < g.length; i += 3, j += 4) {
      const phi = f[j]!;
      const slope = f[j + 2]!;
      a += phi * g[i]!;
      aD += slope * g[i]!;
      aDD += f[j + 3]! * g[i]!;
      aT += phi * g[i + 1]!;
      aTT += phi * g[i + 2]!;
      aDT += slope * g[i + 1]!;
    }
    return { a: delta * a, aD, aDD, aT: delta * aT, aTT: delta * aTT, aDT };
  }
}
