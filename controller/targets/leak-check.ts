// Thresholds and times of the pressurised leak check, each once, with where it comes from.
// "Common practice" is what the trade does, without a source; "estimate" is this project's own figure.
import { MINUTE_MS } from '../constants.ts';

export const LEAK_CHECK = {
  /** Share of the nominal charge that leaves the tank: 10 to 15 % (common practice, as in procedures for R-1234yf). */
  share: 0.13,
  leastShare: 0.1,
  /** Vapour, metal and oil come to rest (estimate). */
  settleMs: MINUTE_MS,
  settleMostMs: 5 * MINUTE_MS,
  calmPaPerS: 100,
  /** A partial charge that shows less than this above the atmosphere did not reach the vehicle (estimate). */
  leastGaugePa: 50_000,
  /** A detector wants this pressure and this warmth, or misses small leaks (SAE J1628, from memory). */
  searchGaugePa: 340_000,
  searchK: 288.15,
  /** No gauge has told of the vehicle for so long (estimate). */
  blindMs: 2 * MINUTE_MS,
} as const;
