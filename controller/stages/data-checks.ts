// What the stages remember that look at a charged vehicle.
import type { Look } from '../estimates/pressure-watch.ts';
import type { Trend } from '../estimates/trend.ts';
import type { ChargeData } from './data-charge.ts';
import type { CommonData, WeighingInProgress } from './data-common.ts';

export type LeakCheckData = CommonData & {
  readonly stage: 'leak-check';
  readonly step: 'admit' | 'settle' | 'search' | 'weigh';
  /** The partial charge under way, or as it ended; none for a vehicle that is searched as it stands. */
  readonly admission: ChargeData | undefined;
  /** The lowest of the vehicle's gauges; absent while one of them has no value. */
  readonly vehicle: Trend | undefined;
  /** When the question was asked, and now. */
  readonly from: Look | undefined;
  readonly to: Look | undefined;
  /** When the vehicle's pressure was last known. */
  readonly seenAtMs: number;
  /** What the search has come to, while the tank is weighed before what was let in goes back. */
  readonly ending: 'search-found' | 'search-clear' | undefined;
  readonly weighing: WeighingInProgress | undefined;
};

export type VerifyData = CommonData & {
  readonly stage: 'verify';
  readonly step: 'prove' | 'start' | 'run';
  /** Since when valves, scale and sides have been as they must be before an engine starts. */
  readonly provenSinceMs: number | undefined;
  readonly highPa: readonly number[];
  readonly lowPa: readonly number[];
  readonly sampledAtMs: number;
};
