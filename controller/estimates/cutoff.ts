// When to shut the charge valve so that the last gram lands on the target.

export type CutoffInput = {
  readonly remainingKg: number;
  /** Leaving the tank, positive. */
  readonly flowKgPerS: number;
  readonly deadTimeMs: number;
  /** Learnt mean of what still passes after the valve has shut. */
  readonly inFlightKg: number;
};

/** Milliseconds from now until the valve must be told to shut; zero or less means now. No flow, no answer. */
export function shutInMs({
  remainingKg,
  flowKgPerS,
  deadTimeMs,
  inFlightKg,
}: CutoffInput): number | undefined {
  if (!(flowKgPerS > 0)) return undefined;
  return ((remainingKg - inFlightKg) / flowKgPerS) * 1000 - deadTimeMs;
}

export type PulseInput = {
  readonly remainingKg: number;
  /** Learnt mass per millisecond of pulse. */
  readonly kgPerMs: number;
  readonly shortestMs: number;
  readonly longestMs: number;
  readonly toleranceKg: number;
};

/** Length of the next pulse, or none when it would do no better than stopping. */
export function nextPulseMs(input: PulseInput): number | undefined {
  const { remainingKg, kgPerMs, shortestMs, longestMs, toleranceKg } = input;
  if (!(kgPerMs > 0)) return remainingKg > toleranceKg ? shortestMs : undefined;
  const halfPulseKg = (kgPerMs * shortestMs) / 2;
  if (remainingKg < Math.min(halfPulseKg, toleranceKg)) return undefined;
  return Math.min(Math.max(remainingKg / kgPerMs, shortestMs), longestMs);
}
