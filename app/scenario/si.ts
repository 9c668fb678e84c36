// What the units of a scenario file are in SI.

export const GRAM_KG = 1e-3;
export const LITRE_M3 = 1e-3;
export const MILLILITRE_M3 = 1e-6;
export const BAR_PA = 1e5;
export const HOUR_S = 3600;
