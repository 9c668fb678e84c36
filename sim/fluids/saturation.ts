// Exact saturation line of an equation of state: equal pressure and equal Gibbs energy of liquid and vapour.
import type { HomogeneousState } from './equation.ts';
import type { Fluid } from './fluid.ts';

export type SaturationPoint = {
  readonly temperatureK: number;
  readonly pressurePa: number;
  /** Slope of the vapour-pressure curve, from the Clapeyron equation, Pa/K. */
  readonly dPdT: number;
  readonly liquid: HomogeneousState;
  readonly vapour: HomogeneousState;
};

/** The nearest the solver goes to the critical point, where the two phases merge. */
const CRITICAL_GAP_K = 1e-3;
const MAX_ITERATIONS = 40;

/** One rung of the ladder of first guesses, over s = √(Tc − T), in which both densities are smooth up to s = 0. */
type Rung = {
  readonly s: number;
  readonly liquid: number;
  readonly liquidSlope: number;
  readonly logVapour: number;
  readonly logVapourSlope: number;
};
const RUNG_STEP = 0.25;

/** Change of a saturated density with temperature along the saturation line, kg/(m³·K). */
export const densitySlope = (state: HomogeneousState, saturationSlopePaPerK: number): number =>
  (saturationSlopePaPerK - state.dPdT) / state.dPdRho;

/** The saturation line of one fluid. Needs no auxiliary equations: it climbs down from the critical point. */
export class SaturationLine {
  readonly minimumTemperatureK: number;
  readonly maximumTemperatureK: number;
  readonly #fluid: Fluid;
  readonly #rungs: Rung[];

  constructor(fluid: Fluid, minimumTemperatureK = fluid.minimumTemperatureK) {
    this.#fluid = fluid;
    this.minimumTemperatureK = minimumTemperatureK;
    this.maximumTemperatureK = fluid.criticalTemperatureK - CRITICAL_GAP_K;
    this.#rungs = [this.#criticalRung()];
    const count = Math.ceil(Math.sqrt(fluid.criticalTemperatureK - minimumTemperatureK) / RUNG_STEP);
    for (let i = 1; i <= count; i++) {
      const s = Math.min(i * RUNG_STEP, Math.sqrt(fluid.criticalTemperatureK - minimumTemperatureK));
      const last = this.#rungs[i - 1]!;
      const guess = {
        liquid: last.liquid + last.liquidSlope * (s - last.s),
        vapour: Math.exp(last.logVapour + last.logVapourSlope * (s - last.s)),
      };
      const point = this.#solve(fluid.criticalTemperatureK - s * s, guess);
      this.#rungs.push({
        s,
        liquid: point.liquid.densityKgPerM3,
        liquidSlope: -2 * s * densitySlope(point.liquid, point.dPdT),
        logVapour: Math.log(point.vapour.densityKgPerM3),
        logVapourSlope: (-2 * s * densitySlope(point.vapour, point.dPdT)) / point.vapour.densityKgPerM3,
      });
    }
  }

  /**
   * Saturation at a temperature.
   * @throws RangeError below the triple point or nearer than 1 mK to the critical temperature
   */
  at(temperatureK: number): SaturationPoint {
    if (!(temperatureK >= this.minimumTemperatureK && temperatureK <= this.maximumTemperatureK)) {
      throw new RangeError(
        `${this.#fluid.name} has no saturation at ${temperatureK} K: liquid and vapour meet between ` +
          `${this.minimumTemperatureK} K and ${this.maximumTemperatureK.toFixed(3)} K`,
      );
    }
    return this.#solve(temperatureK, this.#guess(temperatureK));
  }

  /**
   * Saturation at a pressure.
   * @throws RangeError outside the pressures of the saturation line
   */
  atPressure(pressurePa: number): SaturationPoint {
    const { name, criticalTemperatureK, criticalPressurePa } = this.#fluid;
    let low = this.minimumTemperatureK;
    let high = this.maximumTemperatureK;
    if (!(pressurePa >= this.at(low).pressurePa && pressurePa <= this.at(high).pressurePa)) {
      throw new RangeError(`${name} has no saturation temperature at ${pressurePa} Pa`);
    }
    // ln p is nearly linear in 1/T; 7 is a typical slope in reduced terms.
    let t = criticalTemperatureK / (1 - Math.log(pressurePa / criticalPressurePa) / 7);
    for (let i = 0; i < MAX_ITERATIONS; i++) {
      t = t > low && t < high ? t : (low + high) / 2;
      const point = this.at(t);
      const excess = Math.log(point.pressurePa / pressurePa);
      if (Math.abs(excess) < 1e-13) return point;
      if (excess > 0) high = t;
      else low = t;
      const step = (excess * point.pressurePa) / (t * point.dPdT);
      t = t / (1 + step);
      if (high - low < 1e-11) return point;
    }
    return this.at(t);
  }

  /** Classical expansion at the critical point: (ρ − ρc)² = 6·(∂²p/∂ρ∂T)·(Tc − T)/(∂³p/∂ρ³). */
  #criticalRung(): Rung {
    const { equation, criticalTemperatureK: tc, criticalDensityKgPerM3: rhoC } = this.#fluid;
    const dRho = 0.02 * rhoC;
    const dT = 0.05;
    const curvature =
      (equation.at(tc, rhoC + dRho).dPdRho + equation.at(tc, rhoC - dRho).dPdRho) / (dRho * dRho);
    const cross = (equation.at(tc + dT, rhoC).dPdRho - equation.at(tc - dT, rhoC).dPdRho) / (2 * dT);
    const slope = Math.sqrt((6 * cross) / curvature);
    return {
      s: 0,
      liquid: rhoC,
      liquidSlope: slope,
      logVapour: Math.log(rhoC),
      logVapourSlope: -slope / rhoC,
    };
  }

  #guess(temperatureK: number): { liquid: number; vapour: number } {
    const s = Math.sqrt(this.#fluid.criticalTemperatureK - temperatureK);
    const i = Math.max(0, Math.min(Math.floor(s / RUNG_STEP), this.#rungs.length - 2));
    const a = this.#rungs[i]!;
    const b = this.#rungs[i + 1]!;
    const h = b.s - a.s;
    const x = (s - a.s) / h;
    const cubic = (y0: number, d0: number, y1: number, d1: number) =>
      y0 + x * x * (3 - 2 * x) * (y1 - y0) + h * x * (1 - x) * ((1 - x) * d0 - x * d1);
    return {
      liquid: cubic(a.liquid, a.liquidSlope, b.liquid, b.liquidSlope),
      vapour: Math.exp(cubic(a.logVapour, a.logVapourSlope, b.logVapour, b.logVapourSlope)),
    };
  }

  /** Newton on both densities at once. */
  #solve(temperatureK: number, guess: { liquid: number; vapour: number }): SaturationPoint {
    const isotherm = this.#fluid.equation.isotherm(temperatureK);
    let liquid = isotherm.at(guess.liquid);
    let vapour = isotherm.at(guess.vapour);
    let lastStep = Number.POSITIVE_INFINITY;
    for (let i = 0; i < MAX_ITERATIONS; i++) {
      const dP = liquid.pressurePa - vapour.pressurePa;
      const dG = liquid.gibbsEnergyJPerKg - vapour.gibbsEnergyJPerKg;
      const vL = 1 / liquid.densityKgPerM3;
      const vV = 1 / vapour.densityKgPerM3;
      const vapourPressureStep = (dP * vL - dG) / (vL - vV);
      const vapourStep = (vapourPressureStep / vapour.dPdRho) * vV;
      const liquidStep = ((vapourPressureStep - dP) / liquid.dPdRho) * vL;
      const step = Math.max(Math.abs(vapourStep), Math.abs(liquidStep));
      // Rounding ends the convergence near the critical point: stop when steps are tiny and shrink no more.
      if (step < 1e-14 || (step < 1e-8 && step >= lastStep)) break;
      if (i === MAX_ITERATIONS - 1) throw new Error(`no saturation found at ${temperatureK} K`);
      lastStep = step;
      const damping = Math.min(1, 0.2 / step);
      vapour = isotherm.at((1 + damping * vapourStep) / vV);
      liquid = isotherm.at((1 + damping * liquidStep) / vL);
    }
    const dPdT =
      (vapour.entropyJPerKgK - liquid.entropyJPerKgK) /
      (1 / vapour.densityKgPerM3 - 1 / liquid.densityKgPerM3);
    return { temperatureK, pressurePa: vapour.pressurePa, dPdT, liquid, vapour };
  }
}
