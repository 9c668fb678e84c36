// Thresholds and times of filling the tank from a supply cylinder, each once, with where it comes from.
// "Common practice" is what the trade does, without a source; "estimate" is this project's own figure.
import { MINUTE_MS } from '../constants.ts';

export const FILL = {
  /**
   * So far below its limit the tank is left: what the hose and the coil still hold comes after the draw has ended, and the
   * interlock at the limit must never be what ends it (estimate: 40 g, 150 g and the scale's own error).
   */
  marginKg: 0.25,
  /** Less than this is not worth the connection (estimate). */
  leastKg: 0.1,
  /** Colder rooms give the liquid too little heat to boil it before the compressor (SAE J2788: used at 10 to 49 °C). */
  coldestK: 283.15,
  /** Further above saturation at the room's temperature than this: air, or another refrigerant (common practice: 0.4 bar). */
  excessPa: 40_000,
  /** A cylinder so much colder than the room, or one without liquid (estimate). */
  colderK: 10,
  /** A cylinder is left with so much above the atmosphere that no air gets in (common practice). */
  leastGaugePa: 30_000,
  /** Pressures are read this long after the cylinder's valve opened (estimate). */
  waitMs: 5_000,
  /** What gives no value for a moment may be a board that is silent: that is told first (estimate, twice what it takes). */
  unreadMs: 4_000,
  /**
   * The high-side valve lets liquid in by short openings, and opens again once the compressor has drawn the machine dry: the
   * first one, the shortest and the longest. The longest lets in some 25 g, a twentieth of the separator (estimates).
   */
  firstMs: 80,
  shortestMs: 40,
  longestMs: 500,
  /** More than this from one opening to the next comes past a valve that does not shut (estimate: four of the longest). */
  runsOnKg: 0.1,
  /** Openings grow until drawing dry takes as long as the first of these, and shrink beyond the second (estimate). */
  quickMs: 10_000,
  slowMs: 25_000,
  /** After an opening the manifold shows what came in (estimate). */
  lookMs: 700,
  /**
   * Dry is a suction at which the compressor would draw more than the room's heat can boil: with liquid in the separator it
   * could not have got there. What separator and manifold surely take up from the room, W/K (estimate, a third less than
   * likely).
   */
  boilingWPerK: 0.8,
  /** Not dry by then: a weak compressor, a blocked filter, or a separator full of liquid (estimate). */
  dryMs: 3 * MINUTE_MS,
  /** What drips from the coil has come, and a scale whose zero runs away by 2 g a minute has shown it (`watchDrift`). */
  restMs: 6 * MINUTE_MS,
  /**
   * After so long the scale is looked at in between: a zero that runs away by 3 g a minute takes the tank no nearer to its
   * limit than the margin allows (estimate).
   */
  lookAfterMs: 60 * MINUTE_MS,
  /** Half a gram a second, and no more than a working day (estimate). */
  mostMs: 8 * 60 * MINUTE_MS,
} as const;
