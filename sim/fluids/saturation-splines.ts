// The saturation line as cubic Hermite splines: what the run-time tables need of the two-phase dome.
import type { HomogeneousState } from './equation.ts';
import type { Fluid } from './fluid.ts';
import type { PropertyState, SaturationState } from './property-state.ts';
import { densitySlope, SaturationLine, type SaturationPoint } from './saturation.ts';

/** Spline intervals between the lowest temperature and the critical point, about 0.4 K each. */
const INTERVALS = 512;
/** So many intervals below the critical point the densities follow √(Tc − T), and the splines run over that. */
const ROOT_INTERVALS = 16;
const ROOT_NODES = 48;

/** Numbers a node: value and slope times step of each column. */
const STRIDE = 12;
const PRESSURE = 0;
const LIQUID = 2;
const VAPOUR = 4;
/** u = a + m·v in the dome, and s = b + p'·v. All three stay smooth up to the critical point. */
const A = 6;
const M = 8;
const B = 10;

/** Splines of vapour pressure, saturated densities, and the straight lines of u and s over specific volume. */
export class SaturationSplines {
  readonly minimumTemperatureK: number;
  readonly criticalTemperatureK: number;
  readonly #perStep: number;
  readonly #nodes: Float64Array;
  /** Above this temperature densities come from the splines over √(Tc − T). */
  readonly #rootFromK: number;
  readonly #rootPerStep: number;
  readonly #rootNodes: Float64Array;

  constructor(fluid: Fluid, minimumTemperatureK: number) {
    const tc = fluid.criticalTemperatureK;
    const line = new SaturationLine(fluid, minimumTemperatureK);
    const step = (tc - minimumTemperatureK) / INTERVALS;
    this.minimumTemperatureK = minimumTemperatureK;
    this.criticalTemperatureK = tc;
    this.#perStep = 1 / step;
    this.#nodes = temperatureNodes(fluid, line, step);
    this.#rootFromK = tc - ROOT_INTERVALS * step;
    const rootStep = Math.sqrt(ROOT_INTERVALS * step) / (ROOT_NODES - 1);
    this.#rootPerStep = 1 / rootStep;
    this.#rootNodes = rootNodes(fluid, line, rootStep);
  }

  liquidDensity(temperatureK: number): number {
    return this.#density(temperatureK, LIQUID);
  }

  vapourDensity(temperatureK: number): number {
    return this.#density(temperatureK, VAPOUR);
  }

  pressure(temperatureK: number): number {
    const x = (temperatureK - this.minimumTemperatureK) * this.#perStep;
    const i = Math.min(x | 0, INTERVALS - 1);
    return this.#value(i * STRIDE + PRESSURE, x - i);
  }

  pressureSlope(temperatureK: number): number {
    const x = (temperatureK - this.minimumTemperatureK) * this.#perStep;
    const i = Math.min(x | 0, INTERVALS - 1);
    return this.#slope(i * STRIDE + PRESSURE, x - i);
  }

  /** Fills the state of a two-phase mixture; the caller has made sure that it is one. */
  fillMixture(densityKgPerM3: number, temperatureK: number, out: PropertyState): void {
    const x = (temperatureK - this.minimumTemperatureK) * this.#perStep;
    const i = Math.min(x | 0, INTERVALS - 1);
    const s = x - i;
    const at = i * STRIDE;
    const liquid = this.#density(temperatureK, LIQUID);
    const vapour = this.#density(temperatureK, VAPOUR);
    const volume = 1 / densityKgPerM3;
    const m = this.#value(at + M, s);
    out.pressurePa = this.#value(at + PRESSURE, s);
    out.dPdT = this.#slope(at + PRESSURE, s);
    out.dPdRho = 0;
    out.internalEnergyJPerKg = this.#value(at + A, s) + m * volume;
    out.dUdT = this.#slope(at + A, s) + this.#slope(at + M, s) * volume;
    out.dUdRho = -m * volume * volume;
    out.quality = (vapour * (liquid - densityKgPerM3)) / (densityKgPerM3 * (liquid - vapour));
  }

  /** Fills saturated liquid and vapour; temperature between the lowest and the critical one. */
  fillSaturation(temperatureK: number, out: SaturationState): void {
    const x = (temperatureK - this.minimumTemperatureK) * this.#perStep;
    const i = Math.min(x | 0, INTERVALS - 1);
    const s = x - i;
    const at = i * STRIDE;
    const liquid = this.#density(temperatureK, LIQUID);
    const vapour = this.#density(temperatureK, VAPOUR);
    const pressure = this.#value(at + PRESSURE, s);
    const slope = this.#slope(at + PRESSURE, s);
    const a = this.#value(at + A, s);
    const m = this.#value(at + M, s);
    const b = this.#value(at + B, s);
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

  #density(temperatureK: number, column: number): number {
    if (temperatureK < this.#rootFromK) {
      const x = (temperatureK - this.minimumTemperatureK) * this.#perStep;
      const i = x | 0;
      return this.#value(i * STRIDE + column, x - i);
    }
    const x = Math.sqrt(this.criticalTemperatureK - temperatureK) * this.#rootPerStep;
    const i = Math.min(x | 0, ROOT_NODES - 2);
    return hermite(this.#rootNodes, 4 * i + column - LIQUID, 4, x - i);
  }

  #value(at: number, s: number): number {
    return hermite(this.#nodes, at, STRIDE, s);
  }

  #slope(at: number, s: number): number {
    const nodes = this.#nodes;
    const rise = nodes[at + STRIDE]! - nodes[at]!;
    const d0 = nodes[at + 1]!;
    const d1 = nodes[at + STRIDE + 1]!;
    return (6 * s * (1 - s) * rise + (1 - s) * (1 - 3 * s) * d0 + s * (3 * s - 2) * d1) * this.#perStep;
  }
}

/** Cubic through two values with the given slopes (times the step). */
function hermite(nodes: Float64Array, at: number, stride: number, s: number): number {
  const y0 = nodes[at]!;
  const rest = 1 - s;
  return (
    y0 +
    s * s * (3 - 2 * s) * (nodes[at + stride]! - y0) +
    s * rest * (rest * nodes[at + 1]! - s * nodes[at + stride + 1]!)
  );
}

/** Exact node values and slopes over temperature; the slopes at the critical point are the limits from below. */
function temperatureNodes(fluid: Fluid, line: SaturationLine, step: number): Float64Array {
  const nodes = new Float64Array((INTERVALS + 1) * STRIDE);
  for (let i = 0; i < INTERVALS; i++) {
    fillNode(line.at(line.minimumTemperatureK + i * step), step, nodes, i * STRIDE);
  }
  const { criticalTemperatureK: tc, criticalDensityKgPerM3: rhoC } = fluid;
  const critical = fluid.equation.at(tc, rhoC);
  const m = tc * critical.dPdT - critical.pressurePa;
  const end = INTERVALS * STRIDE;
  nodes[end + PRESSURE] = critical.pressurePa;
  nodes[end + PRESSURE + 1] = critical.dPdT * step;
  nodes[end + LIQUID] = rhoC;
  nodes[end + VAPOUR] = rhoC;
  nodes[end + A] = critical.internalEnergyJPerKg - m / rhoC;
  nodes[end + M] = m;
  nodes[end + B] = critical.entropyJPerKgK - critical.dPdT / rhoC;
  for (const column of [A, M, B]) {
    nodes[end + column + 1] = extrapolate((back) => nodes[end + column + 1 - back * STRIDE]!);
  }
  return nodes;
}

/** Exact densities and slopes over s = √(Tc − T), from the critical point outwards. */
function rootNodes(fluid: Fluid, line: SaturationLine, step: number): Float64Array {
  const nodes = new Float64Array(ROOT_NODES * 4);
  for (let i = 1; i < ROOT_NODES; i++) {
    const s = i * step;
    const point = line.at(fluid.criticalTemperatureK - s * s);
    nodes[4 * i] = point.liquid.densityKgPerM3;
    nodes[4 * i + 1] = -2 * s * step * densitySlope(point.liquid, point.dPdT);
    nodes[4 * i + 2] = point.vapour.densityKgPerM3;
    nodes[4 * i + 3] = -2 * s * step * densitySlope(point.vapour, point.dPdT);
  }
  for (const column of [0, 2]) {
    nodes[column] = fluid.criticalDensityKgPerM3;
    nodes[column + 1] = extrapolate((back) => nodes[4 * back + column + 1]!);
  }
  return nodes;
}

const extrapolate = (back: (steps: number) => number): number => 3 * back(1) - 3 * back(2) + back(3);

function fillNode(point: SaturationPoint, step: number, nodes: Float64Array, at: number): void {
  const { liquid, vapour, temperatureK: t, pressurePa: p, dPdT } = point;
  const l = alongSaturation(liquid, dPdT);
  const v = alongSaturation(vapour, dPdT);
  // Clapeyron, dp/dT = Δs/Δv, differentiated once more along the line.
  const curvature =
    (v.entropySlope - l.entropySlope - dPdT * (v.volumeSlope - l.volumeSlope)) / (v.volume - l.volume);
  const m = t * dPdT - p;
  const mSlope = t * curvature;
  nodes[at + PRESSURE] = p;
  nodes[at + PRESSURE + 1] = dPdT * step;
  nodes[at + LIQUID] = liquid.densityKgPerM3;
  nodes[at + LIQUID + 1] = l.densitySlope * step;
  nodes[at + VAPOUR] = vapour.densityKgPerM3;
  nodes[at + VAPOUR + 1] = v.densitySlope * step;
  nodes[at + A] = liquid.internalEnergyJPerKg - m * l.volume;
  nodes[at + A + 1] = (l.energySlope - mSlope * l.volume - m * l.volumeSlope) * step;
  nodes[at + M] = m;
  nodes[at + M + 1] = mSlope * step;
  nodes[at + B] = liquid.entropyJPerKgK - dPdT * l.volume;
  nodes[at + B + 1] = (l.entropySlope - curvature * l.volume - dPdT * l.volumeSlope) * step;
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
