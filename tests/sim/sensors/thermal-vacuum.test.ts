// The thermal vacuum sensor: air-equivalent readings, a lag of seconds, and no number outside 1 to 2500 Pa.
import { describe, expect, test } from 'vitest';
import { findFluid } from '../../../sim/fluids/fluid.ts';
import { gasFactor, THERMAL_LAG_S } from '../../../sim/sensors/thermal-vacuum.ts';
import { Kit, known, mean, type StillPlant } from './kit.ts';

type Gas = { gasRefrigerant: number; gasAir: number; gasWater: number };
const AIR: Gas = { gasRefrigerant: 0, gasAir: 1, gasWater: 0 };
const WATER: Gas = { gasRefrigerant: 0, gasAir: 0, gasWater: 1 };
const REFRIGERANT: Gas = { gasRefrigerant: 1, gasAir: 0, gasWater: 0 };

const at = (pressurePa: number, gas: Gas) => (plant: StillPlant) => {
  Object.assign(plant.machine.lowHose, gas, { pressurePa });
};

const steady = (pressurePa: number, gas: Gas, refrigerant = 'R-134a') => {
  const kit = new Kit({ refrigerant }, at(pressurePa, gas));
  kit.after(60);
  return mean(Array.from({ length: 100 }, () => known(kit.sample().vehicleVacuumPa)));
};

describe('thermal vacuum sensor', () => {
  // Water vapour: vacuum literature, from memory. Refrigerant: an estimate.
  test.each([
    ['air', AIR, 1],
    ['water vapour', WATER, 0.55],
    ['refrigerant vapour', REFRIGERANT, 0.75],
  ] as const)('in %s true over indicated is what is stated', (_, gas, trueOverIndicated) => {
    expect(200 / steady(200, gas)).toBeCloseTo(trueOverIndicated, 2);
  });

  test.each(['R-134a', 'R-1234yf'])('a mixture with %s counts by partial pressure, not by mass', (name) => {
    const fluid = findFluid(name)!;
    // Equal partial pressures of the three: masses go as molar masses.
    const [refrigerant, air, water] = [fluid.molarMassKgPerMol, 0.028964, 0.018015];
    const all = refrigerant + air + water;
    const gas = { gasRefrigerant: refrigerant / all, gasAir: air / all, gasWater: water / all };
    const expected = (1 / 0.75 + 1 + 1 / 0.55) / 3;
    expect(gasFactor(gas, fluid.gasConstantJPerKgK)).toBeCloseTo(expected, 4);
    expect(steady(300, gas, name) / 300).toBeCloseTo(expected, 2);
  });

  test('after a step it is 63 % of the way in one time constant of 1 to 5 s', () => {
    expect(THERMAL_LAG_S).toBeGreaterThanOrEqual(1);
    expect(THERMAL_LAG_S).toBeLessThanOrEqual(5);
    const kit = new Kit({}, at(1000, AIR));
    kit.after(60);
    kit.plant.machine.lowHose.pressurePa = 2000;
    expect(known(kit.after(THERMAL_LAG_S).vehicleVacuumPa)).toBeGreaterThan(1580);
    const slow = new Kit({}, at(1000, AIR));
    slow.after(60);
    slow.plant.machine.lowHose.pressurePa = 2000;
    expect(known(slow.after(THERMAL_LAG_S / 2).vehicleVacuumPa)).toBeLessThan(1450);
  });

  test.each([0.3, 2_600, 101_325])('at %d Pa it has no value, and says why', (pressurePa) => {
    const kit = new Kit({}, at(pressurePa, AIR));
    expect(kit.after(60).vehicleVacuumPa).toEqual({ ok: false, reason: 'out-of-range' });
  });

  test('heavy vapour drives it out of range below 2500 Pa: out of range, never a wrong number', () => {
    expect(new Kit({}, at(2_000, REFRIGERANT)).after(60).vehicleVacuumPa).toEqual({
      ok: false,
      reason: 'out-of-range',
    });
    expect(new Kit({}, at(2_000, AIR)).after(60).vehicleVacuumPa.ok).toBe(true);
  });

  test('coming down from one atmosphere it is there within a few of its time constants', () => {
    const kit = new Kit({}, at(101_325, AIR));
    kit.after(60);
    kit.plant.machine.lowHose.pressurePa = 100;
    expect(known(kit.after(8 * THERMAL_LAG_S).vehicleVacuumPa)).toBeLessThan(105);
  });

  test('a machine without one says so', () => {
    const kit = new Kit({ build: { vehicleVacuumFitted: false } });
    expect(kit.sample().vehicleVacuumPa).toEqual({ ok: false, reason: 'not-fitted' });
  });
});
