// The saturation line as cubic Hermite splines: what the run-time tables need of the two-phase dome.
import type { HomogeneousState } from './equation.ts';
import type { Fluid } from './fluid.ts';
import type { PropertyState, SaturationState } from './property-state.ts';
import { densitySlope, SaturationLine, type SaturationPoint } from './saturation.ts';

/** Spline intervals between the lowest temperature and the critical point, about 0.6 K each. */
const INTERVALS = 320;
/**
 * So many intervals below the critical point everything is smooth over s = √(Tc − T) and not over T: there the
 * splines run over s. Equations of state bend sharply within the last 0.1 K.
 */
const NEAR_INTERVALS = 10;
const NEAR_NODES = 40;
/** Keeps ds/dT finite at the critical temperature itself. */
const SMALLEST_ROOT = 1e-9;

/** Numbers a node: value and slope times step of each column. */
const STRIDE = 12;
const PRESSURE = 0;
const LIQUID = 2;
const VAPOUR = 4;
/** u = a + m·v in the dome, and s = b + p'·v: straight lines over specific volume. */
const A = 6;
const M = 8;
const B = 10;

const FAR_NODES = INTERVALS - NEAR_INTERVALS + 1;

/** Splines of vapour pressure, saturated densities, and the straight lines of u and s over specific volume. */
export class SaturationSplines {
  readonly minimumTemperatureK: number;
  readonly criticalTemperatureK: number;
  readonly #criticalDensity: number;
  readonly #perStep: number;
  /** From this temperature on the near nodes serve. */
  readonly #nearFromK: number;
  readonly #perNearStep: number;
  /** The far nodes over temperature, then the near nodes over s from the critical point down. */
  readonly #nodes = new Float64Array((FAR_NODES + NEAR_NODES) * STRIDE);
  // What #locate found. Fields, because a number returned by a call that is not inlined costs an allocation.
  #share = 0.5;
  #perKelvin = 0.5;

  constructor(fluid: Fluid, minimumTemperatureK: number) {
    const tc = fluid.criticalTemperatureK;
    const line = new SaturationLine(fluid, minimumTemperatureK);
    const step = (tc - minimumTemperatureK) / INTERVALS;
    const nearStep = Math.sqrt(NEAR_INTERVALS * step) / (NEAR_NODES - 1);
    this.minimumTemperatureK = minimumTemperatureK;
    this.criticalTemperatureK = tc;
    this.#criticalDensity = fluid.criticalDensityKgPerM3;
    this.#perStep = 1 / step;
    this.#nearFromK = tc - NEAR_INTERVALS * step;
    this.#perNearStep = 1 / nearStep;
    for (let i = 0; i < FAR_NODES; i++) {
      fillNode(line.at(minimumTemperatureK + i * step), step, this.#nodes, i * STRIDE);
    }
    const near = this.#nodes.subarray(FAR_NODES * STRIDE);
    for (let i = 1; i < NEAR_NODES; i++) {
      const root = i * nearStep;
      fillNode(line.at(tc - root * root), -2 * root * nearStep, near, i * STRIDE);
    }
    fillCriticalNode(fluid, near);
  }

  /** Whether liquid and vapour coexist there. */
  covers(densityKgPerM3: number, temperatureK: number): boolean {
    if (temperatureK >= this.criticalTemperatureK) return false;
    const at = this.#locate(temperatureK);
    return densityKgPerM3 < this.#criticalDensity
      ? densityKgPerM3 > this.#value(at + VAPOUR)
      : densityKgPerM3 < this.#value(at + LIQUID);
  }

  liquidDensity(temperatureK: number): number {
    return this.#value(this.#locate(temperatureK) + LIQUID);
  }

  vapourDensity(temperatureK: number): number {
    return this.#value(this.#locate(temperatureK) + VAPOUR);
  }

  pressure(temperatureK: number): number {
    return this.#value(this.#locate(temperatureK) + PRESSURE);
  }

  /** Vapour mass fraction of a two-phase mixture. */
  quality(densityKgPerM3: number, temperatureK: number): number {
    const at = this.#locate(temperatureK);
    const liquid = this.#value(at + LIQUID);
    const vapour = this.#value(at + VAPOUR);
    return (vapour * (liquid - densityKgPerM3)) / (densityKgPerM3 * (liquid - vapour));
  }

  /** Fills the state of a two-phase mixture; the caller has made sure that it is one. */
  fillMixture(densityKgPerM3: number, temperatureK: number, out: PropertyState): void {
    const at = this.#locate(temperatureK);
    const n = this.#nodes;
    const s = this.#share;
    const perKelvin = this.#perKelvin;
    // Hermite weights of the rise and of both slopes, for the value (v) and for the derivative (d).
    const v = s * s * (3 - 2 * s);
    const v0 = s * (1 - s) * (1 - s);
    const v1 = s * s * (s - 1);
    const d = 6 * s * (1 - s);
    const d0 = (1 - s) * (1 - 3 * s);
    const d1 = s * (3 * s - 2);
    const volume = 1 / densityKgPerM3;

    const pRise = n[at + 12]! - n[at]!;
    out.pressurePa = n[at]! + v * pRise + v0 * n[at + 1]! + v1 * n[at + 13]!;
    out.dPdT = (d * pRise + d0 * n[at + 1]! + d1 * n[at + 13]!) * perKelvin;
    out.dPdRho = 0;
    const liquid = n[at + 2]! + v * (n[at + 14]! - n[at + 2]!) + v0 * n[at + 3]! + v1 * n[at + 15]!;
    const vapour = n[at + 4]! + v * (n[at + 16]! - n[at + 4]!) + v0 * n[at + 5]! + v1 * n[at + 17]!;
    const aRise = n[at + 18]! - n[at + 6]!;
    const a = n[at + 6]! + v * aRise + v0 * n[at + 7]! + v1 * n[at + 19]!;
    const aSlope = d * aRise + d0 * n[at + 7]! + d1 * n[at + 19]!;
    const mRise = n[at + 20]! - n[at + 8]!;
    const m = n[at + 8]! + v * mRise + v0 * n[at + 9]! + v1 * n[at + 21]!;
    const mSlope = d * mRise + d0 * n[at + 9]! + d1 * n[at + 21]!;
    out.internalEnergyJPerKg = a + m * volume;
    out.dUdT = (aSlope + mSlope * volume) * perKelvin;
    out.dUdRho = -m * volume * volume;
    out.quality = (vapour * (liquid - densityKgPerM3)) / (densityKgPerM3 * (liquid - vapour));
  }

  /** Fills saturated liquid and vapour; temperature between the lowest and the critical one. */
  fillSaturation(temperatureK: number, out: SaturationState): void {
    const at = this.#locate(temperatureK);
    const liquid = this.#value(at + LIQUID);
    const vapour = this.#value(at + VAPOUR);
    const pressure = this.#value(at + PRESSURE);
    const slope = this.#pressureSlope(at);
    const a = this.#value(at + A);
    const m = this.#value(at + M);
    const b = this.#value(at + B);
    out.pressurePa = pressure;
    out.dPdT = slope;
    out.liquidDensityKgPerM3 = liquid;
    out.vapourDensityKgPerM3 = vapour;
    out.liquidInternalEnergyJPerKg = a + m / liquid;
    out.vapourInternalEnergyJPerKg = a + m / vapour;
    out.liquidEnthalpyJPerKg = a + (m + pressure) / liquid;
    out.vapourEnthalpyJPerKg = a + (m + pressure) / vapour;
    out.liquidEntropyJPerKgK = b + slope / liquid;
    out.vapourEntropyJPerKgK = b + slope / vapour;
  }

  /** Where the interval of a temperature begins among the nodes; sets the share of the interval and dx/dT. */
  #locate(temperatureK: number): number {
    if (temperatureK < this.#nearFromK) {
      const x = (temperatureK - this.minimumTemperatureK) * this.#perStep;
      const i = Math.min(x | 0, FAR_NODES - 2);
      this.#share = x - i;
      this.#perKelvin = this.#perStep;
      return i * STRIDE;
    }
    const root = Math.max(Math.sqrt(this.criticalTemperatureK - temperatureK), SMALLEST_ROOT);
    const x = root * this.#perNearStep;
    const i = Math.min(x | 0, NEAR_NODES - 2);
    this.#share = x - i;
    this.#perKelvin = -this.#perNearStep / (2 * root);
    return (FAR_NODES + i) * STRIDE;
  }

  #value(at: number): number {
    const n = this.#nodes;
    const s = this.#share;
    const rest = 1 - s;
    return (
      n[at]! +
      s * s * (3 - 2 * s) * (n[at + STRIDE]! - n[at]!) +
      s * rest * (rest * n[at + 1]! - s * n[at + STRIDE + 1]!)
    );
  }

  #pressureSlope(at: number): number {
    const n = this.#nodes;
    const s = this.#share;
    const rise = n[at + STRIDE]! - n[at]!;
    return (
      (6 * s * (1 - s) * rise + (1 - s) * (1 - 3 * s) * n[at + 1]! + s * (3 * s - 2) * n[at + STRIDE + 1]!) *
      this.#perKelvin
    );
  }
}

/** The critical point as first node of the near table: all but the densities are even in s and start level. */
function fillCriticalNode(fluid: Fluid, nodes: Float64Array): void {
  const density = fluid.criticalDensityKgPerM3;
  const critical = fluid.equation.at(fluid.criticalTemperatureK, density);
  const m = fluid.criticalTemperatureK * critical.dPdT - critical.pressurePa;
  nodes[PRESSURE] = critical.pressurePa;
  nodes[LIQUID] = density;
  nodes[VAPOUR] = density;
  nodes[A] = critical.internalEnergyJPerKg - m / density;
  nodes[M] = m;
  nodes[B] = critical.entropyJPerKgK - critical.dPdT / density;
  for (const column of [LIQUID, VAPOUR]) {
    const slope = (node: number) => nodes[node * STRIDE + column + 1]!;
    nodes[column + 1] = 3 * slope(1) - 3 * slope(2) + slope(3);
  }
}

/** Values and slopes of one point; `kelvinPerX` turns a slope in temperature into one in x. */
function fillNode(point: SaturationPoint, kelvinPerX: number, nodes: Float64Array, at: number): void {
  const { liquid, vapour, temperatureK: t, pressurePa: p, dPdT } = point;
  const l = alongSaturation(liquid, dPdT);
  const v = alongSaturation(vapour, dPdT);
  // Clapeyron, dp/dT = Δs/Δv, differentiated once more along the line.
  const curvature =
    (v.entropySlope - l.entropySlope - dPdT * (v.volumeSlope - l.volumeSlope)) / (v.volume - l.volume);
  const m = t * dPdT - p;
  const mSlope = t * curvature;
  nodes[at + PRESSURE] = p;
  nodes[at + PRESSURE + 1] = dPdT * kelvinPerX;
  nodes[at + LIQUID] = liquid.densityKgPerM3;
  nodes[at + LIQUID + 1] = l.densitySlope * kelvinPerX;
  nodes[at + VAPOUR] = vapour.densityKgPerM3;
  nodes[at + VAPOUR + 1] = v.densitySlope * kelvinPerX;
  nodes[at + A] = liquid.internalEnergyJPerKg - m * l.volume;
  nodes[at + A + 1] = (l.energySlope - mSlope * l.volume - m * l.volumeSlope) * kelvinPerX;
  nodes[at + M] = m;
  nodes[at + M + 1] = mSlope * kelvinPerX;
  nodes[at + B] = liquid.entropyJPerKgK - dPdT * l.volume;
  nodes[at + B + 1] = (l.entropySlope - curvature * l.volume - dPdT * l.volumeSlope) * kelvinPerX;
}

/** Changes with temperature of one phase along the saturation line. */
function alongSaturation(state: HomogeneousState, dPdT: number) {
  const density = state.densityKgPerM3;
  const slope = densitySlope(state, dPdT);
  const volumeSlope = -slope / (density * density);
  const entropySlope = state.cvJPerKgK / state.temperatureK + state.dPdT * volumeSlope;
  return {
    densitySlope: slope,
    volume: 1 / density,
    volumeSlope,
    entropySlope,
    energySlope: state.temperatureK * entropySlope - state.pressurePa * volumeSlope,
  };
}
