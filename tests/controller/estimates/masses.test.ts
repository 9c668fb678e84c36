// Gains between weighings and the force of the hoses: each part of the doubt by itself, and what is carried over a standstill.
import { describe, expect, test } from 'vitest';
import {
  acrossStandstill,
  gainOf,
  hoseForceFrom,
  hoseForceOver,
  NO_READINGS,
  surerForce,
  type Weighing,
  withDrift,
  withReading,
} from '../../../controller/estimates/masses.ts';
import { weighing } from '../support/charging.ts';
import { EQUIPMENT } from '../support/machine.ts';

const NO_FORCE = { kgPerPa: 0, sdKgPerPa: 0 };
/** A scale that errs by nothing but what a test is about. */
const EXACT = {
  ...EQUIPMENT,
  scale: { ...EQUIPMENT.scale, spanErrorSd: 0, creepSd: 0, zeroDriftKgPerKSd: 0, noiseKg: 0 },
};
const exact = (over: Partial<Weighing> = {}) => weighing({ meanSdKg: 0, ...over });

describe('A gain', () => {
  const sdOf = (before: Partial<Weighing>, after: Partial<Weighing>, force = NO_FORCE) =>
    gainOf(exact(before), exact(after), EXACT, force).sdKg;

  test('is what the counts say, without what leans on the platform since', () => {
    const { massKg } = gainOf(
      exact({ offsetKg: 0.02 }),
      exact({ counts: 2_150_000, offsetKg: 0.03 }),
      EXACT,
      NO_FORCE,
    );
    expect(massKg).toBeCloseTo(0.49, 9);
  });

  test('is doubted for the bumps, the drift and the undecided masses that came since, and for none before', () => {
    expect(sdOf({ bumps: 3 }, { bumps: 3 })).toBe(0);
    expect(sdOf({ bumps: 3 }, { bumps: 7 })).toBeCloseTo(0.004, 9);
    expect(sdOf({ undecidedVarianceKg2: 9e-6 }, { undecidedVarianceKg2: 9e-6 })).toBe(0);
    expect(sdOf({ undecidedVarianceKg2: 9e-6 }, { undecidedVarianceKg2: 25e-6 })).toBeCloseTo(0.004, 9);
    expect(sdOf({ undecidedVarianceKg2: 25e-6 }, { undecidedVarianceKg2: 9e-6 })).toBeCloseTo(0.004, 9);
    // A gram a minute over ten of them: 10 g, and two thirds more for two deviations.
    const drift = { driftKgPerS: 0.001 / 60 };
    expect(sdOf({ atMs: 60_000 }, { ...drift, atMs: 660_000 })).toBeCloseTo(0.00835, 9);
    expect(sdOf({ ...drift, atMs: 60_000 }, { atMs: 660_000 })).toBeCloseTo(0.00835, 9);
  });

  test('is doubted for the warmth of room and cell together, and for a kelvin where the room is not known', () => {
    const drifts = { ...EXACT, scale: { ...EXACT.scale, zeroDriftKgPerKSd: 0.001 } };
    const warm = (before: Partial<Weighing>, after: Partial<Weighing>) =>
      gainOf(exact(before), exact(after), drifts, NO_FORCE).sdKg;
    expect(warm({}, { ambientK: 296.15 })).toBeCloseTo(0.001 * Math.hypot(3, 0.1), 9);
    expect(warm({ cellWarmerK: 1 }, { ambientK: 296.15, cellWarmerK: 3 })).toBeCloseTo(
      0.001 * Math.hypot(5, 0.1),
      9,
    );
    expect(warm({ ambientK: undefined }, {})).toBeCloseTo(0.001 * Math.hypot(1, 0.1), 9);
    expect(warm({}, { ambientK: undefined })).toBeCloseTo(0.001 * Math.hypot(1, 0.1), 9);
  });

  test('is doubted for hoses that are not to be believed by as much as that has changed', () => {
    const force = { kgPerPa: 2e-8, sdKgPerPa: 0 };
    expect(sdOf({ hoseDoubtPa: 50_000 }, { hoseDoubtPa: 200_000 }, force)).toBeCloseTo(0.003, 9);
  });

  test('that was stated is stated with the drift that is known now', () => {
    // 5 g at k = 2; twice 8.35 g of a gram a minute over ten minutes, of which a half was known.
    const more = 4 * (0.00835 ** 2 - 0.004175 ** 2);
    expect(withDrift(0.005, 600_000, 0.0005 / 60, 0.001 / 60)).toBeCloseTo(Math.sqrt(0.005 ** 2 + more), 9);
  });
});

describe('The force of the hoses', () => {
  test('is told by what a step of pressure makes of the counts, from wherever it begins', () => {
    const before = weighing({ hoseGaugePa: 100_000 });
    const after = weighing({ hoseGaugePa: 600_000, counts: 2_101_000 });
    expect(hoseForceFrom(before, after, EQUIPMENT)!.kgPerPa).toBeCloseTo(2e-8, 12);
    expect(
      hoseForceFrom(before, weighing({ hoseGaugePa: 100_000, counts: 2_101_000 }), EQUIPMENT),
    ).toBeUndefined();
  });

  test('is told by a line through ten readings at least, that do not all have one pressure', () => {
    const line = (count: number, stepPa: number) =>
      hoseForceOver(
        Array.from({ length: count }, (_, n) => 500_000 - stepPa * n).reduce(
          (sums, pa) => withReading(sums, pa, 7.5 + 2e-8 * pa),
          NO_READINGS,
        ),
        EQUIPMENT,
      );
    expect(line(9, 40_000)).toBeUndefined();
    expect(line(10, 40_000)!.kgPerPa).toBeCloseTo(2e-8, 12);
    expect(line(16, 0)).toBeUndefined();
    expect(hoseForceOver(NO_READINGS, EQUIPMENT)).toBeUndefined();
  });

  test('is the mean of what was known and what was found, the surer the more', () => {
    const known = { kgPerPa: 1e-8, sdKgPerPa: 3e-9 };
    const { kgPerPa, sdKgPerPa } = surerForce(known, { kgPerPa: 2e-8, sdKgPerPa: 4e-9 });
    // Nine parts of 25 of the way, and three fifths of four.
    expect(kgPerPa).toBeCloseTo(1e-8 + (9 / 25) * 1e-8, 15);
    expect(sdKgPerPa).toBeCloseTo(2.4e-9, 15);
    expect(surerForce(known, undefined)).toBe(known);
  });
});

describe('A weighing that is carried over a standstill', () => {
  const before = weighing({ atMs: 1_000, ambientK: 290, driftKgPerS: 1e-6 });
  const from = weighing({
    counts: 2_050_000,
    meanSdKg: 0.0003,
    offsetKg: 0.1,
    bumps: 2,
    undecidedVarianceKg2: 1e-6,
    hoseGaugePa: 300_000,
    hoseDoubtPa: 10_000,
    cellWarmerK: 2,
    ambientK: 292,
    atMs: 5_000,
  });
  const to = {
    ...from,
    counts: 2_050_030,
    meanSdKg: 0.0006,
    offsetKg: 0.15,
    bumps: 3,
    undecidedVarianceKg2: 3e-6,
    hoseGaugePa: 310_000,
    hoseDoubtPa: 15_000,
    cellWarmerK: 2.5,
    ambientK: 295,
    driftKgPerS: 5e-6,
    atMs: 9_000,
  };

  test('takes over all that the scale did meanwhile, and none of what was there before', () => {
    const carried = acrossStandstill(before, from, to);
    expect(carried).toMatchObject({ counts: 2_100_030, bumps: 1, hoseGaugePa: 10_000, hoseDoubtPa: 5_000 });
    expect(carried).toMatchObject({ cellWarmerK: 0.5, ambientK: 293, driftKgPerS: 5e-6, atMs: 9_000 });
    expect(carried.offsetKg).toBeCloseTo(0.05, 9);
    expect(carried.undecidedVarianceKg2).toBeCloseTo(2e-6, 12);
    expect(carried.meanSdKg).toBeCloseTo(0.0007, 9);
    expect(acrossStandstill({ ...before, driftKgPerS: 7e-6 }, from, to).driftKgPerS).toBe(7e-6);
  });

  test('knows no room where one of the three knows none', () => {
    const unknown = { ambientK: undefined };
    expect(acrossStandstill({ ...before, ...unknown }, from, to).ambientK).toBeUndefined();
    expect(acrossStandstill(before, { ...from, ...unknown }, to).ambientK).toBeUndefined();
    expect(acrossStandstill(before, from, { ...to, ...unknown }).ambientK).toBeUndefined();
  });
});
