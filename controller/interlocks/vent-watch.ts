// Whether the closed manifold, alone or with what is joined to it through a hose valve, comes to the pressure of the room by itself: a
// way out of it stands open though it is told shut.
import { STANDARD_ATMOSPHERE_PA } from '../constants.ts';
import { isBarometric } from '../estimates/pressures.ts';
import type { Seen } from '../estimates/seen.ts';

export type VentSeen = 'shut' | 'open';

export type VentWatch = {
  /** The closed manifold stood this long ago far above, or far below, the room; absent before it did. */
  readonly aboveAtMs: number | undefined;
  readonly belowAtMs: number | undefined;
  /** Since when it has stood at the room's pressure, within this span; or, with a pump behind the way out, below it. */
  readonly sinceMs: number | undefined;
  readonly lowPa: number;
  readonly highPa: number;
  /** Stays: at the pressure of the room a manifold does not show that it has been mended. */
  readonly open: boolean;
};

export type VentInput = {
  /** Every valve is told to be shut, and the compressor stands. */
  readonly closed: boolean;
  /** The same but for a hose valve that has been open for long enough to make one pressure of both its sides. */
  readonly joined: boolean;
  /** No liquid boils in the manifold, on its way from a vacuum through the room's pressure and on. */
  readonly dry: boolean;
  readonly pumpRuns: boolean;
};

export const NOT_VENTING: VentWatch = {
  aboveAtMs: undefined,
  belowAtMs: undefined,
  sinceMs: undefined,
  lowPa: 0,
  highPa: 0,
  open: false,
};

/** Further from the room than valves that are still shutting let it move (estimate). */
const FAR_PA = 40_000;
/**
 * A manifold of 0.04 L blows down through a pump at rest within a second, and a manifold full of liquid within ten; a seat
 * that leaks as much as a tight one may takes hours (estimates).
 */
const WITHIN_MS = 20_000;
/** A vehicle of 4 L joined to it blows down through the same way within a minute (estimate). */
const JOINED_WITHIN_MS = 60_000;
/** What comes to rest there and what only passes (estimates). */
const REST_MS = 3_000;
const REST_SPAN_PA = 700;
/** A hose that stands as near to the room explains it through its own valve (estimate: the error of its transducer). */
const HOSE_PA = 20_000;

const notAtRoom = (watch: VentWatch): VentWatch => ({ ...watch, sinceMs: undefined });

const standsAt = (roomPa: number, ...hosesPa: readonly (number | undefined)[]): boolean =>
  hosesPa.some((hosePa) => Math.abs((hosePa ?? Number.NaN) - roomPa) < HOSE_PA);

/** Nothing drives it and nothing lets it out: what falls to the room's pressure, or rises to it and stays, is open to the room. */
export function watchVent(
  watch: VentWatch,
  seen: Seen,
  { closed, joined, dry, pumpRuns }: VentInput,
  nowMs: number,
): VentWatch {
  if (watch.open) return watch;
  if (!closed && !joined) return NOT_VENTING;
  const pressurePa = seen.manifoldOverSpan ? Number.POSITIVE_INFINITY : seen.manifoldPa;
  if (pressurePa === undefined) return NOT_VENTING;
  const roomPa = seen.barometerPa ?? STANDARD_ATMOSPHERE_PA;
  if (pressurePa > roomPa + FAR_PA) return { ...NOT_VENTING, aboveAtMs: nowMs };
  // A running pump draws the manifold empty through its valve, and a manifold in a vacuum behind it tells nothing.
  const drawn = pumpRuns && pressurePa < roomPa;
  // What is joined may rise to the room's pressure and stay there for the cold liquid that boils in it.
  if (pressurePa < roomPa - FAR_PA && !(drawn && watch.aboveAtMs !== undefined))
    return pumpRuns || !closed ? NOT_VENTING : { ...NOT_VENTING, belowAtMs: nowMs };
  if (!drawn && !isBarometric(pressurePa, seen.barometerPa)) return notAtRoom(watch);
  if (!drawn && closed && standsAt(roomPa, seen.highSidePa, seen.lowSidePa)) return notAtRoom(watch);
  return atRoom(watch, pressurePa, { drawn, dry, withinMs: closed ? WITHIN_MS : JOINED_WITHIN_MS }, nowMs);
}

function atRoom(
  watch: VentWatch,
  pressurePa: number,
  { drawn, dry, withinMs }: { readonly drawn: boolean; readonly dry: boolean; readonly withinMs: number },
  nowMs: number,
): VentWatch {
  const { aboveAtMs, belowAtMs } = watch;
  const lowPa = Math.min(watch.lowPa, pressurePa);
  const highPa = Math.max(watch.highPa, pressurePa);
  if (watch.sinceMs === undefined || (!drawn && highPa - lowPa > REST_SPAN_PA))
    return { ...watch, sinceMs: nowMs, lowPa: pressurePa, highPa: pressurePa };
  const { sinceMs } = watch;
  const soon = (farAtMs: number | undefined): boolean =>
    sinceMs - (farAtMs ?? Number.NEGATIVE_INFINITY) <= withinMs;
  const rests = nowMs - sinceMs >= REST_MS;
  const open = rests && (soon(aboveAtMs) || (dry && soon(belowAtMs)));
  return { ...watch, lowPa, highPa, open };
}

export const ventOf = ({ open }: VentWatch): VentSeen => (open ? 'open' : 'shut');
