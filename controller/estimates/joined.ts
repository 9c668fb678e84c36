// Whether the two side sensors agree where they must: both hoses joined by the manifold, and nothing flowing.
import { SURE } from '../constants.ts';
import type { Equipment } from '../equipment.ts';
import { type Commands, OUTPUTS, type Output } from '../signals.ts';
import type { Seen } from './seen.ts';

export type Joined = {
  /** Since when the hoses are joined and nothing flows; absent while that is not so. */
  readonly sinceMs: number | undefined;
  /** How far apart the sides stood when they were joined last, where no offset of the sensors explains it; else nothing. */
  readonly apartPa: number;
};

export const NEVER_JOINED: Joined = { sinceMs: undefined, apartPa: 0 };

/** Hoses, manifold and vehicle have become one pressure by then (estimate). */
const EVENS_MS = 20_000;
/** What valves and a little flow leave (estimate). */
const APART_PA = 20_000;

const STILL: readonly Output[] = ['fanStop', 'tankHeater'];

const isJoined = (permitted: Commands): boolean =>
  permitted.highSideValve.on &&
  permitted.lowSideValve.on &&
  OUTPUTS.every(
    (output) =>
      !permitted[output].on ||
      output === 'highSideValve' ||
      output === 'lowSideValve' ||
      STILL.includes(output),
  );

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
