// Someone leans on the platform, or lifts at it, at any moment before, in and after a draw, for as long as people do.
import { describe, expect, test } from 'vitest';
import { feed, type Truth } from './scale-stream.ts';

const OPENS_S = 38;
const BEGINS_S = 40;
const ENDS_S = 100;
const OVER_S = 135;
const TAU_S = 60;

/** A compressor's draw: 5.2 g/s at first, less and less. */
function drawnKg(timeS: number): number {
  const s = Math.min(Math.max(timeS - BEGINS_S, 0), ENDS_S - BEGINS_S);
  return 8 + 0.0052 * TAU_S * (1 - Math.exp(-s / TAU_S));
}

const leant =
  (fromS: number, forS: number, addedKg: number): Truth =>
  (timeS) => ({
    kg: drawnKg(timeS),
    path: timeS > OPENS_S && timeS < ENDS_S ? 'into-tank' : 'shut',
    settling: timeS >= ENDS_S && timeS < ENDS_S + 3,
    ...(timeS > BEGINS_S && timeS < ENDS_S ? { drawsSinceS: BEGINS_S } : {}),
    addedKg: timeS > fromS && timeS < fromS + forS ? addedKg : 0,
  });

/** Grams that the chain has afterwards beyond what was drawn. */
const leftG = (truth: Truth): number => 1000 * (feed(truth, OVER_S).massKg - drawnKg(OVER_S));

const FROM_S = Array.from({ length: 62 }, (_, i) => 18 + 1.4 * i);

test.each([2, 10, 20])(
  'for %d s: whatever the moment, 50 g to 3 kg leave less than 6 g on the scale',
  (forS) => {
    const left: string[] = [];
    for (const fromS of FROM_S)
      for (const addedKg of [0.055, -0.055, 0.2, -0.7, 3]) {
        const errorG = leftG(leant(fromS, forS, addedKg));
        if (Math.abs(errorG) > 6)
          left.push(`${addedKg} kg from ${fromS.toFixed(1)} s: ${errorG.toFixed(1)} g`);
      }
    expect(left).toEqual([]);
  },
);

test('what stays on the platform is told from refrigerant, in a draw too', () => {
  const { massKg, offsetKg, bumps } = feed(leant(60, OVER_S, 0.7), OVER_S);
  expect(bumps).toBe(1);
  expect(Math.abs(offsetKg - 0.7)).toBeLessThan(0.02);
  expect(Math.abs(massKg - drawnKg(OVER_S))).toBeLessThan(0.02);
});

test('what is put down in a draw is told from it by the grams that come while the scale is looked at', () => {
  const errorsG = [43.2, 44.7, 46.5, 50, 60, 80].map((fromS) => leftG(leant(fromS, OVER_S, 0.7)));
  expect(errorsG.filter((errorG) => Math.abs(errorG) > 3)).toEqual([]);
});

describe('What is put down in the first seconds of a draw', () => {
  const put = (fromS: number, more: Partial<ReturnType<Truth>>): ReturnType<typeof feed> =>
    feed(
      (timeS) => ({
        ...leant(fromS, OVER_S, 0.7)(timeS),
        ...(timeS > BEGINS_S && 'drawnKg' in more ? { ...more, drawnKg: drawnKg(timeS) - 8 } : {}),
      }),
      60,
    );
  const errorG = ({ massKg }: ReturnType<typeof feed>): number => 1000 * (massKg - drawnKg(60));
  const saidG = ({ undecidedVarianceKg2 }: ReturnType<typeof feed>): number =>
    2000 * Math.sqrt(undecidedVarianceKg2);

  test('is told from it by displacement, where the coil passes on what comes', () => {
    for (const fromS of [40.8, 41.3, 42.2]) {
      const after = put(fromS, { drawnKg: 0, passes: true });
      expect(Math.abs(errorG(after))).toBeLessThan(2.5);
      expect(saidG(after)).toBeLessThan(1);
    }
  });

  test('may be as much less or more as a draw brings that nobody has counted', () => {
    // Half of 13.8 g a second for five seconds, twice.
    const after = put(40.8, {});
    expect(Math.abs(errorG(after))).toBeGreaterThan(5);
    expect(saidG(after)).toBeGreaterThan(60);
    expect(saidG(put(44, {}))).toBeLessThan(1);
  });
});

test('two who lean one after the other, in a burst that has ebbed away, leave nothing', () => {
  // 4.7 s of liquid out of the hoses, then a trickle; lifted by 0.34 kg from the start, and 50 g put down as that ends.
  const drawn = (s: number): number =>
    8 + 0.0126 * Math.min(Math.max(s - 40, 0), 4.7) + 0.001 * Math.max(s - 44.7, 0);
  const burst: Truth = (s) => ({
    kg: drawn(s),
    path: s > 38 ? 'into-tank' : 'shut',
    ...(s > 40 ? { drawsSinceS: 40 } : {}),
    addedKg: s > 41 && s < 54.2 ? -0.34 : s >= 54.2 && s < 64.5 ? 0.052 : 0,
  });
  expect(Math.abs(1000 * (feed(burst, 100).massKg - drawn(100)))).toBeLessThan(6);
});

test('who leans on it while a trickle comes, and lets go at the very moment when the scale is taken for quiet, leaves nothing', () => {
  const trickled = (s: number): number => 8 + 0.0002 * Math.max(s - 40, 0);
  const left: string[] = [];
  for (let forS = 4.5; forS < 7.5; forS += 0.1)
    for (const addedKg of [0.03, 0.045, 0.059, -0.059]) {
      const { massKg } = feed(
        (s) => ({
          kg: trickled(s),
          path: s > 38 ? 'into-tank' : 'shut',
          ...(s > 40 ? { drawsSinceS: 40 } : {}),
          addedKg: s > 100 && s < 100 + forS ? addedKg : 0,
        }),
        120,
      );
      const errorG = 1000 * (massKg - trickled(120));
      if (Math.abs(errorG) > 4) left.push(`${addedKg} kg for ${forS.toFixed(1)} s: ${errorG.toFixed(1)} g`);
    }
  expect(left).toEqual([]);
});

test('a tank that is lifted by two kilograms and set down again is the same, whatever a draw has brought meanwhile', () => {
  const brought = (s: number): number => 8 + 0.0013 * Math.min(Math.max(s - 114, 0), 6);
  const { massKg, offsetKg } = feed(
    (s) => ({
      kg: brought(s),
      path: s > 100 ? 'into-tank' : 'shut',
      ...(s > 100 ? { drawsSinceS: 100 } : {}),
      addedKg: s > 90 && s < 114 ? -1.944 : 0,
    }),
    140,
  );
  expect(offsetKg).toBe(0);
  expect(Math.abs(1000 * (massKg - brought(140)))).toBeLessThan(3);
});

/** Two standard deviations of what was bridged, grams. */
const undecidedG = (truth: Truth): number => 2000 * Math.sqrt(feed(truth, 60).undecidedVarianceKg2);

test('a weight put down while pressure comes into the hoses is known no better than their force', () => {
  const added =
    (hosePa: number): Truth =>
    (s) => ({
      kg: 8,
      ...(s > 20 ? { addedKg: 0.8, hosePa } : {}),
    });
  expect(undecidedG(added(0))).toBe(0);
  // Of 500 kPa the force that is known to 1.7e-8 kg/Pa moves the platform by 8 g, one standard deviation.
  expect(undecidedG(added(500_000))).toBeGreaterThan(15);
});

test('a draw that begins beneath a bump and is over before its end may have brought what it can', () => {
  const drawn =
    (begins: boolean): Truth =>
    (s) => ({
      kg: begins ? 8 + 0.004 * Math.min(Math.max(s - 24, 0), 4) : 8,
      ...(s > 20 ? { addedKg: s < 30 ? -2.4 : 0.7 } : {}),
      ...(begins && s > 24 && s < 28 ? { path: 'into-tank', drawsSinceS: 24 } : {}),
    });
  expect(undecidedG(drawn(false))).toBe(0);
  expect(undecidedG(drawn(true))).toBeGreaterThan(16);
});

test('a side sensor that falls silent has moved nothing, though the mean of the hoses is another', () => {
  // An engine runs: 850 kPa and 100 kPa above ambient; then only the high side is left. Force 1.5e-7 kg/Pa, 56 g.
  const force = 1.5e-7;
  const truth: Truth = (s) => ({
    kg: 8 + force * 475_000,
    hosePa: s > 20 ? 850_000 : 475_000,
    hosePhantomPa: s > 20 && s < 20.15 ? 375_000 : 0,
  });
  const before = feed(truth, 19, undefined, 0, force);
  const after = feed(truth, 60, before, 19, force);
  expect(after).toMatchObject({ bumps: 0, trust: 'trusted', offsetKg: 0 });
});
