// How long the network's steps may be, and when it may be left alone.

/** The step rule; times in seconds, errors relative to the mean pressure. */
export type StepRule = {
  readonly longestS: number;
  readonly shortestS: number;
  /** Prediction and result may differ by this much, and this much more in pascal. */
  readonly rejectAbove: number;
  readonly growBelow: number;
  readonly floorPa: number;
  /** A pressure may move by this share in one step longer than `swingS`. */
  readonly swingShare: number;
  readonly swingS: number;
  /** A quiet network is left alone this long: nothing moves that an instrument would show. */
  readonly quietS: number;
};

export const STEP_RULE: StepRule = {
  longestS: 0.1,
  shortestS: 0.0016,
  rejectAbove: 0.03,
  growBelow: 0.01,
  floorPa: 20,
  swingShare: 0.03,
  swingS: 0.012,
  quietS: 0.5,
};

/** What no instrument shows: a fifteenth of the finest pressure sensor's step, a twenty-fifth of a gauge's class, a tenth of the scale's noise. */
export const UNSEEN_PA = 0.2;
export const UNSEEN_SHARE = 1e-4;
export const UNSEEN_KG = 4e-5;
