// The scale has the faults its profile states, and no others.
import { describe, expect, test } from 'vitest';
import { drawBuild } from '../../../sim/build.ts';
import { NOMINAL, PROFILES } from '../../../sim/profiles.ts';
import { Random } from '../../../sim/random.ts';
import { Scale } from '../../../sim/sensors/scale.ts';
import type { Build } from '../../../sim/spec.ts';

/** A scale with no fault but those given. */
const PERFECT: Partial<Build> = {
  scaleSpanError: 0,
  scaleNoiseKg: 0,
  scaleDriftKgPerK: 0,
  scaleCreepFraction: 0,
  scaleHoseForceKgPerPa: 0,
  scaleBumpsPerHour: 0,
  scaleSpikesPerSample: 0,
};

const scaleWith = (faults: Partial<Build>, loadKg = 8, seed = 7) =>
  new Scale(drawBuild(PROFILES.good, 1, { ...PERFECT, ...faults }), new Random(seed, 'scale'), loadKg);

const kgOf = (counts: number) => (counts - NOMINAL.scaleZeroCounts) / NOMINAL.scaleCountsPerKg;

const samples = (scale: Scale, count: number, loadKg = 8, hosePa = 0, running = false) =>
  Array.from({ length: count }, () => kgOf(scale.sample(loadKg, hosePa, running, 0.1)));

const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
const rms = (values: readonly number[]) =>
  Math.sqrt(mean(values.map((value) => (value - mean(values)) ** 2)));

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
    const after = samples(scale, 36_000, 8.5);
    expect((after[17_999]! - before! - 0.5) * 1000).toBeCloseTo(0.6, 2);
    expect((after[35_999]! - before! - 0.5) * 1000).toBeLessThan(0.65);
  });

  test('hoses under pressure push by the stated force, and let go again', () => {
    const scale = scaleWith({ scaleHoseForceKgPerPa: 0.01 / 600_000 });
    expect(samples(scale, 1, 8, 600_000)[0]! - samples(scale, 1, 8, 0)[0]!).toBeCloseTo(0.01, 4);
  });

  test('zero drifts as the running machine warms the cell, by the stated grams per kelvin', () => {
    const scale = scaleWith({ scaleDriftKgPerK: 0.001 });
    const cold = samples(scale, 1)[0]!;
    const warm = samples(scale, 36_000, 8, 0, true).at(-1)!;
    expect(warm - cold).toBeGreaterThan(0.003);
    expect(warm - cold).toBeLessThan(0.005);
  });

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
