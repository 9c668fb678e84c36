// Thresholds and times of evacuation, hold, oil and dye, each once, with where it comes from.
// "Common practice" is what the trade does, without a source; "estimate" is this project's own figure.
import { MINUTE_MS } from '../constants.ts';

export const EVACUATE = {
  /** Oil is up to speed before the pump's valve opens (common practice: 3–5 s). */
  pumpUpMs: 5_000,
  joinTimeoutMs: 2 * MINUTE_MS,
  /** 50 mbar within 90 s or something is open (estimate: 1/4 inch hoses need about 10 s for 3 L). */
  roughPa: 5_000,
  roughMs: 90_000,
  /** So early the manifold is shut off and looked at alone: a seat that leaks loses 3 g a minute through the pump (estimate). */
  apartMs: 45_000,
  /** And again where the manifold rises by so much although it is pumped: a seat that passes 0.05 g/s makes twice as much (estimates). */
  calmMs: 20_000,
  risenPa: 600,
  /** 2000 micron: what a vehicle reaches through 1/4 inch hoses (common practice). */
  targetPa: 270,
  /** Common practice: 15–20 min when never opened, 45 min when opened. Sooner only where the vacuum proves it dry. */
  unopenedMs: 15 * MINUTE_MS,
  openedMs: 30 * MINUTE_MS,
  unopenedMostMs: 20 * MINUTE_MS,
  openedMostMs: 45 * MINUTE_MS,
  /**
   * At this reading of a thermal sensor, which shows 1.8 times the pressure of water vapour, two 1/4 inch hoses carry
   * away some 10 mg of water in another quarter of an hour (laminar and molecular flow summed): not worth it (estimate).
   */
  dryPa: 35,
  /** At the end of the common time this is good enough for the hold to judge: its own limit. */
  enoughPa: 1_000,
  /** After a hold that was not tight (estimate). */
  repeatMs: 10 * MINUTE_MS,
  /** After one that looked like a leak: long enough for oil to tire noticeably (estimate). */
  suspectMs: 20 * MINUTE_MS,
  /** Plateau: less than 3 % fall a minute (estimate). */
  plateauFraction: 0.03,
  plateauMs: MINUTE_MS,
  /** So many flat minutes between the pressures of ice and of water are water that boils (common practice: three). */
  boilingLooks: 3,
  timeoutMs: 90 * MINUTE_MS,
} as const;

export const HOLD = {
  /** The valve shuts before the pump stops, or pump oil is sucked back (common practice). */
  pumpOffDelayMs: 2_000,
  /** Pressure evens out along the hoses (estimate: 30–60 s). */
  equaliseMs: MINUTE_MS,
  unopenedMs: 5 * MINUTE_MS,
  openedMs: 10 * MINUTE_MS,
  extendedMs: 15 * MINUTE_MS,
  /** A dry system stays below this (common practice: vehicles settle at 1–5 mbar). */
  limitPa: 1_000,
  /** Slow desorption looks straight for a while; below this a slope proves nothing (estimate). */
  slopeFloorPaPerS: 0.02,
  /** What a tight system may still rise by: some 10 kg of R-134a a year out of a large one (estimate). */
  tightPaPerS: 0.035,
  /** 1 mPa·m³/s into 3 L, about 65 kg of R-134a a year: a hold blind to this is none (estimate). */
  worstSlopePaPerS: 0.33,
  /** Some 580 kg a year: no oil gives off gas so fast after an evacuation (estimate). */
  grossPaPerS: 3,
  /** A good deal more than what oil gives off after 15 min, as a sensor true for all gases sees it (estimate). */
  oilPaPerS: 1,
  /** Evacuations before an outgassing system is given up (common practice: three). */
  evacuations: 3,
  timeoutMs: 20 * MINUTE_MS,
} as const;

export const ADD_OIL = {
  /** Less than this of either is not worth the air that a line may bring (estimate). */
  leastM3: 0.5e-6,
  /** Vehicle and manifold are one vacuum (estimate). */
  joinMs: 2_000,
  blindMs: 15_000,
  /** The absolute sensor must show that nothing but the bottle's content can come (estimate). */
  vacuumPa: 10_000,
  /** Air instead of oil or dye: 3 mbar/s (common practice). */
  airPaPerS: 300,
  airPa: 200,
  airMs: 300,
  /**
   * How far a measured flow may be off, one standard deviation: a kelvin makes an oil thinner by some 5 % (estimate). And
   * the film, which is 1 to 3 mL, and how much longer or shorter than counted a valve stands open (estimates).
   */
  flowSdShare: 0.05,
  filmSdM3: 0.5e-6,
  openSdMs: 30,
  /** What stands in the line still runs in (estimate). */
  runInMs: 5_000,
  /** Common practice: a minute each. */
  doseMs: MINUTE_MS,
  /** An empty bottle is filled once; who fills it with air again gets no third evacuation (estimate). */
  empties: 2,
  timeoutMs: 3 * MINUTE_MS,
} as const;
