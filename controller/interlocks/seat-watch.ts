// Whether a shut valve lets tank or hose pressure into the closed manifold: the absolute sensor sees it rise.
import { HIGHEST_WEATHER_PA } from '../estimates/pressures.ts';
import type { Seen } from '../estimates/seen.ts';
import { type Commands, VALVES } from '../signals.ts';

export type SeatSeen = 'tight' | 'leaks';

export type SeatWatch = {
  /** Since when every valve has been shut and the compressor off. */
  readonly shutSinceMs: number | undefined;
  /** What the rise counts from; absent while nothing can be told. */
  readonly fromPa: number | undefined;
  readonly fromMs: number;
  /** The last pressure that was inside the sensor's span. */
  readonly lastPa: number;
  readonly beyondSinceMs: number | undefined;
};

export const NOT_SHUT: SeatWatch = {
  shutSinceMs: undefined,
  fromPa: undefined,
  fromMs: 0,
  lastPa: 0,
  beyondSinceMs: undefined,
};

const isClosed = (permitted: Commands): boolean =>
  VALVES.every((valve) => !permitted[valve].on) && !permitted.compressor.on;

/** After judging: whether the manifold is closed. */
export function shutSince(watch: SeatWatch, permitted: Commands, nowMs: number): SeatWatch {
  if (!isClosed(permitted)) return NOT_SHUT;
  return watch.shutSinceMs === undefined ? { ...NOT_SHUT, shutSinceMs: nowMs } : watch;
}

/** Valves have really shut, and what was under way has come to rest (estimate). */
const AT_REST_MS = 1_000;
/**
 * A shut manifold of 0.04 L rises by 30 kPa a second through a seat that passes 0.05 g/s, and by less than 1 kPa in two
 * minutes where all seats are tight, warming and oil that gives off gas included (the bench's own simulator, 550 rests of
 * 59 jobs).
 */
const RISE_PA = 20_000;
const WITHIN_MS = 60_000;
/** No air comes in beyond the barometer, but what the sensor and the weather may be off by (estimate). */
const BEYOND_AIR_PA = 10_000;
/** A manifold that starts higher may be falling or boiling still (estimate). */
const FROM_BELOW_PA = 110_000;
/** Ten readings that agree. */
const SURE_MS = 1_000;

/**
 * `dry`: the manifold has been so low for so long that no liquid boils in it. Only what rises beyond the air around is
 * called a leak of a valve: air would come through a fitting as well.
 */
export function watchSeats(watch: SeatWatch, seen: Seen, dry: boolean, nowMs: number): SeatWatch {
  const { shutSinceMs, fromPa } = watch;
  if (!dry || nowMs - (shutSinceMs ?? nowMs) < AT_REST_MS) return at(watch, undefined, nowMs);
  const { manifoldPa } = seen;
  if (manifoldPa === undefined && !seen.manifoldOverSpan) return at(watch, undefined, nowMs);
  if (fromPa === undefined) return at(watch, startPa(manifoldPa), nowMs);
  const lastPa = manifoldPa ?? watch.lastPa;
  const airPa = (seen.barometerPa ?? HIGHEST_WEATHER_PA) + BEYOND_AIR_PA;
  const beyond = lastPa - fromPa >= RISE_PA && (manifoldPa === undefined || manifoldPa > airPa);
  if (beyond) return { ...watch, lastPa, beyondSinceMs: watch.beyondSinceMs ?? nowMs };
  return nowMs - watch.fromMs >= WITHIN_MS
    ? at(watch, startPa(manifoldPa), nowMs)
    : { ...watch, lastPa, beyondSinceMs: undefined };
}

const startPa = (pressurePa: number | undefined): number | undefined =>
  (pressurePa ?? Number.POSITIVE_INFINITY) < FROM_BELOW_PA ? pressurePa : undefined;

const at = ({ shutSinceMs }: SeatWatch, fromPa: number | undefined, nowMs: number): SeatWatch => ({
  ...NOT_SHUT,
  shutSinceMs,
  fromPa,
  fromMs: nowMs,
});

export const seatsOf = ({ beyondSinceMs }: SeatWatch, nowMs: number): SeatSeen =>
  nowMs - (beyondSinceMs ?? nowMs) >= SURE_MS ? 'leaks' : 'tight';
