// The liquid in the tank: against the two volumes it shares the tank with, and against the simulator's equilibrium.
import { describe, expect, test } from 'vitest';
import { liquidDensityKgPerM3, vapourDensityKgPerM3 } from '../../../controller/estimates/saturation.ts';
import { reserveNetKg, tankLiquidKg } from '../../../controller/estimates/tank-liquid.ts';
import { makeNode } from '../../../sim/network/node.ts';
import { dipTubeOf } from '../../../sim/plant/dip-tube.ts';
import { liquidKg } from '../../physics/bench-top.ts';
import { equilibriumOf } from '../../sim/network/kit.ts';
import { EQUIPMENT, R134A } from '../support/machine.ts';

const { tank } = EQUIPMENT;
const celsius = (c: number) => c + 273.15;

describe('Liquid', () => {
  test('and vapour fill the tank between them', () => {
    for (const [netKg, c] of [
      [1.2, 5],
      [3, 20],
      [9, 40],
    ] as const) {
      const liquid = tankLiquidKg(netKg, tank, celsius(c), R134A);
      const volumeM3 =
        liquid / liquidDensityKgPerM3(R134A, celsius(c)) +
        (netKg - liquid) / vapourDensityKgPerM3(R134A, celsius(c));
      expect(volumeM3).toBeCloseTo(tank.waterCapacityM3, 12);
    }
  });

  test('of one kilogram at 35 °C is less than a tenth: 21.6 L hold 0.94 kg of vapour (43.4 kg/m³)', () => {
    expect(tankLiquidKg(1, tank, celsius(20), R134A)).toBeCloseTo(0.409, 2);
    expect(tankLiquidKg(1, tank, celsius(35), R134A)).toBeLessThan(0.1);
  });

  test('is none where everything is vapour', () => {
    expect(tankLiquidKg(0.5, tank, celsius(20), R134A)).toBe(0);
  });

  test('is what the simulator finds in its tank, to a few grams', () => {
    const equilibrium = equilibriumOf('R-134a');
    for (const c of [0, 15, 25, 35]) {
      const node = makeNode({ name: 'tank', volumeM3: tank.waterCapacityM3 }, celsius(c));
      equilibrium.fill(node, celsius(c), { refrigerantKg: 2.5 });
      expect(Math.abs(tankLiquidKg(2.5, tank, celsius(c), R134A) - liquidKg(node))).toBeLessThan(0.01);
    }
  });
});

describe('Reserve', () => {
  test('is what leaves so much liquid in the tank, from room temperature up', () => {
    for (const c of [20, 30, 45]) {
      const netKg = reserveNetKg(tank, celsius(c), R134A);
      expect(tankLiquidKg(netKg, tank, celsius(c), R134A)).toBeCloseTo(tank.reserveKg, 9);
    }
  });

  test('of a cold tank is that of a room: it warms while the job runs', () => {
    expect(reserveNetKg(tank, celsius(-10), R134A)).toBe(reserveNetKg(tank, celsius(20), R134A));
  });

  test('of a tank of unknown temperature is that of the hottest one allowed', () => {
    expect(reserveNetKg(tank, undefined, R134A)).toBe(reserveNetKg(tank, tank.temperatureLimitK, R134A));
  });

  test('of 0.4 kg covers the dip tube of the simulated tank twice over', () => {
    for (const waterCapacityM3 of [2e-3, 10e-3, 21.6e-3, 60e-3]) {
      const coveredKg = dipTubeOf(waterCapacityM3).uncoversAt * waterCapacityM3 * 1_225;
      expect(0.4).toBeGreaterThan(1.7 * coveredKg);
    }
  });
});
