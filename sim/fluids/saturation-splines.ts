// The saturation line as cubic Hermite splines: what the run-time tables need of the two-phase dome.
import type { HomogeneousState } from './equation.ts';
import type { Fluid } from './fluid.ts';
import type { PropertyState, SaturationState } from './property-state.ts';
import { densitySlope, SaturationLine, type SaturationPoint } from './saturation.ts';

/** Spline intervals between the lowest temperature and the critical point, about 0.4 K each. */
const INTERVALS = 512;
/**
 * So many intervals below the critical point everything is smooth over s = √(Tc − T) and not over T: there the
 * splines run over s. Equations of state bend sharply within the last 0.1 K.
 */
const NEAR_INTERVALS = 16;
const NEAR_NODES = 48;
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

/** Columns of cubic Hermite splines over equidistant nodes; x counts intervals. */
class SplineTable {
  readonly nodes: Float64Array;
  readonly #lastInterval: number;

  constructor(nodeCount: number) {
    this.nodes = new Float64Array(nodeCount * STRIDE);
    this.#lastInterval = nodeCount - 2;
  }

  value(column: number, x: number): number {
    const i = Math.min(x | 0, this.#lastInterval);
    const s = x - i;
    const at = i * STRIDE + column;
    const nodes = this.nodes;
    const y0 = nodes[at]!;
    const rest = 1 - s;
    return (
      y0 +
      s * s * (3 - 2 * s) * (nodes[at + STRIDE]! - y0) +
      s * rest * (rest * nodes[at + 1]! - s * nodes[at + STRIDE + 1]!)
    );
  }

  /** Slope in x. */
  slope(column: number, x: number): number {
    const i = Math.min(x | 0, this.#lastInterval);
    const s = x - i;
    const at = i * STRIDE + column;
    const nodes = this.nodes;
    const rise = nodes[at + STRIDE]! - nodes[at]!;
    return (
      6 * s * (1 - s) * rise +
      (1 - s) * (1 - 3 * s) * nodes[at + 1]! +
      s * (3 * s - 2) * nodes[at + STRIDE + 1]!
    );
  }
}

/** Splines of vapour pressure, saturated densities, and the straight lines of u and s over specific volume. */
export class SaturationSplines {
  readonly minimumTemperatureK: number;
  readonly criticalTemperatureK: number;
  readonly #perStep: number;
  readonly #far: SplineTable;
  /** From this temperature on the near table serves. */
  readonly #nearFromK: number;
  readonly #perNearStep: number;
  readonly #near: SplineTable;

  constructor(fluid: Fluid, minimumTemperatureK: number) {
    const tc = fluid.criticalTemperatureK;
    const line = new SaturationLine(fluid, minimumTemperatureK);
    const step = (tc - minimumTemperatureK) / INTERVALS;
    this.minimumTemperatureK = minimumTemperatureK;
    this.criticalTemperatureK = tc;
    this.#perStep = 1 / step;
    this.#nearFromK = tc - NEAR_INTERVALS * step;
    const farNodes = INTERVALS - NEAR_INTERVALS + 1;
    this.#far = new SplineTable(farNodes);
    for (let i = 0; i < farNodes; i++) {
      fillNode(line.at(minimumTemperatureK + i * step), step, this.#far.nodes, i * STRIDE);
    }
    const nearStep = Math.sqrt(NEAR_INTERVALS * step) / (NEAR_NODES - 1);
    this.#perNearStep = 1 / nearStep;
    this.#near = new SplineTable(NEAR_NODES);
    for (let i = 1; i < NEAR_NODES; i++) {
      const root = i * nearStep;
      fillNode(line.at(tc - root * root), -2 * root * nearStep, this.#near.nodes, i * STRIDE);
    }
    fillCriticalNode(fluid, this.#near.nodes);
  }

  pressure(temperatureK: number): number {
    return temperatureK < this.#nearFromK
      ? this.#far.value(PRESSURE, this.#farX(temperatureK))
      : this.#near.value(PRESSURE, this.#nearX(temperatureK));
  }

  liquidDensity(temperatureK: number): number {
    return temperatureK < this.#nearFromK
      ? this.#far.value(LIQUID, this.#farX(temperatureK))
      : this.#near.value(LIQUID, this.#nearX(temperatureK));
  }

  vapourDensity(temperatureK: number): number {
    return temperatureK < this.#nearFromK
      ? this.#far.value(VAPOUR, this.#farX(temperatureK))
      : this.#near.value(VAPOUR, this.#nearX(temperatureK));
  }

  /** Vapour mass fraction of a two-phase mixture. */
  quality(densityKgPerM3: number, temperatureK: number): number {
    const liquid = this.liquidDensity(temperatureK);
    const vapour = this.vapourDensity(temperatureK);
    return (vapour * (liquid - densityKgPerM3)) / (densityKgPerM3 * (liquid - vapour));
  }

  /** Fills the state of a two-phase mixture; the caller has made sure that it is one. */
  fillMixture(densityKgPerM3: number, temperatureK: number, out: PropertyState): void {
    const near = temperatureK >= this.#nearFromK;
    const table = near ? this.#near : this.#far;
    const x = near ? this.#nearX(temperatureK) : this.#farX(temperatureK);
    const perKelvin = near ? this.#nearPerKelvin(x) : this.#perStep;
    const volume = 1 / densityKgPerM3;
    const m = table.value(M, x);
    const liquid = table.value(LIQUID, x);
    const vapour = table.value(VAPOUR, x);
    out.pressurePa = table.value(PRESSURE, x);
    out.dPdT = table.slope(PRESSURE, x) * perKelvin;
    out.dPdRho = 0;
    out.internalEnergyJPerKg = table.value(A, x) + m * volume;
    out.dUdT = (table.slope(A, x) + table.slope(M, x) * volume) * perKelvin;
    out.dUdRho = -m * volume * volume;
    out.quality = (vapour * (liquid - densityKgPerM3)) / (densityKgPerM3 * (liquid - vapour));
  }

  /** Fills saturated liquid and vapour; temperature between the lowest and the critical one. */
  fillSaturation(temperatureK: number, out: SaturationState): void {
    const near = temperatureK >= this.#nearFromK;
    const table = near ? this.#near : this.#far;
    const x = near ? this.#nearX(temperatureK) : this.#farX(temperatureK);
    const liquid = table.value(LIQUID, x);
    const vapour = table.value(VAPOUR, x);
    const pressure = table.value(PRESSURE, x);
    const slope = table.slope(PRESSURE, x) * (near ? this.#nearPerKelvin(x) : this.#perStep);
    const a = table.value(A, x);
    const m = table.value(M, x);
    const b = table.value(B, x);
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

  #farX(temperatureK: number): number {
    return (temperatureK - this.minimumTemperatureK) * this.#perStep;
  }

  #nearX(temperatureK: number): number {
    return Math.max(Math.sqrt(this.criticalTemperatureK - temperatureK), SMALLEST_ROOT) * this.#perNearStep;
  }

  /** dx/dT of the near table, where x = √(Tc − T)/step. */
  #nearPerKelvin(x: number): number {
    return (-this.#perNearStep * this.#perNearStep) / (2 * x);
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
