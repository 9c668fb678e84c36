// The four shapes of a rise without noise: each is found for what it is, with its figures.
import { describe, expect, test } from 'vitest';
import { fitDecay } from '../../../controller/estimates/decay.ts';

/** A flicker of a hundredth keeps the models comparable; it alternates, so that it counts as white. */
const shapeOf = (
  pressureAt: (s: number) => number,
  over: { n?: number; everyS?: number; resolutionPa?: number } = {},
) => {
  const { n = 300, everyS = 1, resolutionPa = 0.03 } = over;
  const samplesPa = Array.from(
    { length: n },
    (_, i) => pressureAt(i * everyS) + (i % 2 === 0 ? 0.01 : -0.01),
  );
  return fitDecay({ samplesPa, intervalS: everyS, resolutionPa })!;
};

describe('A pressure in an isolated system', () => {
  test('that stands is constant, and is nowhere else in the end', () => {
    const level = shapeOf(() => 500);
    expect(level).toMatchObject({ model: 'constant', slopePaPerS: 0, tauS: 0 });
    expect(level.plateauPa).toBeCloseTo(500, 6);
    expect(level.endPa).toBeCloseTo(500, 6);
  });

  test('that rises evenly is straight, to where it has come', () => {
    const even = shapeOf((s) => 100 + 0.5 * s);
    expect(even).toMatchObject({ model: 'straight', tauS: 0 });
    expect(even.slopePaPerS).toBeCloseTo(0.5, 5);
    expect(even.endPa).toBeCloseTo(100 + 0.5 * 299, 1);
    expect(even.plateauPa).toBe(even.endPa);
    const falls = shapeOf((s) => 900 - 0.5 * s);
    expect(falls.model).toBe('straight');
    expect(falls.slopePaPerS).toBeCloseTo(-0.5, 5);
  });

  test('that settles has a plateau and a time constant, short or long', () => {
    for (const tauS of [25, 60, 150, 400]) {
      const settles = shapeOf((s) => 2_000 - 1_500 * Math.exp(-s / tauS));
      expect(settles.model).toBe('settling');
      expect(settles.tauS / tauS).toBeCloseTo(1, 2);
      expect(settles.plateauPa / 2_000).toBeCloseTo(1, 2);
      expect(settles.endPa).toBe(settles.plateauPa);
      expect(settles.slopePaPerS).toBe(0);
    }
  });

  test('that settles and leaks has both', () => {
    const both = shapeOf((s) => 500 - 300 * Math.exp(-s / 60) + 0.3 * s);
    expect(both.model).toBe('settling-and-straight');
    expect(both.tauS).toBeCloseTo(60, 0);
    expect(both.slopePaPerS).toBeCloseTo(0.3, 3);
    expect(both.plateauPa).toBeCloseTo(500, 0);
    expect(both.endPa).toBeCloseTo(500 + 0.3 * 299, 0);
  });

  test('that falls as nothing given off does is put down to no settling', () => {
    expect(shapeOf((s) => 500 + 300 * Math.exp(-s / 60)).model).toBe('straight');
    expect(shapeOf((s) => 900 - 300 * Math.exp(-s / 60) - 0.5 * s).model).not.toBe('settling-and-straight');
  });

  test('is seen in its own time, however often it is sampled', () => {
    const slow = shapeOf((s) => 2_000 - 1_500 * Math.exp(-s / 150), { everyS: 2, n: 200 });
    expect(slow.tauS).toBeCloseTo(150, 0);
    expect(shapeOf((s) => 100 + 0.5 * s, { everyS: 2, n: 100 }).endPa).toBeCloseTo(100 + 0.5 * 198, 1);
  });
});

describe('How sure it is', () => {
  test('is no less than the steps of the sensor: a twelfth of their square', () => {
    const coarse = shapeOf(() => 500, { resolutionPa: 12, n: 100 });
    expect(coarse.noisePa).toBeCloseTo(Math.sqrt((100 * 12) / 99), 9);
    // White, over 99 s: √(12/100) of it.
    expect(coarse.slopeSdPaPerS).toBeCloseTo((coarse.noisePa * Math.sqrt(0.12)) / 99, 9);
    expect(coarse.correlation).toBe(0);
  });

  test('a rise within those steps is none', () => {
    expect(shapeOf((s) => 100 + 0.002 * s, { resolutionPa: 12 }).model).toBe('constant');
    expect(shapeOf((s) => 100 + 0.2 * s, { resolutionPa: 12 }).model).toBe('straight');
  });

  test('thirty samples are the least', () => {
    const of = (n: number) =>
      fitDecay({ samplesPa: new Array(n).fill(100), intervalS: 1, resolutionPa: 1 })?.model;
    expect(of(29)).toBeUndefined();
    expect(of(30)).toBe('constant');
  });
});
