// Every gram: where it was, where it went, how sure.

/** A movement of refrigerant, booked from weighings with every valve shut. */
export const MOVEMENTS = [
  'vehicle-to-tank',
  'tank-to-separator',
  'tank-to-vehicle',
  'tank-to-air',
  'hoses-to-tank',
  'cylinder-to-tank',
] as const;
export type Movement = (typeof MOVEMENTS)[number];

export type LedgerEntry = {
  readonly movement: Movement;
  /** Positive in the direction the movement names. */
  readonly massKg: number;
  /** One standard deviation. */
  readonly sdKg: number;
  /** Raw scale counts before and after, so that the entry can be recomputed with another calibration. */
  readonly countsBefore: number;
  readonly countsAfter: number;
  readonly atMs: number;
};
