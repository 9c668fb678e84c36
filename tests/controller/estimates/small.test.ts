// Saturation look-up, trends, residue and booked masses against closed forms.

import { describe, expect, test } from 'vitest';
import {
  gainOf,
  hoseForceFrom,
  hoseForceOver,
  NO_READINGS,
  surerForce,
  type Weighing,
  withReading,
} from '../../../controller/estimates/masses.ts';
import { residueOf } from '../../../controller/estimates/residue.ts';
import {
  evaporationJPerKg,
  molarMassKgPerMol,
  saturationK,
  saturationPa,
} from '../../../controller/estimates/saturation.ts';
import { type Trend, updateTrend } from '../../../controller/estimates/trend.ts';
import { EQUIPMENT, R134A, R1234YF } from '../support/machine.ts';
import { TANK_KG, weighingOf } from '../support/weighings.ts';

describe('Saturation', () => {
  test("pressure and temperature are each other's inverse", () => {
    for (let celsius = -35; celsius <= 58; celsius += 3.7) {
      const kelvin = celsius + 273.15;
      expect(saturationK(R134A, saturationPa(R134A, kelvin))).toBeCloseTo(kelvin, 6);
    }
  });
  test('between the rows ln p over 1/T is within half a per cent of the equation (R-134a, 15 °C: 4.8837 bar)', () => {
    expect(Math.abs(saturationPa(R134A, 288.15) / 488_370 - 1)).toBeLessThan(0.005);
  });
  test('outside the table the nearest end answers', () => {
    expect(saturationPa(R134A, 100)).toBe(R134A.pressurePa[0]);
    expect(saturationK(R134A, 1e9)).toBeCloseTo(R134A.temperatureK.at(-1)!, 9);
    expect(saturationK(R134A, 1)).toBeCloseTo(R134A.temperatureK[0]!, 9);
  });
  test('heat of evaporation by Clausius and Clapeyron is within 3 % of the equation (20 °C: 182.3 and 149.4 kJ/kg)', () => {
    expect(Math.abs(evaporationJPerKg(R134A, 293.15) / 182_300 - 1)).toBeLessThan(0.03);
    expect(Math.abs(evaporationJPerKg(R1234YF, 293.15) / 149_400 - 1)).toBeLessThan(0.03);
  });
  test('molar mass from thin vapour is within 6 % (0.102 and 0.114 kg/mol)', () => {
    expect(Math.abs(molarMassKgPerMol(R134A) / 0.102032 - 1)).toBeLessThan(0.06);
    expect(Math.abs(molarMassKgPerMol(R1234YF) / 0.114042 - 1)).toBeLessThan(0.06);
  });
});

describe('Trend', () => {
  test('finds the slope of a ramp and forgets when the value is gone', () => {
    let trend: Trend | undefined;
    for (let i = 0; i < 600; i += 1) trend = updateTrend(trend, 50_000 + 83 * (i / 10), i * 100, 5);
    expect(trend!.perS).toBeCloseTo(83, 1);
    expect(updateTrend(trend, undefined, 60_100, 5)).toBeUndefined();
  });
});

describe('Residue', () => {
  test('a falling yield sums to the geometric rest', () => {
    const residue = residueOf([0.08, 0.04, 0.02]);
    expect(residue).toEqual({ kind: 'falling', leftKg: expect.closeTo(0.02, 9) });
  });
  test('a constant yield says liquid, one cycle says nothing', () => {
    expect(residueOf([0.05, 0.048, 0.05]).kind).toBe('liquid');
    expect(residueOf([0.3]).kind).toBe('unknown');
    expect(residueOf([0, 0.1]).kind).toBe('unknown');
  });
});

const weighing = (over: Partial<Weighing>): Weighing => weighingOf(TANK_KG, over);
const FORCE = { kgPerPa: 0, sdKgPerPa: EQUIPMENT.scale.hoseForceKgPerPaSd };

describe('Booked masses', () => {
  test('the gain is counts over the factor, offsets and hose force taken out', () => {
    const gain = gainOf(
      weighing({}),
      weighing({ counts: 2_150_000, offsetKg: 0.01, hoseGaugePa: 500_000 }),
      EQUIPMENT,
      { kgPerPa: 2e-8, sdKgPerPa: 0 },
    );
    expect(gain.massKg).toBeCloseTo(0.5 - 0.01 - 0.01, 9);
  });
  test('weighing at different hose pressures costs certainty, at equal pressure it does NOT', () => {
    const equal = gainOf(weighing({ hoseGaugePa: 5e5 }), weighing({ hoseGaugePa: 5e5 }), EQUIPMENT, FORCE);
    const unequal = gainOf(weighing({}), weighing({ hoseGaugePa: 5e5 }), EQUIPMENT, FORCE);
    expect(equal.sdKg).toBeLessThan(0.001);
    expect(unequal.sdKg).toBeGreaterThan(0.008);
  });
  test('every bump and every kelvin widens the doubt', () => {
    const calm = gainOf(weighing({}), weighing({}), EQUIPMENT, FORCE).sdKg;
    expect(gainOf(weighing({}), weighing({ bumps: 2 }), EQUIPMENT, FORCE).sdKg).toBeGreaterThan(calm + 0.002);
    expect(gainOf(weighing({}), weighing({ ambientK: 298.15 }), EQUIPMENT, FORCE).sdKg).toBeGreaterThan(
      calm + 0.003,
    );
  });
  test('the hose force is learnt from a pressure step, and NOT from one with a bump or beyond belief', () => {
    const step = { counts: 2_100_900, hoseGaugePa: 470_000 };
    expect(hoseForceFrom(weighing({}), weighing(step), EQUIPMENT)!.kgPerPa).toBeCloseTo(0.009 / 470_000, 12);
    expect(hoseForceFrom(weighing({}), weighing({ ...step, bumps: 1 }), EQUIPMENT)).toBeUndefined();
    expect(hoseForceFrom(weighing({}), weighing({ ...step, counts: 2_120_000 }), EQUIPMENT)).toBeUndefined();
  });
  test('it is the same when whoever leant at the first weighing has let go by the second, and less sure', () => {
    const step = { counts: 2_100_900, hoseGaugePa: 470_000 };
    const leant = weighing({ counts: 2_100_000 - 7_200, offsetKg: -0.072 });
    const free = hoseForceFrom(weighing({}), weighing(step), EQUIPMENT)!;
    const learnt = hoseForceFrom(leant, weighing(step), EQUIPMENT)!;
    expect(learnt.kgPerPa).toBeCloseTo(free.kgPerPa, 12);
    expect(learnt.sdKgPerPa).toBeGreaterThan(1.5 * free.sdKgPerPa);
  });
  test('it is learnt from a hose that blows down as well, and what was known before keeps its weight', () => {
    let sums = NO_READINGS;
    for (let i = 0; i < 100; i++) sums = withReading(sums, 4e5 + 2e3 * i, 8 + 2e-8 * 2e3 * i);
    const found = hoseForceOver(sums, EQUIPMENT)!;
    expect(found.kgPerPa).toBeCloseTo(2e-8, 12);
    const known = { kgPerPa: 1e-8, sdKgPerPa: found.sdKgPerPa };
    expect(surerForce(known, found).kgPerPa).toBeCloseTo(1.5e-8, 12);
    expect(surerForce(known, found).sdKgPerPa).toBeCloseTo(found.sdKgPerPa / Math.SQRT2, 14);
    expect(surerForce(known, undefined)).toBe(known);
  });
  test('from a pressure that hardly moves nothing is learnt', () => {
    let sums = NO_READINGS;
    for (let i = 0; i < 100; i++) sums = withReading(sums, 4e5, 8);
    expect(hoseForceOver(sums, EQUIPMENT)).toBeUndefined();
  });
});
