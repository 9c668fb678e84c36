// A coil colder than the tank fills and bursts into it, while somebody leans on the platform: which of it is refrigerant.
import { expect, test } from 'vitest';
import { feed, type Truth } from './scale-stream.ts';

const BEGINS_S = 40;
const DRAWN_KG_PER_S = 0.0037;
const FILLS_S = 12;
const BURST_KG_PER_S = 0.018;

const drawnKg = (timeS: number): number => DRAWN_KG_PER_S * Math.max(timeS - BEGINS_S, 0);

/** Nothing arrives until the coil is full; then all of it comes within three seconds, and from then on whatever is drawn. */
const arrivedKg = (timeS: number): number =>
  8 + Math.min(drawnKg(timeS), BURST_KG_PER_S * Math.max(timeS - BEGINS_S - FILLS_S, 0));

const touched =
  (addedKg: (timeS: number) => number): Truth =>
  (timeS) => ({
    kg: arrivedKg(timeS),
    path: timeS > BEGINS_S - 2 ? 'into-tank' : 'shut',
    ...(timeS > BEGINS_S ? { drawsSinceS: BEGINS_S, drawnKg: drawnKg(timeS) } : {}),
    addedKg: addedKg(timeS),
  });

const OVER_S = 100;
/** From before the draw's burst to well after it. */
const FROM_S = Array.from({ length: 45 }, (_, i) => BEGINS_S + 0.7 * i);

type After = { readonly errorKg: number; readonly sdKg: number };

const after = (addedKg: (timeS: number) => number): After => {
  const { massKg, undecidedVarianceKg2 } = feed(touched(addedKg), OVER_S);
  return { errorKg: massKg - arrivedKg(OVER_S), sdKg: Math.sqrt(undecidedVarianceKg2) };
};

test.each([
  [0.9, 0.6],
  [3, 4],
  [-0.7, 8],
  [0.06, 20],
  [-0.06, 20],
  [0.06, 40],
])('who leans with %d kg for %d s, whatever the moment, takes no surge off the scale', (kg, forS) => {
  const left: string[] = [];
  for (const fromS of FROM_S) {
    const { errorKg } = after((s) => (s > fromS && s < fromS + forS ? kg : 0));
    if (Math.abs(errorKg) > 0.01) left.push(`from ${fromS.toFixed(1)} s: ${(1000 * errorKg).toFixed(1)} g`);
  }
  expect(left).toEqual([]);
});

test.each([0.03, 0.05, 0.12, 0.4])(
  'what is put down and stays, %d kg, is told from the surge, or the doubt is stated',
  (kg) => {
    const left: string[] = [];
    for (const fromS of FROM_S) {
      const { errorKg, sdKg } = after((s) => (s > fromS ? kg : 0));
      if (Math.abs(errorKg) > 2 * sdKg + 0.008)
        left.push(
          `from ${fromS.toFixed(1)} s: ${(1000 * errorKg).toFixed(1)} g, doubt ${(2000 * sdKg).toFixed(1)} g`,
        );
    }
    expect(left).toEqual([]);
  },
);

test('who knocks just as the coil bursts leaves next to no doubt; who puts something down before leaves as much as it weighs', () => {
  const knocked = after((s) => (s > 53 && s < 53.6 ? 0.9 : 0));
  expect(knocked.sdKg).toBeLessThan(0.003);
  const put = after((s) => (s > 46 ? 0.03 : 0));
  expect(2 * put.sdKg).toBeGreaterThan(0.025);
});

test('who knocks before the burst is over leaves little doubt once the coil is empty', () => {
  const knock = touched((s) => (s > 48 && s < 48.6 ? 0.9 : 0));
  expect(Math.sqrt(feed(knock, 54).undecidedVarianceKg2)).toBeGreaterThan(0.005);
  expect(Math.sqrt(feed(knock, OVER_S).undecidedVarianceKg2)).toBeLessThan(0.003);
});

test('once it is taken away again, no doubt is left', () => {
  const { errorKg, sdKg } = after((s) => (s > 46 && s < 90 ? 0.03 : 0));
  expect(Math.abs(errorKg)).toBeLessThan(0.004);
  expect(sdKg).toBe(0);
});

test('a tool that is put down once the coil has burst leaves little doubt', () => {
  const { errorKg, sdKg } = after((s) => (s > 80 ? 0.06 : 0));
  expect(Math.abs(errorKg)).toBeLessThan(0.012);
  expect(2 * sdKg).toBeLessThan(0.02);
});
