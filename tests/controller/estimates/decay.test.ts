// The decay fit against synthetic curves whose truth is known, and the leak figure against published arithmetic.
import { describe, expect, test } from 'vitest';
import { detectableSlopePaPerS, fitDecay, verdictOf } from '../../../controller/estimates/decay.ts';
import { leakKgPerYear } from '../../../controller/estimates/leak.ts';
import { R134A } from '../support/machine.ts';

const LIMITS = { limitPa: 1_000, slopeFloorPaPerS: 0.02, worstSlopePaPerS: 0.33 };

/** Repeatable noise of one standard deviation; another stream for each seed. */
function noiseFrom(seed: number): () => number {
  let state = seed >>> 0;
  const uniform = (): number => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return (state + 0.5) / 2 ** 32;
  };
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
}

const curve = (truth: (t: number) => number, seconds: number, sigma: number, seed = 1): number[] => {
  const noise = noiseFrom(seed);
  return Array.from({ length: seconds }, (_, t) => truth(t) + sigma * noise());
};
const fitOf = (samplesPa: number[], resolutionPa = 1) => fitDecay({ samplesPa, intervalS: 1, resolutionPa })!;

describe('Decay', () => {
  test('a flat curve is tight', () => {
    const flat = fitOf(curve(() => 120, 300, 3));
    expect(flat.model).toBe('constant');
    expect(verdictOf(flat, LIMITS)).toBe('tight');
  });

  test('a straight rise is a leak, its slope right to a few per cent', () => {
    const rising = fitOf(curve((t) => 100 + 0.5 * t, 300, 3));
    expect(Math.abs(rising.slopePaPerS - 0.5)).toBeLessThan(0.02);
    expect(verdictOf(rising, LIMITS)).toBe('leak');
  });

  test('a saturating rise is outgassing, NOT a leak, and its plateau is found', () => {
    for (let seed = 1; seed <= 50; seed += 1) {
      const settling = fitOf(curve((t) => 3_000 - 2_800 * Math.exp(-t / 200), 600, 5, seed));
      expect(verdictOf(settling, LIMITS)).toBe('outgassing');
      expect(Math.abs(settling.plateauPa - 3_000)).toBeLessThan(60);
    }
  });

  test('a small saturating rise that stays below the limit is tight', () => {
    expect(verdictOf(fitOf(curve((t) => 400 - 200 * Math.exp(-t / 120), 600, 3)), LIMITS)).toBe('tight');
  });

  test('a leak under outgassing is still found', () => {
    const both = fitOf(curve((t) => 500 - 300 * Math.exp(-t / 120) + 0.3 * t, 600, 5));
    expect(both.model).toBe('settling-and-straight');
    expect(Math.abs(both.slopePaPerS - 0.3)).toBeLessThan(0.05);
    expect(verdictOf(both, LIMITS)).toBe('leak');
  });

  test('no leak is called where there is none: 200 quiet and 200 noisy holds', () => {
    for (let seed = 1; seed <= 200; seed += 1) {
      expect(verdictOf(fitOf(curve(() => 80, 300, 1, seed)), LIMITS)).toBe('tight');
      expect(verdictOf(fitOf(curve(() => 80, 300, 20, seed)), LIMITS)).not.toBe('leak');
    }
  });

  test('a hold too noisy to see a gross leak is inconclusive', () => {
    expect(verdictOf(fitOf(curve(() => 200, 60, 60)), LIMITS)).toBe('inconclusive');
    expect(verdictOf(fitDecay({ samplesPa: [1, 2, 3], intervalS: 1, resolutionPa: 1 }), LIMITS)).toBe(
      'inconclusive',
    );
  });

  test('the detectable slope is three deviations of a straight fit: 3σ√(12/N)/T', () => {
    const flat = fitOf(curve(() => 100, 600, 5));
    expect(detectableSlopePaPerS(flat, 0)).toBeCloseTo((3 * flat.noisePa * Math.sqrt(12 / 600)) / 599, 6);
  });

  test('a coarse sensor that never flickers does not become infinitely sure', () => {
    const stuck = fitOf(
      curve(() => 100, 300, 0),
      25,
    );
    expect(stuck.noisePa).toBeGreaterThan(5);
    expect(verdictOf(stuck, LIMITS)).toBe('tight');
  });

  test('numbers that fit nothing give a verdict, not a throw', () => {
    for (const value of [0, 1e300, -1e300]) {
      expect(() =>
        verdictOf(fitDecay({ samplesPa: new Array(300).fill(value), intervalS: 1, resolutionPa: 1 }), LIMITS),
      ).not.toThrow();
    }
  });
});

describe('Leak rate', () => {
  test('1 Pa/s in 3 L is 6.1 mg/s of R-134a at 20 °C: viscous flow of the same path (own arithmetic, 5 %)', () => {
    const kgPerS = leakKgPerYear(1, 3e-3, R134A) / (365.25 * 86_400);
    expect(Math.abs(kgPerS / 6.1e-6 - 1)).toBeLessThan(0.05);
  });
});
