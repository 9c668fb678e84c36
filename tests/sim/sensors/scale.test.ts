// The scale has the faults its profile states, and no others.
import { describe, expect, test } from 'vitest';
import { drawBuild } from '../../../sim/build.ts';
import { NOMINAL, PROFILES } from '../../../sim/profiles.ts';
import { type OnTheScale, Scale } from '../../../sim/sensors/scale.ts';
import type { Build } from '../../../sim/spec.ts';
import { PERFECT, ROOM_K, rms } from './kit.ts';

const PERIOD_S = 0.1;
const RESTING: OnTheScale = {
  loadKg: 8,
  hosePa: 0,
  airK: ROOM_K,
  compressorTurns: false,
  pumpTurns: false,
};
const WELL = { stuck: false, spikesPerSample: 0 };

/** A scale with no fault but those given. */
const scaleWith = (faults: Partial<Build>, start: Partial<OnTheScale> = {}) =>
  new Scale(drawBuild(PROFILES.good, 1, { ...PERFECT, ...faults }), 7, PERIOD_S, { ...RESTING, ...start });

const kgOf = (counts: number) => (counts - NOMINAL.scaleZeroCounts) / NOMINAL.scaleCountsPerKg;

const samples = (scale: Scale, count: number, on: Partial<OnTheScale> = {}) =>
  Array.from({ length: count }, () => kgOf(scale.sample({ ...RESTING, ...on }, WELL)));

describe('scale', () => {
  test('without faults it reads its load to the resolution of its counts', () => {
    expect(samples(scaleWith({}), 1)[0]).toBeCloseTo(8, 4);
  });

  test.each(['good', 'hobby'] as const)('noise of the %s profile is what the profile states', (name) => {
    const { noiseKg } = PROFILES[name].scale;
    expect(rms(samples(scaleWith({ scaleNoiseKg: noiseKg }), 20_000)) / noiseKg).toBeCloseTo(1, 1);
  });

  test('after a step of 500 g creep grows to the stated share within half an hour, and no further', () => {
    const { creepFraction } = PROFILES.hobby.scale;
    const scale = scaleWith({ scaleCreepFraction: creepFraction });
    const [before] = samples(scale, 1);
    const after = samples(scale, 36_000, { loadKg: 8.5 });
    expect((after[17_999]! - before! - 0.5) * 1000).toBeCloseTo(0.6, 2);
    expect((after[35_999]! - before! - 0.5) * 1000).toBeLessThan(0.65);
  });

  test('hoses under pressure push by the stated force, and let go again', () => {
    const scale = scaleWith({ scaleHoseForceKgPerPa: 0.01 / 600_000 });
    expect(samples(scale, 1, { hosePa: 600_000 })[0]! - samples(scale, 1)[0]!).toBeCloseTo(0.01, 4);
  });

  test('zero drifts as the running machine warms the cell, by the stated grams per kelvin', () => {
    const scale = scaleWith({ scaleDriftKgPerK: 0.001 });
    const cold = samples(scale, 1)[0]!;
    const warm = samples(scale, 36_000, { compressorTurns: true }).at(-1)!;
    expect(warm - cold).toBeGreaterThan(0.003);
    expect(warm - cold).toBeLessThan(0.005);
  });

  test('zero drifts with the room as well, slowly: 63 % of the way after 20 minutes', () => {
    const scale = scaleWith({ scaleDriftKgPerK: 0.001 });
    const before = samples(scale, 1)[0]!;
    const later = samples(scale, 12_000, { airK: ROOM_K + 3 }).at(-1)!;
    expect((later - before) * 1000).toBeCloseTo(3 * (1 - Math.exp(-1)), 1);
  });

  // OIML R 60-1, 5.5: within 30 minutes creep stays below 0.7 of the largest permissible error at that load. Permissible
  // errors of classes C and D, times 0.7 for the cell alone, from memory of its table of errors.
  test.each([
    ['good', 'C', 1000, 1.0],
    ['hobby', 'D', 500, 1.5],
  ] as const)(
    'creep of the %s profile near full load is that of a legal cell, class %s with %d intervals',
    (name, _, intervals, steps) => {
      const fullKg = 50;
      const allowedKg = 0.7 * 0.7 * steps * (fullKg / intervals);
      const scale = scaleWith({ scaleCreepFraction: PROFILES[name].scale.creepFraction }, { loadKg: 0 });
      const before = samples(scale, 1, { loadKg: 0 })[0]!;
      const creep = samples(scale, 18_000, { loadKg: fullKg }).at(-1)! - before - fullKg;
      expect(creep).toBeLessThan(allowedKg);
      expect(creep).toBeGreaterThan(0.4 * allowedKg);
    },
  );

  test('bumps and spikes come about as often as stated', () => {
    const hours = 200;
    const bumpy = samples(scaleWith({ scaleBumpsPerHour: 6 }), hours * 36_000);
    const starts = bumpy.filter(
      (kg, i) => Math.abs(kg - 8) > 0.01 && Math.abs((bumpy[i - 1] ?? 8) - 8) < 0.01,
    ).length;
    expect(starts / hours).toBeGreaterThan(5);
    expect(starts / hours).toBeLessThan(7);
    const spiky = samples(scaleWith({ scaleSpikesPerSample: 1e-3 }), 200_000);
    const spikes = spiky.filter((kg) => Math.abs(kg - 8) > 1e-4).length;
    expect(spikes / 200_000).toBeGreaterThan(0.8e-3);
    expect(spikes / 200_000).toBeLessThan(1.2e-3);
  });
});
