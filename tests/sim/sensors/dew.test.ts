// Dew and frost on a tank colder than the room's dew point.
import { describe, expect, test } from 'vitest';
import { waterSaturationTemperatureK, waterVapourPressurePa } from '../../../sim/fluids/water.ts';
import { condensingKgPerM2S, Dew, MOST_DEW_KG, TANK_SURFACE_M2 } from '../../../sim/sensors/dew.ts';
import { Kit, known, ROOM_K } from './kit.ts';

const DEW_POINT_K = waterSaturationTemperatureK(0.6 * waterVapourPressurePa(ROOM_K));

function grown(wallK: number, seconds: number): number {
  const dew = new Dew(ROOM_K, 0.6);
  let kg = 0;
  for (let i = 0; i < seconds; i++) kg = dew.advance(wallK, 1);
  return kg;
}

describe('dew on the tank', () => {
  test('at 20 °C and 60 % the dew point is 12.0 °C: a wall above stays dry, one below does not', () => {
    // 12.0 °C: psychrometric tables.
    expect(DEW_POINT_K - 273.15).toBeCloseTo(12.0, 1);
    expect(grown(DEW_POINT_K + 0.5, 3600)).toBe(0);
    expect(grown(DEW_POINT_K - 0.5, 3600)).toBeGreaterThan(0);
  });

  test('the flow agrees with the difference of humidity ratios and 3 W/(m²·K) of convection, by hand', () => {
    // Psychrometric chart: 8.7 g/kg at 20 °C and 60 %, 5.4 g/kg saturated at 5 °C. Flow = h / (cp·Le^⅔) · difference.
    const byHand = (3 / (1005 * 0.9)) * (8.7e-3 - 5.4e-3);
    const roomPa = 0.6 * waterVapourPressurePa(ROOM_K);
    const flow = condensingKgPerM2S(roomPa, waterVapourPressurePa(278.15), ROOM_K, 278.15);
    expect(flow / byHand).toBeGreaterThan(0.97);
    expect(flow / byHand).toBeLessThan(1.03);
  });

  test('it grows by grams in a quarter of an hour and ends at ten grams, where it drips', () => {
    const quarter = grown(278.15, 900);
    expect(quarter).toBeGreaterThan(0.002);
    expect(quarter).toBeLessThan(0.008);
    expect(grown(278.15, 20_000)).toBe(MOST_DEW_KG);
  });

  test('under 0 °C it is frost, over which the pressure is that of ice', () => {
    const frost = grown(263.15, 60) / 60 / TANK_SURFACE_M2;
    const ice = waterVapourPressurePa(263.15);
    expect(ice).toBeCloseTo(259.9, 0); // 259.90 Pa at −10 °C: Murphy and Koop 2005, table of checks.
    expect(frost).toBeCloseTo(
      condensingKgPerM2S(0.6 * waterVapourPressurePa(ROOM_K), ice, ROOM_K, 263.15),
      9,
    );
  });

  test('a wall that warms dries again, to nothing and no further', () => {
    const dew = new Dew(ROOM_K, 0.6);
    for (let i = 0; i < 1800; i++) dew.advance(278.15, 1);
    const wet = dew.advance(ROOM_K, 1);
    expect(wet).toBeGreaterThan(0);
    for (let i = 0; i < 600; i++) dew.advance(ROOM_K, 1);
    expect(dew.advance(ROOM_K, 1)).toBeLessThan(wet);
    for (let i = 0; i < 20_000; i++) dew.advance(ROOM_K, 1);
    expect(dew.advance(ROOM_K, 1)).toBe(0);
  });

  test.each([
    [278.15, 1],
    [ROOM_K, 0],
  ])('the scale carries it: tank at %d K', (wallK, wet) => {
    const kit = new Kit({ weather: { relativeHumidity: 0.6 } }, (plant) => {
      plant.machine.tank.wallK = wallK;
    });
    const before = known(kit.sample().scaleCounts);
    const gainedKg = (known(kit.after(900).scaleCounts) - before) / 100_000;
    expect(gainedKg).toBeCloseTo(wet * grown(wallK, 900), 4);
  });
});
