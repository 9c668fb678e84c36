// Where the Celsius scale begins.

export const ZERO_CELSIUS_K = 273.15;
