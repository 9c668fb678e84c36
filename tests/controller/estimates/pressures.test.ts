// Pressures that more than one sensor tells of, what the tank's excess says, and the weather of a search.
import { describe, expect, test } from 'vitest';
import { type Look, watched } from '../../../controller/estimates/pressure-watch.ts';
import {
  barometerPa,
  circuitPa,
  hoseGaugePa,
  hosePa,
  isBarometric,
  phantomPa,
} from '../../../controller/estimates/pressures.ts';
import { saturationPa } from '../../../controller/estimates/saturation.ts';
import type { Seen } from '../../../controller/estimates/seen.ts';
import {
  surelyOverPa,
  surelyUnderPa,
  tankAirKg,
  tankExcessPa,
  tankExcessSdPa,
  tankRests,
} from '../../../controller/estimates/tank-air.ts';
import { EQUIPMENT, R134A } from '../support/machine.ts';
import { UNSEEN } from '../support/unseen-input.ts';

const seen = (over: Partial<Seen>): Seen => ({ ...UNSEEN, ...over });

describe('The atmosphere', () => {
  test('is within 50 mbar of the barometer', () => {
    expect(isBarometric(95_000, 90_000)).toBe(true);
    expect(isBarometric(95_001, 90_000)).toBe(false);
    expect(isBarometric(85_000, 90_000)).toBe(true);
    expect(isBarometric(84_999, 90_000)).toBe(false);
  });

  test('or, where nobody knows that, what a mountain pass and the strongest high pressure may have', () => {
    expect([69_999, 70_000, 106_000, 106_001].map((pa) => isBarometric(pa, undefined))).toEqual([
      false,
      true,
      true,
      false,
    ]);
    expect(barometerPa(seen({ barometerPa: 90_000 }))).toBe(90_000);
    expect(barometerPa(seen({ barometerPa: undefined }))).toBe(101_325);
  });
});

describe('Whatever is joined', () => {
  const all = { manifoldPa: 1_000, highSidePa: 3_000, lowSidePa: 2_000 };

  test('is told by the absolute sensor, then by the finer low side, then by the high one', () => {
    expect(circuitPa(seen(all), 2)).toBe(1_000);
    expect(circuitPa(seen({ ...all, manifoldPa: undefined }), 2)).toBe(2_000);
    expect(circuitPa(seen({ highSidePa: 3_000 }), 2)).toBe(3_000);
    expect(circuitPa(seen({ ...all, manifoldPa: undefined }), 1)).toBe(3_000);
    expect(circuitPa(seen({ lowSidePa: 2_000 }), 1)).toBeUndefined();
  });

  test('has in its hoses the higher of what they show; the capped one of a vehicle with one port tells nothing', () => {
    expect(hosePa(seen({ highSidePa: 3, lowSidePa: 2 }), 2)).toBe(3);
    expect(hosePa(seen({ highSidePa: 1, lowSidePa: 2 }), 2)).toBe(2);
    expect(hosePa(seen({ highSidePa: 1 }), 2)).toBe(1);
    expect(hosePa(seen({ lowSidePa: 2 }), 2)).toBe(2);
    expect(hosePa(seen({}), 2)).toBeUndefined();
    expect(hosePa(seen({ highSidePa: 1, lowSidePa: 2 }), 1)).toBe(1);
    expect(hosePa(seen({ lowSidePa: 2 }), 1)).toBeUndefined();
  });
});

describe('The force of the hoses', () => {
  test('goes with their mean above the atmosphere; one that is not read is taken for the other', () => {
    expect(hoseGaugePa(seen({ highSidePa: 301_325, lowSidePa: 201_325 }))).toBe(150_000);
    expect(hoseGaugePa(seen({ highSidePa: 301_325 }))).toBe(200_000);
    expect(hoseGaugePa(seen({ lowSidePa: 201_325 }))).toBe(100_000);
    expect(hoseGaugePa(seen({}))).toBe(0);
  });

  test('seems to change by half of their difference when one of them falls silent, or speaks again', () => {
    const both = seen({ highSidePa: 900_000, lowSidePa: 300_000 });
    const highAlone = seen({ highSidePa: 900_000 });
    const lowAlone = seen({ lowSidePa: 300_000 });
    // The mean of 900 and 300 kPa is 600 kPa.
    expect(phantomPa(both, highAlone)).toBe(300_000);
    expect(phantomPa(highAlone, both)).toBe(-300_000);
    expect(phantomPa(both, lowAlone)).toBe(-300_000);
    expect(phantomPa(lowAlone, both)).toBe(300_000);
  });

  test('and NOT where both are read, or both are not, or the other side moves itself', () => {
    const both = seen({ highSidePa: 900_000, lowSidePa: 300_000 });
    const later = (highSidePa: number) => seen({ highSidePa });
    expect(phantomPa(both, both)).toBe(0);
    expect(phantomPa(undefined, both)).toBe(0);
    expect(phantomPa(both, seen({}))).toBe(0);
    expect(phantomPa(seen({}), both)).toBe(0);
    expect(phantomPa(later(900_000), later(910_000))).toBe(0);
    expect(phantomPa(both, later(920_000))).toBe(310_000);
    expect(phantomPa(both, later(920_001))).toBe(0);
    expect(phantomPa(both, later(880_000))).toBe(290_000);
    expect(phantomPa(both, later(879_999))).toBe(0);
  });
});

describe('The excess of a tank', () => {
  // R-134a at 20 °C: 571.71 kPa (Tillner-Roth and Baehr).
  const at = (tankPa: number | undefined, tankTemperatureK: number | undefined = 293.15) =>
    seen({ tankPa, tankTemperatureK });
  const blind = seen({ tankPa: 600_000, tankTemperatureK: undefined });

  test('is what it stands above the vapour pressure of what it holds; unknown with either sensor', () => {
    expect(tankExcessPa(at(601_710), R134A)).toBeCloseTo(30_000, 3);
    expect(tankExcessPa(at(undefined), R134A)).toBeUndefined();
    expect(tankExcessPa(blind, R134A)).toBeUndefined();
  });

  test('is as sure as gauge and thermometer: 5 kPa, and 0.3 K on a curve of 17.5 kPa/K', () => {
    expect(tankExcessSdPa(at(600_000), EQUIPMENT, R134A)! / Math.hypot(5_000, 0.3 * 17_500)).toBeCloseTo(
      1,
      1,
    );
    expect(tankExcessSdPa(blind, EQUIPMENT, R134A)).toBeUndefined();
  });

  test('surely is one, or the contrary, beyond three deviations', () => {
    const sdPa = tankExcessSdPa(at(600_000), EQUIPMENT, R134A)!;
    const over = (excessPa: number) => surelyOverPa(at(571_710 + excessPa), EQUIPMENT, R134A);
    const under = (excessPa: number) => surelyUnderPa(at(571_710 + excessPa), EQUIPMENT, R134A);
    expect(over(3 * sdPa + 100)).toBeCloseTo(100, 2);
    expect(over(3 * sdPa - 1)).toBe(0);
    expect(over(-9 * sdPa)).toBe(0);
    expect(under(-3 * sdPa - 100)).toBeCloseTo(100, 2);
    expect(under(-3 * sdPa + 1)).toBe(0);
    expect(under(9 * sdPa)).toBe(0);
    expect([surelyOverPa(blind, EQUIPMENT, R134A), surelyUnderPa(blind, EQUIPMENT, R134A)]).toEqual([0, 0]);
    expect(surelyOverPa(at(undefined), EQUIPMENT, R134A)).toBe(0);
    expect(surelyUnderPa(at(undefined), EQUIPMENT, R134A)).toBe(0);
  });

  test('is air by the ideal gas law in the room over the liquid', () => {
    // 8 kg in 21.6 L at 20 °C: 15.07 L of room hold 0.42 kg of vapour, and the liquid leaves 15.41 L.
    const liquidKg = (8 - 21.6e-3 * 27.78) / (1 - 27.78 / 1_225.3);
    const roomM3 = 21.6e-3 - liquidKg / 1_225.3;
    const kg = (excessPa: number) => tankAirKg(at(571_710 + excessPa), 8, EQUIPMENT.tank, R134A);
    expect(kg(50_000)).toBeCloseTo((50_000 * roomM3 * 0.028965) / (8.314463 * 293.15), 5);
    expect(kg(-50_000)).toBe(0);
    expect(tankAirKg(blind, 8, EQUIPMENT.tank, R134A)).toBeUndefined();
    expect(tankAirKg(at(undefined), 8, EQUIPMENT.tank, R134A)).toBeUndefined();
  });
});

describe('A tank at rest', () => {
  const rests = (tankTemperatureK: number | undefined, ambientK: number | undefined) =>
    tankRests(seen({ tankTemperatureK, ambientK }), EQUIPMENT);
  const WITHIN_K = 1 + 3 * Math.SQRT2 * 0.3;

  test('has the temperature of the room, as nearly as two thermometers tell', () => {
    expect(rests(295, 295 + WITHIN_K - 1e-6)).toBe(true);
    expect(rests(295, 295 - WITHIN_K + 1e-6)).toBe(true);
    expect(rests(295, 295 + WITHIN_K + 1e-6)).toBe(false);
    expect(rests(295, 295 - WITHIN_K - 1e-6)).toBe(false);
    expect(rests(undefined, 295)).toBe(false);
    expect(rests(295, undefined)).toBe(false);
  });

  test('is judged at 65 °F or warmer (SAE J1989, in 40 CFR 82 subpart B appendix A)', () => {
    const coldestK = 291.45 - 0.3;
    expect(rests(coldestK + 1e-6, coldestK)).toBe(true);
    expect(rests(coldestK - 1e-6, coldestK)).toBe(false);
  });
});

describe('The pressure of a shut vehicle', () => {
  const FROM: Look = { pa: 400_000, ambientK: 293.15, atMs: 60_000 };
  const said = (over: Partial<Look> = {}, from: Look = FROM) =>
    watched(from, { pa: 400_000, ambientK: 293.15, atMs: 660_000, ...over }, R134A, EQUIPMENT);
  // A kelvin of the vehicle that nobody sees, and three tenths of the gauge's deviation.
  const DOUBT_PA = Math.hypot(400_000 / 293.15, 0.3 * 7_500);

  test('is steady within what the weather and the gauge may do, and has fallen beyond', () => {
    expect(said()).toMatchObject({ said: 'steady', fromPa: 400_000, minutes: 10, fallPa: 0 });
    expect(said({ pa: 400_000 - DOUBT_PA + 1 }).said).toBe('steady');
    expect(said({ pa: 400_000 - DOUBT_PA - 1 }).said).toBe('fell');
  });

  test('follows the temperature of the room: 0.34 per cent a kelvin', () => {
    const colder = said({ ambientK: 283.15, pa: (400_000 * 283.15) / 293.15 });
    expect(colder.said).toBe('steady');
    expect(colder.fallPa).toBeCloseTo(0, 6);
  });

  test('could not have shown a loss of less than this in that time', () => {
    // 4 L of vapour by the ideal gas law, of 0.102 kg/mol within 6 %; a year has 525,960 minutes.
    const kg = (DOUBT_PA * 4e-3 * 0.102) / (8.314463 * 293.15);
    expect(said().limitKgPerYear! / ((kg * 525_960) / 10)).toBeCloseTo(1, 0.9);
    expect(said({ atMs: 1_260_000 }).limitKgPerYear! / said().limitKgPerYear!).toBeCloseTo(0.5, 9);
  });

  test('says nothing where liquid may hold it: nearer to saturation than the sensors are sure of', () => {
    const least = saturationPa(R134A, 293.15 - 1 - 0.9) - 22_500;
    expect(said({}, { ...FROM, pa: least + 1 }).said).toBe('saturated');
    expect(said({}, { ...FROM, pa: least - 1 }).said).toBe('fell');
  });

  test('says nothing where pressure, temperature or time is missing', () => {
    expect(watched(FROM, undefined, R134A, EQUIPMENT)).toEqual({
      said: 'unknown',
      fromPa: 400_000,
      minutes: 0,
    });
    expect(said({ ambientK: undefined }).said).toBe('unknown');
    expect(said({}, { ...FROM, ambientK: undefined }).said).toBe('unknown');
    expect(said({ atMs: 60_000 }).said).toBe('unknown');
  });
});
