// The thresholds and times of every stage, each once, with where it comes from.
// "Common practice" is what the trade does, without a source; "estimate" is this project's own figure.

const MINUTE_MS = 60_000;

/** Identification gate: recycled-refrigerant practice accepts 98 % or purer (SAE J2099 public summary). */
export const IDENTIFY = { minimumPurityPercent: 98 } as const;

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
  /** Pressures are read this long after the couplers opened (estimate: hoses fill in under a second). */
  waitMs: 5_000,
  /** How long unequal sides are given (common practice 5–15 min after driving; estimate for a parked vehicle). */
  equaliseMs: MINUTE_MS,
  timeoutMs: 10 * MINUTE_MS,
} as const;

export const RECOVER = {
  /** Suction pressure that ends a run (common practice: 0.2 to 0.5 bar below atmosphere). */
  stopPa: 60_000,
  stopHoldMs: 10_000,
  /** The first grams of a run fill the condenser before the scale sees any (estimate). */
  fillingMs: 90_000,
  /** Drawn this low the run ends at once: the compressor only gets hot (estimate). */
  floorPa: 25_000,
  /** Flow that counts as none (estimate: well above the slow filter's noise). */
  noFlowKgPerS: 1e-4,
  /**
   * A trickle at stop pressure may be cold liquid boiling or air drawn in; only a rest tells (estimate). Running on
   * keeps the pool cold and so draws the most heat into it, hence minutes rather than seconds.
   */
  trickleMs: 6 * MINUTE_MS,
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
  earliestMs: 2 * MINUTE_MS,
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

export const EVACUATE = {
  /** Oil is up to speed before the pump's valve opens (common practice: 3–5 s). */
  pumpUpMs: 5_000,
  joinTimeoutMs: 2 * MINUTE_MS,
  /** 50 mbar within 90 s or something is open (estimate: 1/4 inch hoses need about 10 s for 3 L). */
  roughPa: 5_000,
  roughMs: 90_000,
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
  /** Less than this is not worth the air that a line may bring (estimate). */
  leastM3: 0.5e-6,
  /** Vehicle and manifold are one vacuum (estimate). */
  joinMs: 2_000,
  blindMs: 15_000,
  /** The absolute sensor must show that nothing but oil can come (estimate). */
  vacuumPa: 10_000,
  /** Air instead of oil: 3 mbar/s (common practice). */
  airPaPerS: 300,
  airPa: 200,
  airMs: 300,
  /** What stands in the line still runs in (estimate). */
  runInMs: 5_000,
  /** Common practice: a minute each. */
  doseMs: MINUTE_MS,
  /** An empty bottle is filled once; who fills it with air again gets no third evacuation (estimate). */
  empties: 2,
  timeoutMs: 3 * MINUTE_MS,
} as const;

export const CHARGE = {
  /** Full open until this is left, or this many seconds of flow (estimate, from cut-off statistics). */
  fineKg: 0.03,
  fineS: 2,
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
  /** Hose and manifold blow down to the vehicle's pressure (estimate). */
  blowDownMs: 30_000,
  /** Drawing hoses back, twice, with the compressor's time off in between (estimate). */
  drawBackMs: 12 * MINUTE_MS,
  /** Pulses are given up after so many (estimate: 3 min). */
  pulses: 60,
  /** A charge that ends further below its target is no charge (published limit ±15 g). */
  shortKg: 0.015,
  timeoutMs: 20 * MINUTE_MS,
} as const;

export const VERIFY = {
  /** The machine's valves have been shut and nothing has moved for so long before anyone is asked to start (estimate). */
  proveMs: 10_000,
  proveTimeoutMs: 2 * MINUTE_MS,
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
