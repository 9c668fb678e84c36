// Pressure sensors: class, resolution, and a reason instead of a number where they cannot see.
import { describe, expect, test } from 'vitest';
import { drawBuild } from '../../../sim/build.ts';
import { PROFILES, SPANS } from '../../../sim/profiles.ts';
import { Random } from '../../../sim/random.ts';
import { noise } from '../../../sim/sensors/noise.ts';
import { absoluteReading, GaugeTransducer } from '../../../sim/sensors/transducers.ts';
import { ATMOSPHERE_PA, Kit, known, mean, rms } from './kit.ts';

const chance = () => new Random(3, 'pressure');
const barometer = { truePa: ATMOSPHERE_PA, readPa: ATMOSPHERE_PA };
const gauge = (spanPa: number, bits: number, fromPa = 0) =>
  new GaugeTransducer({ fromPa, spanPa, offsetPa: 0, bits }, barometer, chance());

describe('gauge transducers', () => {
  test('ten bits over 30 bar resolve 36.6 mbar (0.5–4.5 V of a 5 V converter)', () => {
    const sensor = gauge(SPANS.highSidePa, 10);
    const read = new Set<number>();
    for (let i = 0; i < 2000; i++) {
      const reading = sensor.reading(sensor.signal(600_000 + 20 * i), 0);
      read.add(Math.round(known(reading) - barometer.readPa));
    }
    const steps = [...read].sort((a, b) => a - b);
    const gaps = steps.slice(1).map((value, i) => value - steps[i]!);
    expect(Math.min(...gaps)).toBeCloseTo(3_662, -1);
  });

  test('beyond its range a transducer says so instead of naming a pressure', () => {
    const sensor = gauge(SPANS.lowSidePa, 16);
    expect(sensor.reading(sensor.signal(1.5e6), 5)).toEqual({ ok: false, reason: 'out-of-range' });
  });

  test('less voltage than full vacuum gives is a broken wire, not a better vacuum', () => {
    expect(gauge(SPANS.highSidePa, 16).reading(-0.12, 0)).toEqual({ ok: false, reason: 'open-circuit' });
  });

  test('full vacuum is inside the range of all three, for a build four deviations low as well', () => {
    const sd = PROFILES.hobby.gaugeSd;
    const offsets = {
      highSideOffsetPa: -4 * sd * SPANS.highSidePa,
      lowSideOffsetPa: -4 * sd * SPANS.lowSidePa,
      tankOffsetPa: -4 * sd * SPANS.tankPa,
    };
    const kit = new Kit({ build: offsets }, (plant) => {
      plant.fillHoses(0);
      plant.machine.tank.pressurePa = 0;
    });
    const { highSidePressurePa, lowSidePressurePa, tankPressurePa } = kit.sample();
    expect([highSidePressurePa.ok, lowSidePressurePa.ok, tankPressurePa.ok]).toEqual([true, true, true]);
  });
});

test.each(['good', 'hobby'] as const)(
  'at 6 bar gauge transducers of the %s profile are wrong by their class, one standard deviation',
  (name) => {
    const errors = Array.from({ length: 600 }, (_, seed) => {
      const { lowSideOffsetPa, gaugeConverterBits } = drawBuild(PROFILES[name], seed);
      const kit = new Kit({ seed, build: { lowSideOffsetPa, gaugeConverterBits } }, (plant) =>
        plant.fillHoses(600_000),
      );
      return known(kit.sample().lowSidePressurePa) - 600_000;
    });
    expect(rms(errors) / (PROFILES[name].gaugeSd * SPANS.lowSidePa)).toBeCloseTo(1, 1);
  },
);

test('the manifold sensor has no value above its span', () => {
  const sensor = { offsetPa: 0, resolutionPa: 3 };
  expect(absoluteReading(500_000, sensor, chance(), 0)).toEqual({ ok: false, reason: 'out-of-range' });
  expect(absoluteReading(50_000, sensor, chance(), 0).ok).toBe(true);
});

test('the noise of the sensors is standard normal: mean 0, variance 1, excess 0, no echo', () => {
  const random = chance();
  const values = Array.from({ length: 100_000 }, () => noise(random));
  expect(mean(values)).toBeCloseTo(0, 1);
  expect(rms(values)).toBeCloseTo(1, 1);
  expect(Math.abs(mean(values.map((value) => value ** 4)) - 3)).toBeLessThan(0.25);
  const echo = mean(values.slice(1).map((value, i) => value * values[i]!));
  expect(Math.abs(echo)).toBeLessThan(0.02);
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
