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
const COLUMNS = 128;
const ROWS = 128;
/** Temperatures tried in each column. */
const SAMPLES = 160;

/** Temperature over ln(density) and energy, the energy scaled between the coldest and the warmest state. */
export class TemperatureGuess {
  readonly #logThinnest = Math.log(THINNEST_KG_PER_M3);
  readonly #perColumn: number;
  readonly #temperatures = new Float64Array((COLUMNS + 1) * (ROWS + 1));
  /** Energy of the coldest state and of the warmest less the coldest, two numbers a column. */
  readonly #spans = new Float64Array(2 * (COLUMNS + 1));

  constructor(source: Source, scratch: PropertyState) {
    const width = Math.log(source.maximumDensityKgPerM3) - this.#logThinnest;
    this.#perColumn = COLUMNS / width;
    const energies = new Float64Array(SAMPLES + 1);
    const { minimumTemperatureK, maximumTemperatureK } = source;
    const step = (maximumTemperatureK - minimumTemperatureK) / SAMPLES;
    for (let column = 0; column <= COLUMNS; column++) {
      const exact = Math.exp(this.#logThinnest + column / this.#perColumn);
      const density = Math.min(exact, source.maximumDensityKgPerM3);
      for (let i = 0; i <= SAMPLES; i++) {
        source.evaluate(density, minimumTemperatureK + i * step, scratch);
        energies[i] = scratch.internalEnergyJPerKg;
      }
      const coldest = energies[0]!;
      const span = energies[SAMPLES]! - coldest;
      this.#spans[2 * column] = coldest;
      this.#spans[2 * column + 1] = span;
      let i = 0;
      for (let row = 0; row <= ROWS; row++) {
        const energy = coldest + (row / ROWS) * span;
        while (i < SAMPLES - 1 && energies[i + 1]! < energy) i++;
        const share = (energy - energies[i]!) / (energies[i + 1]! - energies[i]!);
        this.#temperatures[column * (ROWS + 1) + row] = minimumTemperatureK + (i + share) * step;
      }
    }
  }

  /** A temperature within the tables, a few kelvin off at worst. */
  at(densityKgPerM3: number, internalEnergyJPerKg: number): number {
    let x = 0;
    if (densityKgPerM3 > THINNEST_KG_PER_M3) {
      x = (Math.log(densityKgPerM3) - this.#logThinnest) * this.#perColumn;
    }
    const column = Math.min(x | 0, COLUMNS - 1);
    const a = x - column;
    const k = 2 * column;
    const spans = this.#spans;
    const coldest = spans[k]! + a * (spans[k + 2]! - spans[k]!);
    const span = spans[k + 1]! + a * (spans[k + 3]! - spans[k + 1]!);
    const y = Math.min(Math.max(((internalEnergyJPerKg - coldest) / span) * ROWS, 0), ROWS);
    const row = Math.min(y | 0, ROWS - 1);
    const b = y - row;
    const t = this.#temperatures;
    const i = column * (ROWS + 1) + row;
    const j = i + ROWS + 1;
    const near = t[i]! + b * (t[i + 1]! - t[i]!);
    const far = t[j]! + b * (t[j + 1]! - t[j]!);
    return near + a * (far - near);
  }
}
