// Constants that more than one estimate or stage needs.

export const ZERO_CELSIUS_K = 273.15;
/** Exact since the SI of 2019: 8.31446261815324 J/(mol·K), rounded. */
export const GAS_CONSTANT_J_PER_MOL_K = 8.314463;
/** ISO 2533; stands in for the barometer that nobody reads. */
export const STANDARD_ATMOSPHERE_PA = 101_325;
/** Stands in while no thermometer reads. */
export const ROOM_K = 293.15;
/** A reading is believed when it shows this many deviations more than what is to be proven. */
export const SURE = 3;

export const MINUTE_MS = 60_000;
