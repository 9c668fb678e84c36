// Single-phase properties by bicubic Hermite interpolation over density and temperature.
import type { HelmholtzEquation } from './equation.ts';
import type { PropertyState } from './property-state.ts';

/** Which part of a row is ever used: up to one saturated density and from the other on. */
export type RowUse = { readonly upToDensity: number; readonly fromDensity: number };

export type GridShape = {
  readonly minimumTemperatureK: number;
  readonly maximumTemperatureK: number;
  readonly temperatureCells: number;
  readonly maximumDensityKgPerM3: number;
  readonly densityCells: number;
};

/** Numbers a node: value, two slopes and cross slope (times the steps) of F and of G. */
const STRIDE = 8;

/**
 * Interpolates F = (Z − 1)/ρ and G = (u − u_ideal(T))/ρ. Both are analytic from zero density to dense liquid, so one
 * grid serves gas and liquid alike, without a seam, and becomes exact in deep vacuum. Node slopes come from the
 * equation, not from differences. Nodes that no stable state can reach stay NaN.
 */
export class SinglePhaseGrid {
  readonly #gas: number;
  readonly #minimumTemperatureK: number;
  readonly #temperatureCells: number;
  readonly #densityCells: number;
  readonly #perTemperatureStep: number;
  readonly #perDensityStep: number;
  readonly #nodes: Float64Array;
  /** Ideal-gas energy and its slope (times the step), two numbers a row. */
  readonly #ideal: Float64Array;

  constructor(equation: HelmholtzEquation, shape: GridShape, use: (row: number) => RowUse) {
    const rows = shape.temperatureCells + 1;
    const columns = shape.densityCells + 1;
    const temperatureStep = (shape.maximumTemperatureK - shape.minimumTemperatureK) / shape.temperatureCells;
    const densityStep = shape.maximumDensityKgPerM3 / shape.densityCells;
    this.#gas = equation.gasConstantJPerKgK;
    this.#minimumTemperatureK = shape.minimumTemperatureK;
    this.#temperatureCells = shape.temperatureCells;
    this.#densityCells = shape.densityCells;
    this.#perTemperatureStep = 1 / temperatureStep;
    this.#perDensityStep = 1 / densityStep;
    this.#nodes = new Float64Array(rows * columns * STRIDE).fill(Number.NaN);
    this.#ideal = new Float64Array(2 * rows);

    const { count } = equation.residual;
    const densityFactors = new Float64Array(4 * count * columns);
    for (let column = 0; column < columns; column++) {
      const delta = (column * densityStep) / equation.reducingDensityKgPerM3;
      equation.residual.densityFactors(delta, densityFactors.subarray(4 * count * column));
    }
    const temperatureFactors = new Float64Array(3 * count);
    for (let row = 0; row < rows; row++) {
      const temperatureK = shape.minimumTemperatureK + row * temperatureStep;
      const ideal = equation.idealGas(temperatureK);
      this.#ideal[2 * row] = ideal.internalEnergyJPerKg;
      this.#ideal[2 * row + 1] = ideal.cvJPerKgK * temperatureStep;
      equation.residual.temperatureFactors(equation.reducingTemperatureK / temperatureK, temperatureFactors);
      const scale = nodeScale(equation, temperatureK, temperatureStep, densityStep);
      const { upToDensity, fromDensity } = use(row);
      for (let column = 0; column < columns; column++) {
        const below = (column - 1) * densityStep;
        const above = (column + 1) * densityStep;
        if (below > upToDensity && above < fromDensity) continue;
        const at = (row * columns + column) * STRIDE;
        fillNode(temperatureFactors, densityFactors, 4 * count * column, scale, this.#nodes, at);
      }
    }
  }

  /** Fills everything but the quality. The caller keeps density and temperature within the grid. */
  fill(densityKgPerM3: number, temperatureK: number, out: PropertyState): void {
    const x = densityKgPerM3 * this.#perDensityStep;
    const y = (temperatureK - this.#minimumTemperatureK) * this.#perTemperatureStep;
    const column = Math.min(x | 0, this.#densityCells - 1);
    const row = Math.min(y | 0, this.#temperatureCells - 1);

    // Hermite weights: v for the value, s for the slope, at the near (0) and far (1) node; d their derivatives.
    const a = x - column;
    const xv1 = a * a * (3 - 2 * a);
    const xv0 = 1 - xv1;
    const xs0 = a * (1 - a) * (1 - a);
    const xs1 = a * a * (a - 1);
    const dxv1 = 6 * a * (1 - a);
    const dxs0 = (1 - a) * (1 - 3 * a);
    const dxs1 = a * (3 * a - 2);
    const b = y - row;
    const yv1 = b * b * (3 - 2 * b);
    const yv0 = 1 - yv1;
    const ys0 = b * (1 - b) * (1 - b);
    const ys1 = b * b * (b - 1);
    const dyv1 = 6 * b * (1 - b);
    const dys0 = (1 - b) * (1 - 3 * b);
    const dys1 = b * (3 * b - 2);

    const n = this.#nodes;
    const i = (row * (this.#densityCells + 1) + column) * STRIDE;
    const j = i + (this.#densityCells + 1) * STRIDE;

    // Along density first: value (f) and temperature slope (ft) on both rows, then their density derivatives.
    const f0 = xv0 * n[i]! + xs0 * n[i + 1]! + xv1 * n[i + 8]! + xs1 * n[i + 9]!;
    const ft0 = xv0 * n[i + 2]! + xs0 * n[i + 3]! + xv1 * n[i + 10]! + xs1 * n[i + 11]!;
    const f1 = xv0 * n[j]! + xs0 * n[j + 1]! + xv1 * n[j + 8]! + xs1 * n[j + 9]!;
    const ft1 = xv0 * n[j + 2]! + xs0 * n[j + 3]! + xv1 * n[j + 10]! + xs1 * n[j + 11]!;
    const df0 = dxv1 * (n[i + 8]! - n[i]!) + dxs0 * n[i + 1]! + dxs1 * n[i + 9]!;
    const dft0 = dxv1 * (n[i + 10]! - n[i + 2]!) + dxs0 * n[i + 3]! + dxs1 * n[i + 11]!;
    const df1 = dxv1 * (n[j + 8]! - n[j]!) + dxs0 * n[j + 1]! + dxs1 * n[j + 9]!;
    const dft1 = dxv1 * (n[j + 10]! - n[j + 2]!) + dxs0 * n[j + 3]! + dxs1 * n[j + 11]!;

    const g0 = xv0 * n[i + 4]! + xs0 * n[i + 5]! + xv1 * n[i + 12]! + xs1 * n[i + 13]!;
    const gt0 = xv0 * n[i + 6]! + xs0 * n[i + 7]! + xv1 * n[i + 14]! + xs1 * n[i + 15]!;
    const g1 = xv0 * n[j + 4]! + xs0 * n[j + 5]! + xv1 * n[j + 12]! + xs1 * n[j + 13]!;
    const gt1 = xv0 * n[j + 6]! + xs0 * n[j + 7]! + xv1 * n[j + 14]! + xs1 * n[j + 15]!;
    const dg0 = dxv1 * (n[i + 12]! - n[i + 4]!) + dxs0 * n[i + 5]! + dxs1 * n[i + 13]!;
    const dgt0 = dxv1 * (n[i + 14]! - n[i + 6]!) + dxs0 * n[i + 7]! + dxs1 * n[i + 15]!;
    const dg1 = dxv1 * (n[j + 12]! - n[j + 4]!) + dxs0 * n[j + 5]! + dxs1 * n[j + 13]!;
    const dgt1 = dxv1 * (n[j + 14]! - n[j + 6]!) + dxs0 * n[j + 7]! + dxs1 * n[j + 15]!;

    const f = yv0 * f0 + ys0 * ft0 + yv1 * f1 + ys1 * ft1;
    const dFdT = (dyv1 * (f1 - f0) + dys0 * ft0 + dys1 * ft1) * this.#perTemperatureStep;
    const dFdRho = (yv0 * df0 + ys0 * dft0 + yv1 * df1 + ys1 * dft1) * this.#perDensityStep;
    const g = yv0 * g0 + ys0 * gt0 + yv1 * g1 + ys1 * gt1;
    const dGdT = (dyv1 * (g1 - g0) + dys0 * gt0 + dys1 * gt1) * this.#perTemperatureStep;
    const dGdRho = (yv0 * dg0 + ys0 * dgt0 + yv1 * dg1 + ys1 * dgt1) * this.#perDensityStep;

    const ideal = this.#ideal;
    const k = 2 * row;
    const u = yv0 * ideal[k]! + ys0 * ideal[k + 1]! + yv1 * ideal[k + 2]! + ys1 * ideal[k + 3]!;
    const dUdT =
      (dyv1 * (ideal[k + 2]! - ideal[k]!) + dys0 * ideal[k + 1]! + dys1 * ideal[k + 3]!) *
      this.#perTemperatureStep;

    const rho = densityKgPerM3;
    const z = 1 + rho * f;
    out.pressurePa = rho * this.#gas * temperatureK * z;
    out.dPdT = rho * this.#gas * (z + temperatureK * rho * dFdT);
    out.dPdRho = this.#gas * temperatureK * (1 + rho * (2 * f + rho * dFdRho));
    out.internalEnergyJPerKg = u + rho * g;
    out.dUdT = dUdT + rho * dGdT;
    out.dUdRho = g + rho * dGdRho;
  }
}

/** Factors from sums of terms to the eight numbers of a node. */
function nodeScale(
  equation: HelmholtzEquation,
  temperatureK: number,
  temperatureStep: number,
  densityStep: number,
) {
  const { gasConstantJPerKgK, reducingTemperatureK, reducingDensityKgPerM3 } = equation;
  const perDensity = 1 / reducingDensityKgPerM3;
  const energy = gasConstantJPerKgK * reducingTemperatureK * perDensity;
  const alongDensity = densityStep * perDensity;
  const alongTemperature = (-reducingTemperatureK / (temperatureK * temperatureK)) * temperatureStep;
  return { perDensity, energy, alongDensity, alongTemperature };
}

function fillNode(
  temperatureFactors: Float64Array,
  densityFactors: Float64Array,
  from: number,
  scale: ReturnType<typeof nodeScale>,
  nodes: Float64Array,
  at: number,
): void {
  let f = 0;
  let fx = 0;
  let fy = 0;
  let fxy = 0;
  let g = 0;
  let gx = 0;
  let gy = 0;
  let gxy = 0;
  for (let i = 0, j = from; i < temperatureFactors.length; i += 3, j += 4) {
    const t0 = temperatureFactors[i]!;
    const t1 = temperatureFactors[i + 1]!;
    const t2 = temperatureFactors[i + 2]!;
    const phi = densityFactors[j]!;
    const phi1 = densityFactors[j + 1]!;
    const slope = densityFactors[j + 2]!;
    const curvature = densityFactors[j + 3]!;
    f += slope * t0;
    fx += curvature * t0;
    fy += slope * t1;
    fxy += curvature * t1;
    g += phi * t1;
    gx += phi1 * t1;
    gy += phi * t2;
    gxy += phi1 * t2;
  }
  const { perDensity, energy, alongDensity, alongTemperature } = scale;
  nodes[at] = f * perDensity;
  nodes[at + 1] = fx * perDensity * alongDensity;
  nodes[at + 2] = fy * perDensity * alongTemperature;
  nodes[at + 3] = fxy * perDensity * alongDensity * alongTemperature;
  nodes[at + 4] = g * energy;
  nodes[at + 5] = gx * energy * alongDensity;
  nodes[at + 6] = gy * energy * alongTemperature;
  nodes[at + 7] = gxy * energy * alongDensity * alongTemperature;
}
