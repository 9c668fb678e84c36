// A vehicle opened for a repair: air and refrigerant change places, the oil gives off what it holds, every gram is booked.
import { expect, test } from 'vitest';
import type { VehicleSpec } from '../../../sim/spec.ts';
import { MachineRig } from './machine-rig.ts';

const HOUR_S = 3600;
const REPAIR = { openDiameterM: 10e-3, stopsLeak: true } as const;
const OIL = { kind: 'PAG', kg: 0.15, humidity: 0 } as const;

/** A vehicle that was recovered: vapour at half an atmosphere or so, and oil. */
const recovered = (vehicle: Partial<VehicleSpec> = {}): MachineRig =>
  new MachineRig({
    relativeHumidity: 0.5,
    vehicle: { chargeKg: 0.009, oil: OIL, repair: REPAIR, ...vehicle },
  }).connect();

test('after hours it is full of air at the barometer, the oil has given off its refrigerant, and all of it counts as leaked', () => {
  const rig = recovered();
  const { plant } = rig;
  const before = plant.truth();
  const dissolvedKg = plant.within().vehicleDissolvedKg;
  plant.openVehicle(true);
  rig.hold([], 4 * HOUR_S);
  const after = plant.truth();
  expect(plant.vehicle.high.pressurePa / 101_325).toBeCloseTo(1, 3);
  expect(after.vehicleRefrigerantKg).toBeLessThan(0.1 * before.vehicleRefrigerantKg);
  expect(plant.within().vehicleDissolvedKg).toBeLessThan(0.2 * dissolvedKg);
  const goneKg = before.vehicleRefrigerantKg + before.hoseRefrigerantKg;
  expect(after.leakedKg).toBeCloseTo(goneKg - after.vehicleRefrigerantKg - after.hoseRefrigerantKg, 9);
  expect(Math.abs(after.massDriftKg)).toBeLessThan(1e-9);
  expect(after.vehicleWaterKg).toBeGreaterThan(1e-5);
});

test('gas changes places as fast as Epstein (1988) has it for a horizontal opening, at equal pressure', () => {
  // Filled to the barometer with refrigerant alone, no oil: c/c0 = 1/(1 + t/(2τ))² roughly, with τ = V/Q at the start.
  const rig = new MachineRig({
    relativeHumidity: 0,
    vehicle: { chargeKg: 0.0107, repair: REPAIR },
  }).connect();
  const { plant } = rig;
  rig.hold([], 10);
  plant.openVehicle(true);
  rig.hold([], 5);
  const startKg = plant.truth().vehicleRefrigerantKg;
  const { gasDensityKgPerM3 } = plant.vehicle.low;
  const air = 1.204;
  const buoyancy = (gasDensityKgPerM3 - air) / ((gasDensityKgPerM3 + air) / 2);
  const flowM3PerS = 0.055 * Math.sqrt(9.80665 * buoyancy * REPAIR.openDiameterM ** 5);
  rig.hold([], 60);
  const lostKg = startKg - plant.truth().vehicleRefrigerantKg;
  expect(lostKg / ((60 * flowM3PerS * startKg) / 2.5e-3)).toBeGreaterThan(0.9);
  expect(lostKg / ((60 * flowM3PerS * startKg) / 2.5e-3)).toBeLessThan(1.1);
});

test('closed and mended it holds what came in; a repair that did not find the leak leaves it', () => {
  for (const stopsLeak of [true, false]) {
    const rig = recovered({ holeDiameterM: 0.1e-3, repair: { ...REPAIR, stopsLeak } });
    const { plant } = rig;
    plant.openVehicle(true);
    rig.hold([], HOUR_S);
    plant.openVehicle(false);
    const closed = plant.truth();
    rig.hold(['highSideValve', 'lowSideValve', 'vacuumPump', 'vacuumValve'], 300).hold([], 1);
    const evacuatedPa = plant.vehicle.high.pressurePa;
    rig.hold([], 1200);
    const risePa = plant.vehicle.high.pressurePa - evacuatedPa;
    if (stopsLeak) expect(risePa).toBeLessThan(1_500);
    else expect(risePa).toBeGreaterThan(30_000);
    expect(Math.abs(closed.massDriftKg)).toBeLessThan(1e-9);
    expect(Math.abs(plant.truth().massDriftKg)).toBeLessThan(1e-9);
  }
});

test('a vehicle opened under pressure vents, and the truth says so', () => {
  const rig = recovered({ chargeKg: 0.5 });
  rig.plant.openVehicle(true);
  rig.hold([], 300);
  const { leakedKg, massDriftKg } = rig.plant.truth();
  expect(leakedKg).toBeGreaterThan(0.2);
  expect(Math.abs(massDriftKg)).toBeLessThan(1e-9);
});

test('a vehicle of which nobody says what a repair does can NOT be opened', () => {
  expect(() => new MachineRig().plant.openVehicle(true)).toThrow('repair');
});
