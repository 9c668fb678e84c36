// Thresholds and times of the repair and of the loss that demands one, each once, with where it comes from.
// "Common practice" is what the trade does, without a source; "estimate" is this project's own figure.
import { MINUTE_MS } from '../constants.ts';

export const REPAIR = {
  /** A vehicle waits for parts and people; after a month nobody remembers what was done (estimate). */
  timeoutMs: 30 * 24 * 60 * MINUTE_MS,
  /**
   * Above the atmosphere by more than this, pressure has come back: weather and the gauges' own drift, whose zero was
   * learnt against the absolute sensor, stay below it (estimate: 3 kPa each, and a coarse converter's 3 kPa).
   */
  backPa: 15_000,
  /** And by less than this it is gone again (estimate). */
  gonePa: 8_000,
  /** Drift of a scale over days and seasons stays below this (estimate: 3 g/K over 20 K, creep and dust). */
  scaleKg: 0.1,
} as const;

export const LOSS = {
  /**
   * Ordinary loss, share of the charge a year, compound (common practice: several per cent are ordinary, 10 % not
   * unusual). It makes 40 to 60 g a year of 400 to 600 g, as much as Directive 2006/40/EC lets a new type lose with one
   * or two evaporators; the measured mean is 6.9 % (52 g a year, Schwarz and Harnisch 2003, 300 cars).
   */
  yearlyShare: 0.1,
  /** Where the age is not given, so much is taken: the less is allowed, the sooner a repair is demanded. */
  unknownYears: 1,
  /** A system that has lost for longer no longer cools and would have been topped up (estimate). */
  mostYears: 5,
  /** What the last fill may have been off by, k = 2 (40 CFR 82 Subpart B, App. C: ±15 g). */
  fillKg: 0.015,
  /** Of the charge, what a recovery that ended well leaves as vapour and in the oil, and its doubt, k = 2 (estimate: 1 to 3 %). */
  leftShare: 0.02,
  leftDoubtShare: 0.02,
} as const;
