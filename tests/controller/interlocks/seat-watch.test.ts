// Where the watch of the closed manifold begins, ends and speaks: each limit itself, and the scan before it.
import { describe, expect, test } from 'vitest';
import { type Seen, see } from '../../../controller/estimates/seen.ts';
import {
  NOT_SHUT,
  type SeatWatch,
  seatsOf,
  shutSince,
  watchSeats,
} from '../../../controller/interlocks/seat-watch.ts';
import { SAFE_COMMANDS } from '../../../controller/signals.ts';
import { want } from '../../../controller/stages/stage.ts';
import { EQUIPMENT } from '../support/machine.ts';
import { readingsAt } from '../support/readings.ts';

const SCAN_MS = 100;
/** Long after the machine was switched on: what is counted is the time since the valves shut. */
const SHUT_AT_MS = 400_000;
const OVER_SPAN = { manifoldPa: undefined, manifoldOverSpan: true };
const UNREAD = { manifoldPa: undefined, manifoldOverSpan: false };

type Sight = number | Partial<Seen>;

/** When a leak is seen, ms after the valves shut. */
function seenAfterMs(
  at: (ms: number) => Sight,
  untilMs = 75_000,
  over: Partial<Seen> = {},
): number | undefined {
  const calm = { ...see(readingsAt(0), EQUIPMENT, 0), ...over };
  let watch: SeatWatch = shutSince(NOT_SHUT, SAFE_COMMANDS, SHUT_AT_MS);
  for (let ms = 0; ms <= untilMs; ms += SCAN_MS) {
    const sight = at(ms);
    const seen = { ...calm, ...(typeof sight === 'number' ? { manifoldPa: sight } : sight) };
    watch = watchSeats(watch, seen, true, SHUT_AT_MS + ms);
    if (seatsOf(watch, SHUT_AT_MS + ms) === 'leaks') return ms;
    watch = shutSince(watch, SAFE_COMMANDS, SHUT_AT_MS + ms);
  }
  return undefined;
}

/** One pressure, and from a moment on another. */
const step =
  (fromPa: Sight, toPa: Sight, atMs: number) =>
  (ms: number): Sight =>
    ms < atMs ? fromPa : toPa;

describe('A rise in the closed manifold', () => {
  test('is a leak after ten readings that agree', () => {
    expect(seenAfterMs(step(60_000, 140_000, 5_000))).toBe(6_000);
  });

  test('counts from a second after the valves were told to shut, and NOT from before', () => {
    expect(seenAfterMs(step(60_000, 140_000, 1_000))).toBeUndefined();
    expect(seenAfterMs(step(60_000, 140_000, 1_100))).toBe(2_100);
  });

  test('is one from 20 kPa on, above what air can make by 10 kPa', () => {
    expect(seenAfterMs(step(95_000, 115_000, 5_000))).toBe(6_000);
    expect(seenAfterMs(step(95_001, 115_000, 5_000))).toBeUndefined();
    expect(seenAfterMs(step(60_000, 111_325, 5_000))).toBeUndefined();
    expect(seenAfterMs(step(60_000, 111_326, 5_000))).toBe(6_000);
  });

  test('is judged by the barometer of the place', () => {
    expect(seenAfterMs(step(45_000, 90_000, 5_000), 20_000, { barometerPa: 75_000 })).toBe(6_000);
    expect(seenAfterMs(step(45_000, 85_000, 5_000), 20_000, { barometerPa: 75_000 })).toBeUndefined();
  });

  test('counts only from below 110 kPa: what stands there or higher may be boiling still', () => {
    expect(seenAfterMs(step(110_000, 135_000, 5_000))).toBeUndefined();
    expect(seenAfterMs(step(109_999, 135_000, 5_000))).toBe(6_000);
  });

  test('within a minute is one; from then on it counts anew', () => {
    const slow = (atMs: number) => (ms: number) => (ms < 61_000 ? 95_000 : ms < atMs ? 109_000 : 116_000);
    expect(seenAfterMs(slow(61_000))).toBe(62_000);
    expect(seenAfterMs(slow(61_100))).toBeUndefined();
  });

  test('that comes back below air within a second is none', () => {
    expect(seenAfterMs((ms) => (ms >= 5_000 && ms < 5_900 ? 140_000 : 60_000))).toBeUndefined();
    const twice = (ms: number) => (ms >= 5_000 && ms < 10_000 && ms !== 5_500 ? 140_000 : 60_000);
    expect(seenAfterMs(twice)).toBe(6_600);
  });

  test('past the span of the sensor goes on being one', () => {
    const past = (ms: number) => (ms < 5_000 ? 45_000 : ms < 5_100 ? 70_000 : OVER_SPAN);
    expect(seenAfterMs(past)).toBe(6_100);
  });

  test('before the sensor fell silent is forgotten', () => {
    const silent = (ms: number) => (ms < 5_000 ? 45_000 : ms < 5_100 ? 70_000 : UNREAD);
    expect(seenAfterMs(silent)).toBeUndefined();
    expect(seenAfterMs((ms) => (ms < 5_000 ? 45_000 : ms < 5_100 ? UNREAD : 140_000))).toBeUndefined();
  });
});

describe('The watch', () => {
  test('of a manifold that has just been closed has seen nothing', () => {
    expect(seatsOf(NOT_SHUT, SHUT_AT_MS)).toBe('tight');
  });

  test('ends when a valve opens: what was seen is forgotten, and the rest begins anew', () => {
    const shut = shutSince(NOT_SHUT, SAFE_COMMANDS, 0);
    expect(shutSince(shut, SAFE_COMMANDS, 100)).toBe(shut);
    const leaks = { ...shut, fromPa: 45_000, beyondSinceMs: 3_000 };
    expect(seatsOf(leaks, 5_000)).toBe('leaks');
    for (const output of ['lowSideValve', 'compressor'] as const) {
      const opened = shutSince(leaks, want(output), 5_100);
      expect(seatsOf(opened, 9_000)).toBe('tight');
      expect(shutSince(opened, SAFE_COMMANDS, 5_200).shutSinceMs).toBe(5_200);
    }
  });
});
