import { describe, expect, test } from 'vitest';
import { isDry } from '../../../controller/estimates/boiling.ts';
import { R134A } from '../support/machine.ts';

const at = (manifoldPa: number | undefined, more: object = {}) =>
  isDry(R134A, {
    manifoldPa,
    tankPa: 600_000,
    ambientK: 293.15,
    sweptM3PerS: 0.2417e-3,
    boilingWPerK: 0.8,
    ...more,
  });

describe('A suction at which nothing can boil any more', () => {
  test('is one that the heat of the room would not allow with liquid in the separator', () => {
    expect(at(35_000)).toBe(true);
    // Liquid at −33 °C stands at 75 kPa, and the compressor draws it no lower for a while.
    expect(at(75_000)).toBe(false);
  });

  test('lies lower in a cold room, which gives less heat, and where the compressor draws more', () => {
    expect(at(35_000)).toBe(true);
    expect(at(35_000, { ambientK: 273.15, tankPa: 300_000 })).toBe(false);
    expect(at(35_000, { sweptM3PerS: 2 * 0.2417e-3 })).toBe(false);
  });

  test('is never believed without pressure, tank and room', () => {
    expect(at(undefined)).toBe(false);
    expect(at(35_000, { tankPa: undefined })).toBe(false);
    expect(at(35_000, { ambientK: undefined })).toBe(false);
  });
});
