// What is believed of the readings: fresh ones, within what the sensor can show; anything doubtful is absent.
import { describe, expect, test } from 'vitest';
import { see } from '../../../controller/estimates/seen.ts';
import type { Readings } from '../../../controller/signals.ts';
import { EQUIPMENT } from '../support/machine.ts';
import { none, readingsAt, SILENT, type Values } from '../support/readings.ts';

const NOW_MS = 50_000;
const seen = (values: Values = {}, atMs = NOW_MS) => see(readingsAt(atMs, values), EQUIPMENT, NOW_MS);

describe('A reading', () => {
  test('is believed for a second, from either side of now', () => {
    for (const atMs of [NOW_MS - 1_000, NOW_MS + 1_000]) expect(seen({}, atMs).tankPa).toBe(571_710);
    for (const atMs of [NOW_MS - 1_001, NOW_MS + 1_001]) expect(seen({}, atMs).tankPa).toBeUndefined();
  });

  test('is absent where there is none, or where it is no number', () => {
    expect(seen({ tankPressurePa: none('open-circuit') }).tankPa).toBeUndefined();
    expect(seen({ tankPressurePa: Number.NaN }).tankPa).toBeUndefined();
    expect(seen({ tankPressurePa: true }).tankPa).toBeUndefined();
  });

  test('that the rig leaves out altogether is unknown, and neither throws nor counts as heard', () => {
    const { emergencyStop, manifoldPressurePa, scaleCounts, ...rest } = readingsAt(NOW_MS);
    const partly = see({ ...rest } as Readings, EQUIPMENT, NOW_MS);
    expect(partly).toMatchObject({ emergencyStop: 'unknown', manifoldOverSpan: false, heardAtMs: NOW_MS });
    expect(partly.manifoldPa).toBeUndefined();
    expect(see({} as Readings, EQUIPMENT, NOW_MS).heardAtMs).toBeUndefined();
  });

  test.each([
    ['highSidePressurePa', 'highSidePa', -200_000, 10_000_000],
    ['lowSidePressurePa', 'lowSidePa', -200_000, 10_000_000],
    ['tankPressurePa', 'tankPa', -200_000, 10_000_000],
    ['vehicleVacuumPa', 'vehicleVacuumPa', -100, 110_000],
    ['barometerPa', 'barometerPa', 50_000, 110_000],
    ['tankTemperatureK', 'tankTemperatureK', 150, 450],
    ['ambientTemperatureK', 'ambientK', 150, 450],
    ['ventTemperatureK', 'ventK', 150, 450],
    ['scaleCounts', 'scaleCounts', -(2 ** 31 - 1), 2 ** 31 - 1],
  ] as const)('of %s is believed within its bounds, and not just beyond', (sensor, name, least, most) => {
    for (const value of [least, most]) expect(seen({ [sensor]: value })[name]).toBe(value);
    for (const value of [least - 0.01, most + 0.01]) expect(seen({ [sensor]: value })[name]).toBeUndefined();
  });
});

describe('The absolute sensor', () => {
  const manifold = (value: Values['manifoldPressurePa'] & {}) => {
    const { manifoldPa, manifoldOverSpan } = seen({ manifoldPressurePa: value });
    return { manifoldPa, manifoldOverSpan };
  };

  test('measures within 98 per cent of its span; beyond, the manifold is at least there', () => {
    expect(manifold(156_800)).toEqual({ manifoldPa: 156_800, manifoldOverSpan: false });
    expect(manifold(156_801)).toEqual({ manifoldPa: undefined, manifoldOverSpan: true });
    expect(manifold(none('out-of-range'))).toEqual({ manifoldPa: undefined, manifoldOverSpan: true });
  });

  test('may read a twentieth of that below zero; what is below says nothing', () => {
    expect(manifold(-7_840).manifoldPa).toBe(-7_840);
    expect(manifold(-7_841)).toEqual({ manifoldPa: undefined, manifoldOverSpan: false });
    expect(manifold(none('open-circuit'))).toEqual({ manifoldPa: undefined, manifoldOverSpan: false });
  });

  test('that is old is NOT past its end', () => {
    expect(seen({ manifoldPressurePa: 158_000 }, 0)).toMatchObject({ manifoldOverSpan: false });
  });
});

describe('The barometer that nobody reads', () => {
  test('is what was typed', () => {
    const typed = { ...EQUIPMENT, barometerPa: 95_000 };
    const of = (value: Values['barometerPa'] & {}) =>
      see(readingsAt(NOW_MS, { barometerPa: value }), typed, NOW_MS).barometerPa;
    expect(of(none('not-fitted'))).toBe(95_000);
    expect(of(97_000)).toBe(97_000);
    expect(seen({ barometerPa: none('not-fitted') }).barometerPa).toBeUndefined();
  });
});

describe('The scale', () => {
  test('has a time only with its counts', () => {
    expect(seen({}, NOW_MS - 400)).toMatchObject({ scaleCounts: 2_100_000, scaleAtMs: NOW_MS - 400 });
    expect(seen({ scaleCounts: none('stale') }).scaleAtMs).toBeUndefined();
    expect(seen({ scaleCounts: 2 ** 31 }).scaleAtMs).toBeUndefined();
  });
});

describe('A switch', () => {
  test.each(['emergencyStop', 'highPressureSwitch', 'fanFlow', 'gasAlarm'] as const)(
    '%s is tripped, clear, not fitted, or unknown',
    (name) => {
      expect(seen({ [name]: true })[name]).toBe('tripped');
      expect(seen({ [name]: false })[name]).toBe('clear');
      expect(seen({ [name]: none('not-fitted') })[name]).toBe('not-fitted');
      expect(seen({ [name]: none('stale') })[name]).toBe('unknown');
      expect(seen({ [name]: 1 })[name]).toBe('unknown');
      expect(seen({ [name]: true }, 0)[name]).toBe('unknown');
    },
  );
});

describe('When the rig was heard last', () => {
  test.each([
    ['emergencyStop', false],
    ['highPressureSwitch', false],
    ['fanFlow', true],
    ['scaleCounts', 7],
    ['manifoldPressurePa', 7],
  ] as const)('is told by any of what every rig has: %s', (sensor, value) => {
    expect(seen({ ...SILENT, [sensor]: value }, NOW_MS - 300).heardAtMs).toBe(NOW_MS - 300);
  });

  test('is unknown where none of those speaks, or what they say is old', () => {
    expect(seen(SILENT).heardAtMs).toBeUndefined();
    expect(seen({}, NOW_MS - 1_001).heardAtMs).toBeUndefined();
  });
});
