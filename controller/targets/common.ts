// Thresholds and times of no one stage, each once, with where it comes from.
// "Common practice" is what the trade does, without a source; "estimate" is this project's own figure.
import { MINUTE_MS } from '../constants.ts';

export const WEIGHING = {
  /** The scale settles after valves move (common practice 1–3 s). */
  settleMs: 3_000,
  /** Mean over 5–10 s (common practice). */
  meanMs: 6_000,
  timeoutMs: 2 * MINUTE_MS,
} as const;

export const TIMES = {
  /** Operators may take their time, the machine is safe; a working day ends the wait (estimate). */
  promptMs: 8 * 60 * MINUTE_MS,
  /** Lost moments between steps, on top of every stage's own limit (estimate). */
  spareMs: 2 * MINUTE_MS,
  pauseMs: 8 * 60 * MINUTE_MS,
  /** A trip that nobody resets ends the job (estimate). */
  tripMs: 10 * MINUTE_MS,
} as const;
