import { expect, test } from 'vitest';
import type { Turn } from '../../../hardware/commissioning/line.ts';
import { scaleFound } from '../../../hardware/commissioning/lines/scale-figures.ts';

const LOADS_KG = [0, 5, 10, 20, 0, 5, 10, 20];

/** What the line finds of a scale of 100 counts a gram with this noise. */
function noiseKgOf(noiseCounts: number): unknown {
  const figures = {
    counts: LOADS_KG.map((kg) => 1_300_000 + 100_000 * kg),
    noiseCounts,
    massErrorShare: 0.0001,
  };
  const known = { facts: {}, figures, refrigerants: [], of: () => ({}) };
  const { figures: found } = scaleFound(known, LOADS_KG, []).step(
    { sinceMs: 0, samples: [] },
    {} as Turn,
  ) as unknown as { figures: { noiseKg: number } };
  return found.noiseKg;
}

test('a scale that always says the same has the noise of half its last digit, and no less', () => {
  // Half a count, evenly spread: JCGM 100:2008, 4.3.7.
  expect(noiseKgOf(0)).toBeCloseTo(0.5 / Math.sqrt(3) / 100_000, 12);
  expect(noiseKgOf(20)).toBeCloseTo(0.0002, 12);
});
