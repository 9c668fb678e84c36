// What every stage remembers, and the two things that several of them do: weighing, and a look at the machine alone.

/** Times are scan times in milliseconds. */
export type CommonData = {
  /** Moved on by the length of a pause, so that a pause costs no time. */
  readonly sinceMs: number;
  readonly stepSinceMs: number;
};

/** Gathers the mean of quiet counts, and of the hose pressure that pulls at the platform meanwhile. */
export type WeighingInProgress = {
  readonly sinceMs: number;
  readonly quietSinceMs: number;
  readonly samples: number;
  readonly sum: number;
  readonly hosePaSum: number;
  readonly lastAtMs: number;
};

/** The manifold shut off from everything, to see whether the machine itself lets in. */
export type ApartLook = {
  readonly sinceMs: number;
  /** The pressure once the valves had shut; absent until then, and where the absolute sensor has no value. */
  readonly fromPa: number | undefined;
};
