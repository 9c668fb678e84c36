import { describe, expect, test } from 'vitest';
import { ON, type Output, SAFE_COMMANDS } from '../../../controller/signals.ts';
import { Plant } from '../../../sim/plant/plant.ts';
import { specOf, tablesOf } from '../hand.ts';

const RECOVER = ['highSideValve', 'recoveryValve', 'compressor'] as const;

function cylinderOf(contentKg: number, airKg = 0): Plant {
  const { vehicle, ...shared } = specOf({});
  const cylinder = {
    refrigerant: vehicle.refrigerant,
    contentKg,
    waterCapacityM3: 12e-3,
    temperatureK: 293.15,
    airKg,
  };
  const plant = new Plant({ ...shared, cylinder }, tablesOf(vehicle.refrigerant));
  plant.operate('connect-hoses');
  return plant;
}

function hold(plant: Plant, outputs: readonly Output[], seconds: number): void {
  plant.command({ ...SAFE_COMMANDS, ...Object.fromEntries(outputs.map((output) => [output, ON])) });
  plant.advanceTo(plant.nowMs + seconds * 1000);
}

describe('a supply cylinder with its valve down', () => {
  test('fills the hose with liquid as soon as it is connected', () => {
    const plant = cylinderOf(8);
    hold(plant, [], 10);
    const { highHose } = plant.machine;
    expect(highHose.liquidFraction).toBeGreaterThan(0.6);
    expect(highHose.pressurePa).toBeCloseTo(plant.source.high.pressurePa, -3);
  });

  test('floods separator and compressor of a machine that draws without metering', () => {
    const plant = cylinderOf(8);
    hold(plant, RECOVER, 120);
    expect(plant.within().swallowedLiquidKg).toBeGreaterThan(0.1);
  });

  test('gives vapour alone when its liquid is gone, and its air last of all', () => {
    const plant = cylinderOf(0.3, 2e-3);
    const airBefore = plant.source.high.airKg;
    hold(plant, RECOVER, 20);
    expect(plant.machine.highHose.liquidFraction).toBe(0);
    expect(plant.within().swallowedLiquidKg).toBe(0);
    expect(plant.source.high.airKg).toBeLessThan(0.98 * airBefore);

    const full = cylinderOf(8, 2e-3);
    const fullBefore = full.source.high.airKg;
    hold(full, ['highSideValve', 'recoveryValve'], 20);
    expect(full.source.high.airKg).toBeCloseTo(fullBefore, 9);
  });

  test('loses and gains no gram on the way, and counts as a cylinder and not as a vehicle', () => {
    const plant = cylinderOf(8);
    hold(plant, ['highSideValve', 'recoveryValve'], 5);
    hold(plant, RECOVER, 30);
    const truth = plant.truth();
    expect(Math.abs(truth.massDriftKg)).toBeLessThan(1e-9);
    expect(truth.vehicleRefrigerantKg).toBe(0);
    expect(8 - truth.cylinderRefrigerantKg).toBeGreaterThan(0.1);
    const places =
      truth.cylinderRefrigerantKg +
      truth.hoseRefrigerantKg +
      truth.machineRefrigerantKg +
      truth.tankRefrigerantKg;
    expect(places + truth.spilledKg + truth.ventedKg + truth.pumpExhaustKg).toBeCloseTo(truth.initialKg, 6);
  });
});
