// A straight line through evenly spaced samples, and how sure its slope is when the noise is not white.

/** Counted as wandering at most this much: beyond it a few hundred samples say nothing at all. */
const MOST_CORRELATED = 0.98;

/** Correlation of residuals from one to the next, 0 to `MOST_CORRELATED`; what alternates counts as white. */
export function correlationOf(residuals: ArrayLike<number>): number {
  let own = 0;
  let next = 0;
  for (let i = 0; i < residuals.length; i += 1) {
    own += residuals[i]! * residuals[i]!;
    if (i > 0) next += residuals[i - 1]! * residuals[i]!;
  }
  return own > 0 ? Math.min(MOST_CORRELATED, Math.max(0, next / own)) : 0;
}

/** As many independent samples are `count` of an autoregressive noise worth for a mean or a slope. */
export const independent = (count: number, correlation: number): number =>
  Math.max(3, (count * (1 - correlation)) / (1 + correlation));

export type Line = {
  readonly slopePerS: number;
  /** One standard deviation. */
  readonly slopeSdPerS: number;
  /** At the last sample. */
  readonly end: number;
};

/** @param resolution finest step of the sensor: residuals below its quantisation are no knowledge. */
export function lineThrough(samples: readonly number[], intervalS: number, resolution: number): Line {
  const n = samples.length;
  const middle = (n - 1) / 2;
  let mean = 0;
  for (const sample of samples) mean += sample / n;
  let squares = 0;
  let product = 0;
  for (let i = 0; i < n; i += 1) {
    squares += (i - middle) ** 2;
    product += (i - middle) * (samples[i]! - mean);
  }
  const perSample = product / squares;
  const residuals = samples.map((sample, i) => sample - mean - perSample * (i - middle));
  let rss = 0;
  for (const residual of residuals) rss += residual * residual;
  const variance = Math.max(rss / Math.max(n - 2, 1), (resolution * resolution) / 12);
  const counted = independent(n, correlationOf(residuals));
  return {
    slopePerS: perSample / intervalS,
    slopeSdPerS: Math.sqrt((variance / squares) * (n / counted)) / intervalS,
    end: mean + perSample * (n - 1 - middle),
  };
}
