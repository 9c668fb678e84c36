// What a stage is shown, made of the few things that a test is about: everything else is unknown, shut and new.
import { NEVER_JOINED } from '../../../controller/estimates/joined.ts';
import type { Weighing } from '../../../controller/estimates/masses.ts';
import { openScale, type ScaleState } from '../../../controller/estimates/scale-state.ts';
import type { Seen } from '../../../controller/estimates/seen.ts';
import { NO_DRIFT } from '../../../controller/estimates/zero-drift.ts';
import type { WeighingInProgress } from '../../../controller/stages/data-common.ts';
import type { StageInput } from '../../../controller/stages/stage.ts';
import { type Given, shown } from './stage-input.ts';
import { weighingOf } from './weighings.ts';

/** A room at 20 °C and sea level; no pressure has a value. */
export const UNSEEN: Seen = {
  highSidePa: undefined,
  lowSidePa: undefined,
  tankPa: undefined,
  manifoldPa: undefined,
  manifoldOverSpan: false,
  vehicleVacuumPa: undefined,
  barometerPa: 101_325,
  tankTemperatureK: 293.15,
  ambientK: 293.15,
  ventK: undefined,
  scaleCounts: undefined,
  scaleAtMs: undefined,
  heardAtMs: undefined,
  emergencyStop: 'clear',
  highPressureSwitch: 'clear',
  fanFlow: 'clear',
  gasAlarm: 'not-fitted',
};

/** As `shown`, but what the test does not name is unknown, new, and at the first moment. */
export const inputOf = ({ seen, ...given }: Given = {}): StageInput =>
  shown({ nowMs: 0, compressorRested: false, ...given, seen: { ...UNSEEN, ...seen } });

/** A tank of 8 kg on a scale that has come to rest, and the weighing of it. */
export const TRUSTED: ScaleState = {
  ...openScale(),
  trust: 'trusted',
  counts: 2_100_000,
  massKg: 8,
  slowMassKg: 8,
};
export const WEIGHED: Weighing = weighingOf();
/** A weighing that needs one more sample and no more time. */
export const NEARLY_WEIGHED: WeighingInProgress = {
  sinceMs: 0,
  quietSinceMs: 0,
  samples: 9,
  sum: 9 * 2_100_000,
  hosePaSum: 0,
  lastAtMs: 59_900,
};
/** The scan that ends it. */
export const weighedNow = (counts = 2_100_000): Given => ({
  nowMs: 60_000,
  estimates: {
    scale: { ...TRUSTED, counts, atMs: 60_000 },
    joined: NEVER_JOINED,
    drift: NO_DRIFT,
    cellWarmerK: 0,
  },
});
