// The vehicles, rooms, tanks and hoses that seeded jobs are drawn from: the lab's grams, and a campaign without a plan.

/** What the drawn jobs are spread over. Ranges are this project's own: cars and vans in workshops that are not heated or cooled. */
export const POPULATION = {
  nominalChargeG: [350, 1100],
  /** Of the nominal charge. */
  chargePercent: [0, 110],
  oilG: [60, 180],
  ambientC: [5, 40],
  /** Vehicle and tank against the room, one standard deviation. */
  vehicleSdK: 2,
  tankSdK: 2,
  tankContentKg: [4, 14],
  altitudeM: [0, 2000],
  relativeHumidity: [0.2, 0.9],
  hoseLengthM: [1.2, 3],
  manifoldMl: [40, 80],
  delayS: [5, 60],
  openedShare: 0.3,
  engineShare: 0.5,
} as const;

export const HOSE_BORE_M = 0.0048;

/** Of a system that fits its charge: larger ones have more of both (estimate; 600 g in 2.4 to 2.8 L). */
export const VOLUME = { baseL: 0.8, leastLPerKg: 2.6, spreadLPerKg: 0.8 } as const;

/** @param spread 0 to 1, from the smallest system for the charge to the largest. */
export const volumeL = (nominalG: number, spread: number): number =>
  VOLUME.baseL + (nominalG / 1000) * (VOLUME.leastLPerKg + VOLUME.spreadLPerKg * spread);
