// Thresholds and times from the charge to the cleared hoses, each once, with where it comes from.
// "Common practice" is what the trade does, without a source; "estimate" is this project's own figure.
import { MINUTE_MS } from '../constants.ts';

export const CHARGE = {
  /** Full open until this is left, or this many seconds of flow (estimate, from cut-off statistics). */
  fineKg: 0.03,
  fineS: 2,
  /** Before anything is let in the vehicle is looked at once more; no vacuum that a hold may pass comes near this (estimates). */
  vacuumLookMs: 2_000,
  vacuumLostPa: 20_000,
  pulseMinMs: 150,
  pulseMaxMs: 300,
  pulseSettleMs: 1_500,
  /** Before the first pulse the hose shows the vehicle's pressure (estimate: blows down in half a minute). */
  lookMs: 25_000,
  /** Left alone when the next pulse would do no better (estimate). */
  toleranceKg: 0.002,
  /** Stalled: flow below the larger of these for so long (estimate). */
  stallKgPerS: 3e-4,
  stallFraction: 0.05,
  stallMs: 10_000,
  /** A stall is waited out this long: the vehicle's vapour condenses and the flow may return (estimate). */
  stallWaitMs: 5 * MINUTE_MS,
  /** A tank with a heater is helped after so long: waiting brings little to a vehicle that is as warm as its room (estimate). */
  helpMs: 45_000,
  /** Help with every valve shut: altogether, and how often. 200 W bring 10 kg up by 25 K in that time (estimate). */
  assistMs: 60 * MINUTE_MS,
  assists: 6,
  /** Before the hose is shut off its liquid gets room (estimate). */
  cushionMs: 10_000,
  /** Lead of the tank over the vehicle with which the flow comes back: after cooling, and after heating (estimates). */
  apartPa: 15_000,
  heatedApartPa: 25_000,
  /** A heated tank is brought this far above the vehicle (common practice: 3 to 5 K; more with every further time). */
  warmerK: 2,
  /** What heating must do to the tank, and cooling to its lead, from look to look (estimates: a tenth of 200 W). */
  lookAgainMs: 6 * MINUTE_MS,
  heatedPa: 8_000,
  cooledPa: 4_000,
  /** Help by the engine: clearing the manifold first, with the compressor's time off, and what it must stay below. */
  engineProveMs: 6 * MINUTE_MS,
  engineProvenPa: 120_000,
  /** The sides part, or the compressor does not turn (estimate). */
  engineApartMs: 2 * MINUTE_MS,
  /** Common practice: 10 min, suction below 3 to 4 bar, high side below 20 to 22 bar. */
  engineHelpMs: 15 * MINUTE_MS,
  engineSuctionGaugePa: 350_000,
  engineHighPa: 2_000_000,
  /** Everything shut for a look, and the manifold open to the low side after a pulse (estimates). */
  engineLookMs: 6_000,
  engineDrawMs: 1_500,
  /** Pulses that together bring less than this have stalled (estimate). */
  pulseLook: 10,
  pulseLookKg: 0.002,
  /** Hose and manifold blow down to the vehicle's pressure (estimate). */
  blowDownMs: 30_000,
  /** So much longer until the scale has been watched with the charge valve shut (estimate: a bump, and a minute). */
  watchMs: 75_000,
  /** Drawing hoses back: three fillings, three more draws after each, with the compressor's time off before every one (estimate). */
  drawBackMs: 45 * MINUTE_MS,
  /** Pulses are given up after so many (estimate: 3 min). */
  pulses: 60,
  /** A charge that ends further below its target is no charge (published limit ±15 g). */
  shortKg: 0.015,
  timeoutMs: 20 * MINUTE_MS,
} as const;

export const VERIFY = {
  /** The machine's valves have been shut and nothing has moved for so long before anyone is asked to start (estimate). */
  proveMs: 10_000,
  /** After a charge the manifold stands beyond the absolute sensor: the scale alone watches for a seat that leaks (estimate). */
  watchMs: 61_000,
  proveTimeoutMs: 3 * MINUTE_MS,
  /** Tank mass that may have moved meanwhile: scale drift, no valve (estimate). */
  provenKg: 0.005,
  stillKgPerS: 3e-4,
  /** By then a compressor that runs has pulled the sides apart (estimate). */
  apartMs: MINUTE_MS,
  apartPa: 100_000,
  /** Common practice: 5 to 10 min. */
  leastMs: 5 * MINUTE_MS,
  mostMs: 10 * MINUTE_MS,
  sampleMs: 5_000,
  /** Steady: both sides within these shares of themselves over a minute (estimate). */
  steadySamples: 12,
  steadyHighShare: 0.03,
  steadyLowShare: 0.06,
  /** Nobody lets a high side climb further than this (common practice: 20 to 22 bar). */
  highLimitPa: 2_200_000,
  /** Colder than this the pattern says nothing (common practice). */
  coldestK: 288.15,
  timeoutMs: 15 * MINUTE_MS,
} as const;

export const CLEAR_HOSES = {
  lookMs: 2_000,
  /** A charge valve passes 25 g/s, and evenly: so much from look to look, and so much in all of them (estimates). */
  lookEveryMs: 400,
  pouringLooks: 3,
  pouringLeastKg: 0.003,
  pouringMostKg: 0.016,
  pouredKg: 0.008,
  /** Then the scale is let settle. */
  pouredMs: 10_000,
  pouredMostMs: 60_000,
  /** Sides that are no further apart than this show no engine (estimate). */
  apartPa: 60_000,
  /** A closed coupler lets the hose fall most of the way to the low side within so long (estimate). */
  fallMs: 20_000,
  fallShare: 0.6,
  /** Liquid in the hose boils off (estimate); three minutes at most (common practice). */
  leastMs: 45_000,
  mostMs: 3 * MINUTE_MS,
  joinedPa: 25_000,
  /** High hose and manifold alone, cut off from the low side: what is left of liquid shows itself (estimate). */
  watchMs: 20_000,
  risePa: 60_000,
  /** And then shut: what comes back beyond saturation comes from the vehicle (estimate). */
  tellMs: 15_000,
  tellPa: 80_000,
  asks: 2,
  joins: 3,
  timeoutMs: 5 * MINUTE_MS,
} as const;

export const HOSES = {
  drawnPa: 60_000,
  drawnHoldMs: 20_000,
  /** Hoses without liquid fall through the compressor's floor within a second: stop at once (estimate). */
  emptyPa: 45_000,
  restMs: 60_000,
  /** A rise in the rest that says liquid is left in the hoses (estimate). */
  risePa: 20_000,
  /** Further draws, each after the compressor's time off. */
  draws: 4,
  /** Pressure that has not halved by then: a coupler is open and the vehicle is being emptied (estimate). */
  couplerMs: 60_000,
  drawTimeoutMs: 5 * MINUTE_MS,
  /** Safe to disconnect: below 0.3 bar gauge (common practice). */
  disconnectGaugePa: 30_000,
  /** A vehicle short by more than this is told (estimate: half the published ±15 g limit). */
  shortKg: 0.008,
  timeoutMs: 30 * MINUTE_MS,
} as const;
