// The few statistics that every page of results shows.

/** Of sorted values, by the nearest rank: always a value that was met. Of nothing it is NaN. */
export function percentileOfSorted(sorted: ArrayLike<number>, percent: number): number {
  const rank = Math.ceil((percent / 100) * sorted.length);
  return sorted[Math.max(rank, 1) - 1] ?? Number.NaN;
}

/** Of values in any order. */
export const percentile = (values: readonly number[], percent: number): number =>
  percentileOfSorted(Float64Array.from(values).sort(), percent);

export const mean = (values: readonly number[]): number =>
  values.reduce((total, value) => total + value, 0) / values.length;

export const rootMeanSquare = (values: readonly number[]): number =>
  Math.sqrt(mean(values.map((value) => value * value)));

/** Per cent of the values that hold. */
export const share = <T>(values: readonly T[], holds: (value: T) => boolean): number =>
  (100 * values.filter(holds).length) / values.length;
