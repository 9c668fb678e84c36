// Thresholds and times from identification to the drained oil, each once, with where it comes from.
// "Common practice" is what the trade does, without a source; "estimate" is this project's own figure.
import { MINUTE_MS } from '../constants.ts';

export const IDENTIFY = {
  /** Recycled-refrigerant practice accepts 98 % or purer (SAE J2099 public summary). */
  minimumPurityPercent: 98,
  /** So much is worth telling, and so much no purge gets out of a tank again (estimates). */
  airToldPercent: 1,
  airPercent: 10,
  /** Identifiers tell a few per cent of hydrocarbons apart from none (estimate). */
  hydrocarbonPercent: 2,
} as const;

export const PURGE_AIR = {
  lookMs: 5_000,
  /** Untouched for so long, liquid, wall and thermometer are one temperature (estimate; the classical check waits 12 h: SAE J1989). */
  restedMs: 120 * MINUTE_MS,
  /** In standard deviations of the excess: sure enough to vent, and no more to be had (common practice: 2 and 1). */
  beginsSd: 2,
  endsSd: 1,
  /** Short openings with pauses, then a look at a tank that has come to rest (common practice: 0.5 to 1 s, 5 min). */
  pulseMs: 1_000,
  pauseMs: 10_000,
  pulses: 4,
  restMs: 5 * MINUTE_MS,
  /** Refrigerant and air together (common practice: 20 g a session). */
  mostKg: 0.02,
  /** An automatic purge is to be over by then (SAE J2788 as of 2020, public summary). */
  mostMs: 30 * MINUTE_MS,
  /** An excess above the margin of the classical limit tables, 4 to 5 psi, is told (from memory of SAE J2211). */
  toldPa: 30_000,
} as const;

export const SETTLE = {
  /** Sides at rest differ by less than this (common practice: 0.3 bar after ten minutes off). */
  sidesTolerancePa: 30_000,
  /** Above saturation at ambient by more than this: air, or another refrigerant (common practice: 0.4 bar). */
  excessPa: 40_000,
  /** At or below this there is nothing to recover (common practice: 1.05 bar absolute). */
  emptyPa: 105_000,
  /** A vehicle brought in may be this much colder than the room (estimate). */
  vehicleColderK: 10,
  /** Free capacity beyond the expected charge that a recovery needs to begin (common practice: 1 kg). */
  tankRoomKg: 1,
  /** More than this above saturation is too much air to charge from (common practice: 1 bar). */
  tankAirPa: 100_000,
  /** More than this below it, sensor errors allowed for, is no tank of this refrigerant with liquid in it (estimate). */
  tankUnderPa: 20_000,
  /** Between two jobs a tank keeps its mass as nearly as this, and the zero of its scale drifts by a day's warmth (estimates). */
  tankKeepsKg: 0.15,
  scaleWarmsK: 10,
  /** Pressures are read this long after the couplers opened (estimate: hoses fill in under a second). */
  waitMs: 5_000,
  /** So much of the compressor's rest passes while the hoses are weighed and the suction is joined (estimate). */
  compressorRestMs: 10_000,
  /** How long unequal sides are given (common practice 5–15 min after driving; estimate for a parked vehicle). */
  equaliseMs: MINUTE_MS,
  /** The same after the engine has run (common practice: 5 to 15 min). */
  afterEngineMs: 5 * MINUTE_MS,
  /** A step of it; the longest waits for the sides after the engine has run. */
  timeoutMs: 20 * MINUTE_MS,
} as const;

export const RECOVER = {
  /** Suction pressure that ends a run (common practice: 0.2 to 0.5 bar below atmosphere). */
  stopPa: 60_000,
  /**
   * What still comes at this pressure is less than the scale shows: gas out of oil. This brings most of it; the longer,
   * the less sure is what the condenser keeps back of it (estimate).
   */
  stopHoldMs: 1.5 * MINUTE_MS,
  /** The first grams of a run fill the condenser before the scale sees any (estimate). */
  fillingMs: 90_000,
  /** Drawn this low the run ends at once: the compressor only gets hot (estimate). */
  floorPa: 22_000,
  /** Flow that counts as none (estimate: well above the slow filter's noise). */
  noFlowKgPerS: 1e-4,
  /** A trickle at stop pressure may be cold liquid boiling or air drawn in; only a rest tells (estimate). */
  trickleMs: 6.25 * MINUTE_MS,
  /**
   * Where a rest has shown liquid and the label says that more than this is left, the run goes on: a cold pool draws in
   * the most heat, and every rest lets it warm; with less it goes on a little. Air that comes in meanwhile shows in the
   * tank (estimates).
   */
  muchKg: 0.25,
  muchTrickleMs: 18 * MINUTE_MS,
  againTrickleMs: 8 * MINUTE_MS,
  /**
   * Where by the first run so much is left, or what is left takes longer than a recovery may (SAE J2788: 30 min) by more
   * than this, it goes on without a rest: each costs a hundredth of what heat allows (estimates).
   */
  unrestedKg: 0.35,
  shortMs: 2 * MINUTE_MS,
  unrestedMs: 30 * MINUTE_MS,
  /** Displacement that counts as a flow: twice what the scale must show for one (estimate). */
  drawsKgPerS: 2e-4,
  /** With less than this to come a scale that shows nothing ends the run, wherever the last of it may be (estimate). */
  fewKg: 0.05,
  /** Valves that gave way in a run may let half of what they drew through since (estimate). */
  slackShare: 0.5,
  /** Suction that neither falls nor flows (estimate). */
  stagnantPaPerS: 100,
  stagnantMs: MINUTE_MS,
  compressorDelayMs: 2_000,
  runMs: 20 * MINUTE_MS,
  cycles: 8,
  totalMs: 45 * MINUTE_MS,
} as const;

export const REST = {
  /**
   * So much further above saturation than before the first draw, the tank has been given air (estimate: some 12 g in
   * 15 L of vapour space; what a draw leaves warmer than its thermometer is a third of that).
   */
  tankAirPa: 40_000,
  /** A rise that says liquid (common practice: 0.1 bar in two minutes). */
  risePa: 10_000,
  /** A rise that says vapour out of oil, worth one more cycle (estimate: 30 mbar in two minutes). */
  smallRisePa: 3_000,
  /** At rest above this, refrigerant is left (common practice: 1.05 bar absolute). */
  leftPa: 105_000,
  /**
   * A rise that comes sooner says the same, the better the sooner: this is for hoses, manifold and vehicle to become one.
   * The compressor's own rest is longer as a rule, and every second beyond it lets a cold pool warm (estimate).
   */
  earliestMs: 1.5 * MINUTE_MS,
  /** Another cycle for a small rise only while the last one brought this much (estimate). */
  worthKg: 0.005,
  /** Slope between samples this far apart says whether the pressure still climbs. */
  slopeMs: 30_000,
  /** Off at least five minutes, the last two of them stable (SAE J1989). */
  longMs: 5 * MINUTE_MS,
  stableMs: 2 * MINUTE_MS,
  stablePa: 3_000,
  sampleMs: 5_000,
  timeoutMs: 8 * MINUTE_MS,
} as const;

export const DRAIN_OIL = {
  /** Separator above the atmosphere when its drain opens: 0.3 bar at least (common practice: 0.3 to 3 bar). */
  leastGaugePa: 34_000,
  /** What the pulses aim at: inside the span of the absolute sensor (estimate). */
  aimGaugePa: 42_000,
  mostGaugePa: 54_000,
  /** Less than this and nothing pushes the oil any more (estimate). */
  spentGaugePa: 15_000,
  /** Cold liquid has flashed and the absolute sensor shows a separator that has come to rest (estimate). */
  lookMs: 3_000,
  restPaPerS: 400,
  blindMs: 25_000,
  firstPulseMs: 30,
  shortestPulseMs: 12,
  longestPulseMs: 60,
  pulses: 12,
  /** The first opening, in dead times of the valve: a dry separator loses about a tenth of a gram by it (estimate). */
  probeDeadTimes: 0.5,
  /**
   * Many short openings with a look after each rather than two or three of ten seconds: gas follows the oil faster than
   * a scan and a valve could stop it (estimate: 0.3 mL of oil or 0.2 g of gas each).
   */
  openMs: 80,
  /** With a float, which lets no gas follow, an opening may last: some 2 mL (estimate). */
  floatOpenMs: 600,
  /** An opening that takes less than this share of the pressure found the float shut: no oil is left (estimate). */
  floatShutShare: 0.0015,
  /** And more than this means that the float sticks and gas follows: oil takes some 0.6 % (estimate). */
  floatGasShare: 0.02,
  /** Means over this long before and after an opening, as far after it as the valve may take to shut (estimate). */
  meanMs: 300,
  shutMs: 250,
  /** An opening that takes this share of the pressure with it let gas out: oil takes a tenth of that (estimate). */
  gasShare: 0.006,
  /** About 50 mL and two minutes at half a bar (common practice: a minute). */
  openings: 150,
  /** Foam settles before the bottle is read (common practice). */
  foamMs: 10 * MINUTE_MS,
  /** More than this is an oil flood (common practice: 0 to 30 mL are usual). */
  floodM3: 60e-6,
  /** The compressor's time off and a few seconds of running. */
  returnMs: 3 * MINUTE_MS,
  timeoutMs: 6 * MINUTE_MS,
} as const;
