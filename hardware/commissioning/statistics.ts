// What a handful of samples says: mean, scatter, and a straight line through points.

export const meanOf = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

/** Sample standard deviation; of a single value there is none, and 0 is answered. */
export function sdOf(values: readonly number[]): number {
  if (values.length < 2) return 0;
  const mean = meanOf(values);
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1));
}

export type StraightLine = {
  readonly slope: number;
  readonly intercept: number;
  readonly slopeSd: number;
  readonly interceptSd: number;
  /** What the points lie off it, one standard deviation. */
  readonly residualSd: number;
  readonly residuals: readonly number[];
};

/** Least squares. @throws Error for fewer than three points or all at one x. */
export function lineThrough(xs: readonly number[], ys: readonly number[]): StraightLine {
  const n = xs.length;
  const meanX = meanOf(xs);
  const meanY = meanOf(ys);
  const sxx = xs.reduce((sum, x) => sum + (x - meanX) ** 2, 0);
  if (n < 3 || sxx === 0) throw new Error('a straight line with its scatter needs three points apart');
  const slope = xs.reduce((sum, x, i) => sum + (x - meanX) * (ys[i]! - meanY), 0) / sxx;
  const intercept = meanY - slope * meanX;
  const residuals = xs.map((x, i) => ys[i]! - intercept - slope * x);
  const residualSd = Math.sqrt(residuals.reduce((sum, r) => sum + r * r, 0) / (n - 2));
  return {
    slope,
    intercept,
    slopeSd: residualSd / Math.sqrt(sxx),
    interceptSd: residualSd * Math.sqrt(1 / n + meanX ** 2 / sxx),
    residualSd,
    residuals,
  };
}
