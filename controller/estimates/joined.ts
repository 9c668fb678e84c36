// Whether the two side sensors agree where they must: both hoses joined by the manifold, and nothing flowing. And whether they
// do what no hoses can.
import { SURE } from '../constants.ts';
import type { Equipment } from '../equipment.ts';
import { type Commands, OUTPUTS, type Output } from '../signals.ts';
import type { Seen } from './seen.ts';

export type Joined = {
  /** Since when the hoses are joined and nothing flows; absent while that is not so. */
  readonly sinceMs: number | undefined;
  /** How far apart the sides stood when they were joined last, where no offset of the sensors explains it, or leapt since; else nothing. */
  readonly apartPa: number;
};

export const NEVER_JOINED: Joined = { sinceMs: undefined, apartPa: 0 };

/** Hoses, manifold and vehicle have become one pressure by then (estimate). */
const EVENS_MS = 20_000;
/** What valves and a little flow leave (estimate). */
const APART_PA = 20_000;

/** What neither feeds nor draws leaves two joined hoses as they are. */
const STILL: readonly Output[] = ['highSideValve', 'lowSideValve', 'fanStop', 'tankHeater'];
const OTHERS: readonly Output[] = OUTPUTS.filter((output) => !STILL.includes(output));

const isJoined = (permitted: Commands): boolean =>
  permitted.highSideValve.on && permitted.lowSideValve.on && !OTHERS.some((output) => permitted[output].on);

export function watchJoined(
  watch: Joined,
  permitted: Commands | undefined,
  { highSidePa, lowSidePa }: Pick<Seen, 'highSidePa' | 'lowSidePa'>,
  { pressure }: Pick<Equipment, 'pressure'>,
  nowMs: number,
): Joined {
  if (permitted === undefined || !isJoined(permitted))
    return watch.sinceMs === undefined ? watch : { ...watch, sinceMs: undefined };
  const sinceMs = watch.sinceMs ?? nowMs;
  const known = highSidePa !== undefined && lowSidePa !== undefined && nowMs - sinceMs >= EVENS_MS;
  const differencePa = known ? Math.abs(highSidePa - lowSidePa) : 0;
  const tolerancePa = APART_PA + SURE * Math.hypot(pressure.highSideSdPa, pressure.lowSideSdPa);
  const apartPa = known ? (differencePa > tolerancePa ? differencePa : 0) : watch.apartPa;
  return sinceMs === watch.sinceMs && apartPa === watch.apartPa ? watch : { sinceMs, apartPa };
}

type Sides = Pick<Seen, 'highSidePa' | 'lowSidePa'>;

/** From one reading to the next, hoses that are shut and a vehicle that is started move either side by less (estimate). */
const LEAPS_PA = 50_000;

/** Both sides leap at once, one up and one down, with both hoses shut: no pressure does that, but plugs that are exchanged do. */
export function watchLeap(
  watch: Joined,
  permitted: Commands | undefined,
  before: Sides | undefined,
  { highSidePa, lowSidePa }: Sides,
): Joined {
  const shut = permitted !== undefined && !permitted.highSideValve.on && !permitted.lowSideValve.on;
  if (!shut || highSidePa === undefined || lowSidePa === undefined) return watch;
  const highLeapPa = highSidePa - (before?.highSidePa ?? highSidePa);
  const lowLeapPa = lowSidePa - (before?.lowSidePa ?? lowSidePa);
  const apart = highLeapPa * lowLeapPa < 0;
  const leaps = Math.min(Math.abs(highLeapPa), Math.abs(lowLeapPa)) > LEAPS_PA;
  return apart && leaps
    ? { ...watch, apartPa: Math.max(watch.apartPa, Math.abs(highLeapPa), Math.abs(lowLeapPa)) }
    : watch;
}
