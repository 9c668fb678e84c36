// A coarse inverse table: the first guess of temperature from density and internal energy.
import type { PropertyState } from './property-state.ts';

/** What the guess is made from. */
type Source = {
  readonly minimumTemperatureK: number;
  readonly maximumTemperatureK: number;
  readonly maximumDensityKgPerM3: number;
  evaluate(densityKgPerM3: number, temperatureK: number, out: PropertyState): void;
};

/** Thinner gas than this is ideal: its temperature depends on energy alone. */
const THINNEST_KG_PER_M3 = 0.02;
/** Columns run over ln(density) up to here, and from here over density, of which liquid needs a finer grain. */
const DENSE_KG_PER_M3 = 400;
const LOG_COLUMNS = 128;
const LINEAR_COLUMNS = 96;
const COLUMNS = LOG_COLUMNS + LINEAR_COLUMNS;
const ROWS = 160;
const LOG_THINNEST = Math.log(THINNEST_KG_PER_M3);
const LOG_COLUMN_WIDTH = (Math.log(DENSE_KG_PER_M3) - LOG_THINNEST) / LOG_COLUMNS;
/** Temperatures tried in each column. */
const SAMPLES = 96;

/** Temperature over density and internal energy; interpolation hits most states within 0.01 K. */
export class TemperatureGuess {
  readonly #minimumTemperatureK: number;
  readonly #maximumTemperatureK: number;
  readonly #perLinearColumn: number;
  readonly #lowestEnergy: number;
  readonly #perRow: number;
  readonly #temperatures = new Float32Array((COLUMNS + 1) * (ROWS + 1));

  constructor(source: Source, scratch: PropertyState) {
    const { minimumTemperatureK, maximumTemperatureK, maximumDensityKgPerM3 } = source;
    const step = (maximumTemperatureK - minimumTemperatureK) / SAMPLES;
    const energies = new Float64Array((COLUMNS + 1) * (SAMPLES + 1));
    let lowest = Number.POSITIVE_INFINITY;
    let highest = Number.NEGATIVE_INFINITY;
    for (let column = 0, at = 0; column <= COLUMNS; column++) {
      const density = columnDensity(column, maximumDensityKgPerM3);
      for (let i = 0; i <= SAMPLES; i++, at++) {
        source.evaluate(density, minimumTemperatureK + i * step, scratch);
        energies[at] = scratch.internalEnergyJPerKg;
        lowest = Math.min(lowest, scratch.internalEnergyJPerKg);
        highest = Math.max(highest, scratch.internalEnergyJPerKg);
      }
    }
    this.#lowestEnergy = lowest;
    this.#perRow = ROWS / (highest - lowest);
    for (let column = 0; column <= COLUMNS; column++) {
      const rising = energies.subarray(column * (SAMPLES + 1), (column + 1) * (SAMPLES + 1));
      let i = 0;
      for (let row = 0; row <= ROWS; row++) {
        const energy = lowest + row / this.#perRow;
        while (i < SAMPLES - 1 && rising[i + 1]! < energy) i++;
        const share = (energy - rising[i]!) / (rising[i + 1]! - rising[i]!);
        // Beyond the ends the line goes on straight, so that interpolation stays good up to them.
        this.#temperatures[column * (ROWS + 1) + row] = minimumTemperatureK + (i + share) * step;
      }
    }
    this.#minimumTemperatureK = minimumTemperatureK;
    this.#maximumTemperatureK = maximumTemperatureK;
    this.#perLinearColumn = LINEAR_COLUMNS / (maximumDensityKgPerM3 - DENSE_KG_PER_M3);
  }

  /** A temperature within the tables, a few kelvin off at worst. */
  at(densityKgPerM3: number, internalEnergyJPerKg: number): number {
    let x = 0;
    if (densityKgPerM3 >= DENSE_KG_PER_M3) {
      x = LOG_COLUMNS + (densityKgPerM3 - DENSE_KG_PER_M3) * this.#perLinearColumn;
    } else if (densityKgPerM3 > THINNEST_KG_PER_M3) {
      x = (Math.log(densityKgPerM3) - LOG_THINNEST) / LOG_COLUMN_WIDTH;
    }
    const column = Math.min(x | 0, COLUMNS - 1);
    const a = x - column;
    const y = Math.min(Math.max((internalEnergyJPerKg - this.#lowestEnergy) * this.#perRow, 0), ROWS);
    const row = Math.min(y | 0, ROWS - 1);
    const b = y - row;
    const t = this.#temperatures;
    const i = column * (ROWS + 1) + row;
    const j = i + ROWS + 1;
    const near = t[i]! + b * (t[i + 1]! - t[i]!);
    const far = t[j]! + b * (t[j + 1]! - t[j]!);
    return Math.min(Math.max(near + a * (far - near), this.#minimumTemperatureK), this.#maximumTemperatureK);
  }
}

function columnDensity(column: number, maximumDensityKgPerM3: number): number {
  return column < LOG_COLUMNS
    ? THINNEST_KG_PER_M3 * Math.exp(column * LOG_COLUMN_WIDTH)
    : DENSE_KG_PER_M3 + ((column - LOG_COLUMNS) / LINEAR_COLUMNS) * (maximumDensityKgPerM3 - DENSE_KG_PER_M3);
}
