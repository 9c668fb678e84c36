// A suction that falls by less and less is a vehicle that empties; one whose fall halves at once is a compressor.
import { describe, expect, test } from 'vitest';
import { type SuctionFall, startFall, watchFall } from '../../../controller/estimates/suction-fall.ts';

/** One reading a second. */
const watched = (
  pressures: readonly (number | undefined)[],
  running = true,
  from: SuctionFall = startFall(0),
) => pressures.reduce<SuctionFall>((fall, pa, i) => watchFall(fall, pa, running, 1_000 * (i + 1)), from);

/** A vehicle of 4 L, empty of liquid, and a compressor that draws `litrePerS`: p = p0 exp(-t V/v). */
const emptied = (fromPa: number, litrePerS: number, seconds: number): readonly number[] =>
  Array.from({ length: seconds }, (_, i) => fromPa * Math.exp((-(i + 1) * litrePerS) / 4));

describe('The fall of a suction', () => {
  test('does not slacken while a vehicle empties, however fast', () => {
    for (const litrePerS of [0.1, 0.24, 0.5]) {
      expect(watched([150_000, ...emptied(150_000, litrePerS, 60)]).slackened).toBe(false);
    }
  });

  test('slackens within two seconds of valves that let half through, which stays known', () => {
    const sound = emptied(120_000, 0.24, 20);
    const worn = emptied(sound.at(-1)!, 0.09, 2);
    expect(watched([...sound, ...worn.slice(0, 1)]).slackened).toBe(false);
    expect(watched([...sound, ...worn]).slackened).toBe(true);
    expect(watched([...sound, ...worn, ...emptied(worn.at(-1)!, 0.24, 20)]).slackened).toBe(true);
  });

  test('slackens where the suction turns and rises, as a boiling vehicle lets it', () => {
    expect(watched([40_000, 39_500, 39_000, 39_000, 39_200, 39_300]).slackened).toBe(true);
  });

  test('is judged over a fall of more than 400 Pa in two seconds, and by less than 0.45 of it', () => {
    const then = (fellPa: number, fallsPa: number): boolean =>
      watched([50_000, 49_000, 50_000 - fellPa, 45_000, 44_500, 45_000 - fallsPa]).slackened;
    expect(then(400, 0)).toBe(false);
    expect(then(401, 0)).toBe(true);
    expect(then(1_000, 449)).toBe(true);
    expect(then(1_000, 450)).toBe(false);
  });

  test('is not judged over a gap, a compressor that stands, or a sensor that tells nothing', () => {
    const stops = [40_000, 38_000, 36_000, 36_000, 36_000, 36_000];
    expect(watched(stops).slackened).toBe(true);
    expect(watched(stops, false)).toEqual(startFall(0));
    expect(watched(stops.slice(0, 5)).slackened).toBe(false);
    expect(watched([40_000, 38_000, undefined, 36_000, 36_000, 36_000, 36_000]).slackened).toBe(false);
    const fall = watched(stops.slice(0, 3));
    expect(watchFall(fall, 36_000, true, 3_999)).toBe(fall);
    expect(watchFall(fall, 36_000, true, 4_500).samplesPa).toHaveLength(4);
    expect(watchFall(fall, 36_000, true, 4_501).samplesPa).toEqual([36_000]);
    expect(watched(stops).samplesPa).toEqual(stops);
    expect(watched([50_000, ...stops]).samplesPa).toEqual(stops);
  });
});
