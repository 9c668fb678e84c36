// What hoses and machine still hold, by hand; and whether two sides bear out that the engine stands.
import { describe, expect, test } from 'vitest';
import { saturationPa } from '../../../controller/estimates/saturation.ts';
import type { Seen } from '../../../controller/estimates/seen.ts';
import {
  comesTogether,
  engineDoubted,
  sidesApartPa,
  sidesTolerancePa,
} from '../../../controller/stages/standstill.ts';
import { underPressure } from '../../../controller/stages/under-pressure.ts';
import { R134A } from '../support/machine.ts';
import { inputOf } from '../support/unseen-input.ts';

/** R-134a at 20 °C (Tillner-Roth and Baehr): 571.71 kPa, 27.78 kg/m³ of vapour, 1225.3 kg/m³ of liquid. */
const SATURATED_PA = 571_710;
/** Beyond what a finished draw leaves, about 2 kg/m³. */
const VAPOUR = 27.78 - 2;
const HOSE_M3 = 33e-6;
const MANIFOLD_M3 = 60e-6;
const SEPARATOR_M3 = 0.4e-3;

const held = (seen: Partial<Seen>, ports: 1 | 2 = 2) => underPressure(inputOf({ seen, ticket: { ports } }));

describe('What has left the vehicle and is not in the tank yet', () => {
  test('is vapour in each hose that stands under pressure', () => {
    const low = { manifoldPa: 30_000, lowSidePa: 30_000 };
    expect(held({ ...low, highSidePa: SATURATED_PA }).kg).toBeCloseTo(HOSE_M3 * VAPOUR, 9);
    expect(held({ ...low, highSidePa: SATURATED_PA }).sdKg).toBeCloseTo(0.15 * HOSE_M3 * VAPOUR, 9);
    const high = { manifoldPa: 30_000, highSidePa: 30_000 };
    expect(held({ ...high, lowSidePa: SATURATED_PA }).kg).toBeCloseTo(HOSE_M3 * VAPOUR, 9);
    expect(held({ ...high, lowSidePa: SATURATED_PA }, 1).kg).toBe(0);
  });

  test('is nothing at 1.5 bar or less, and nothing where nobody sees', () => {
    expect(held({ highSidePa: 150_000, lowSidePa: 150_000, manifoldPa: 150_000 })).toEqual({
      kg: 0,
      sdKg: 0,
    });
    expect(held({})).toEqual({ kg: 0, sdKg: 0 });
    expect(held({ highSidePa: 150_001, manifoldPa: 0 }).kg).toBeGreaterThan(0);
  });

  test('is in the manifold, and perhaps in the separator behind a valve that may have been shut', () => {
    const joined = { manifoldPa: undefined, highSidePa: SATURATED_PA, lowSidePa: SATURATED_PA };
    const { kg, sdKg } = held(joined);
    expect(kg).toBeCloseTo((2 * HOSE_M3 + MANIFOLD_M3 + SEPARATOR_M3 / 2) * VAPOUR, 9);
    const each = [0.15 * HOSE_M3, 0.15 * HOSE_M3, 0.15 * MANIFOLD_M3, SEPARATOR_M3 / 4];
    expect(sdKg).toBeCloseTo(Math.hypot(...each) * VAPOUR, 9);
  });

  test('may be liquid where a hose stands above saturation: between nothing and a hose full', () => {
    // The thermometer may be off by three times 0.3 K, a gauge by three times 7.5 or 2.5 kPa.
    const warmest = saturationPa(R134A, 293.15 + 0.9);
    const LIQUID = (HOSE_M3 * 1_225.3) / 2;
    const high = (highSidePa: number, over: Partial<Seen> = {}) =>
      held({ highSidePa, manifoldPa: 30_000, ...over });
    expect(high(warmest + 22_501)).toEqual({
      kg: expect.closeTo(LIQUID, 6),
      sdKg: expect.closeTo(LIQUID, 6),
    });
    expect(high(warmest + 22_500).kg).toBeLessThan(0.001);
    const low = (lowSidePa: number) => held({ lowSidePa, manifoldPa: 30_000 });
    expect(low(warmest + 7_501).kg).toBeCloseTo(LIQUID, 6);
    expect(low(warmest + 7_500).kg).toBeLessThan(0.001);
  });

  test('goes by the tank where the room has no thermometer, and by 20 °C where neither has', () => {
    const at = (over: Partial<Seen>) => held({ highSidePa: 700_000, manifoldPa: 30_000, ...over }).kg;
    const warm = { ambientK: undefined, tankTemperatureK: 313.15 };
    expect(at(warm)).toBeLessThan(0.002);
    expect(at({ ...warm, ambientK: 293.15 })).toBeGreaterThan(0.02);
    expect(at({ ambientK: undefined, tankTemperatureK: undefined })).toBeGreaterThan(0.02);
  });
});

describe('The word that the engine stands still', () => {
  const apart = (seen: Partial<Seen>, ports: 1 | 2 = 2) => sidesApartPa(inputOf({ seen, ticket: { ports } }));

  test('is held to how far the sides are apart, either way, where both are seen', () => {
    expect(apart({ highSidePa: 900_000, lowSidePa: 300_000 })).toBe(600_000);
    expect(apart({ highSidePa: 300_000, lowSidePa: 900_000 })).toBe(600_000);
    expect(apart({ highSidePa: 900_000 })).toBeUndefined();
    expect(apart({ lowSidePa: 900_000 })).toBeUndefined();
    expect(apart({ highSidePa: 900_000, lowSidePa: 300_000 }, 1)).toBeUndefined();
  });

  test('is borne out when half of that is gone, or when they are at rest', () => {
    const input = inputOf();
    // 0.3 bar (common practice), and three deviations of the coarser gauge.
    expect(sidesTolerancePa(input)).toBe(52_500);
    expect(comesTogether(600_000, 300_000, input)).toBe(true);
    expect(comesTogether(600_000, 300_001, input)).toBe(false);
    expect(comesTogether(60_000, 52_500, input)).toBe(true);
    expect(comesTogether(60_000, 52_501, input)).toBe(false);
  });

  test('is doubted with the minutes and the pressure between the sides', () =>
    expect(engineDoubted(300_000, 412_000)).toEqual({
      code: 'engine-perhaps-running',
      with: { minutes: '5', apart: '412' },
    }));
});
