// Pressure sensors: class, resolution, and a reason instead of a number where they cannot see.
import { describe, expect, test } from 'vitest';
import { drawBuild } from '../../../sim/build.ts';
import { PROFILES, SPANS } from '../../../sim/profiles.ts';
import { Random } from '../../../sim/random.ts';
import { absoluteReading, gaugeReading, thermalVacuumReading } from '../../../sim/sensors/transducers.ts';

const chance = () => new Random(3, 'pressure');
const barometer = { truePa: 101_325, readPa: 101_325 };

describe('gauge transducers', () => {
  test('ten bits over 30 bar resolve 36.6 mbar (0.5–4.5 V of a 5 V converter)', () => {
    const random = chance();
    const read = new Set<number>();
    for (let i = 0; i < 2000; i++) {
      const sensor = { spanPa: SPANS.highSidePa, offsetPa: 0, bits: 10 };
      const reading = gaugeReading(600_000 + 20 * i, sensor, barometer, random, 0);
      if (reading.ok) read.add(Math.round(reading.value - barometer.readPa));
    }
    const steps = [...read].sort((a, b) => a - b);
    const gaps = steps.slice(1).map((value, i) => value - steps[i]!);
    expect(Math.min(...gaps)).toBeCloseTo(3_662, -1);
  });

  test('beyond its range a transducer says so instead of naming a pressure', () => {
    const sensor = { spanPa: SPANS.lowSidePa, offsetPa: 0, bits: 16 };
    expect(gaugeReading(1.5e6, sensor, barometer, chance(), 5)).toEqual({
      ok: false,
      reason: 'out-of-range',
    });
  });
});

describe('vacuum sensors', () => {
  test('the absolute manifold sensor has no value above its span', () => {
    const sensor = { offsetPa: 0, resolutionPa: 3 };
    expect(absoluteReading(500_000, sensor, chance(), 0)).toEqual({ ok: false, reason: 'out-of-range' });
    expect(absoluteReading(50_000, sensor, chance(), 0).ok).toBe(true);
  });

  test.each([0.3, 5_000])('a thermal vacuum sensor has no value at %d Pa', (pressurePa) => {
    expect(thermalVacuumReading(pressurePa, 1, chance(), 0)).toEqual({ ok: false, reason: 'out-of-range' });
  });
});

test('builds scatter around the drawing with the spread of their profile', () => {
  const builds = Array.from({ length: 2000 }, (_, seed) => drawBuild(PROFILES.hobby, seed));
  const spread = (of: (build: (typeof builds)[number]) => number) => {
    const values = builds.map(of);
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length);
  };
  expect(spread((build) => build.highSideOffsetPa) / 30_000).toBeCloseTo(1, 1);
  expect(spread((build) => build.manifoldOffsetPa) / 400).toBeCloseTo(1, 1);
  expect(spread((build) => build.scaleSpanError) / 0.001).toBeCloseTo(1, 1);
  expect(spread((build) => build.valveDeadTimeMs) / 25).toBeCloseTo(1, 1);
});

test('the same seed gives the same build, another seed another', () => {
  expect(drawBuild(PROFILES.good, 5)).toEqual(drawBuild(PROFILES.good, 5));
  expect(drawBuild(PROFILES.good, 5)).not.toEqual(drawBuild(PROFILES.good, 6));
});
