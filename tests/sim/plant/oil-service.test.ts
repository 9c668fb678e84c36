// Oil drained and oil drawn in: viscous flow, the gas that follows, and where each gram goes.
import { describe, expect, test } from 'vitest';
import { addOil } from '../../../sim/network/oil.ts';
import { viscousConductance } from '../../../sim/plant/oil-service.ts';
import { EVACUATE, RECOVER } from '../hand.ts';
import { MachineRig } from './machine-rig.ts';

const ML = 970e-6;

describe('the flow of oil', () => {
  test('through 1.8 m of 4.8 mm hose 110 mPa·s go at 6.6 mL/s under one bar (Hagen–Poiseuille)', () => {
    expect(viscousConductance(4.8e-3, 1.8, 0.11) * 1e5 * 1e6).toBeCloseTo(6.6, 1);
  });
});

describe('the separator', () => {
  /** Oil in the separator, and gas of the vehicle over it. */
  function oily(oilMl: number) {
    const rig = new MachineRig({ vehicle: { chargeKg: 0.03 } }).connect();
    addOil(rig.machine.separator, oilMl * ML, 293.15);
    rig.hold(['highSideValve', 'lowSideValve', 'recoveryValve'], 30).hold([], 1);
    return rig;
  }

  test('lets oil out first, some 4 mL/s at half a bar, with what is dissolved in it, and no gas', () => {
    const rig = oily(60);
    const overPa = rig.machine.separator.pressurePa - 101_325;
    expect(overPa).toBeGreaterThan(20_000);
    rig.hold(['separatorDrainValve'], 1.5).hold([], 0.5);
    const ml = rig.services.oil.drainedOilKg / ML;
    const expected = ((4 * overPa) / 50_000) * 1.5;
    expect(ml / expected).toBeGreaterThan(0.75);
    expect(ml / expected).toBeLessThan(1.25);
    const truth = rig.plant.truth();
    expect(truth.ventedKg).toBe(0);
    expect(rig.services.oil.caughtRefrigerantKg).toBeGreaterThan(0);
    expect(Math.abs(truth.massDriftKg)).toBeLessThan(1e-9);
  });

  test('shuts its float once the oil is gone: nothing is vented however long the drain stays open', () => {
    const rig = oily(8);
    const beforePa = rig.machine.separator.pressurePa;
    rig.hold(['separatorDrainValve'], 20).hold([], 0.5);
    expect(rig.services.oil.drainedOilKg / ML).toBeCloseTo(8, 1);
    expect(rig.plant.truth().ventedKg).toBe(0);
    expect(rig.machine.separator.pressurePa).toBeGreaterThan(0.9 * beforePa);
  });

  test('with a float that sticks lets gas out after the oil: what is vented is in the account', () => {
    const rig = oily(8).fault('drain-float-stuck');
    rig.hold(['separatorDrainValve'], 20).hold([], 0.5);
    const truth = rig.plant.truth();
    expect(rig.services.oil.drainedOilKg / ML).toBeCloseTo(8, 1);
    expect(truth.ventedKg).toBeGreaterThan(0.0001);
    expect(Math.abs(truth.massDriftKg)).toBeLessThan(1e-9);
    expect(rig.machine.separator.pressurePa).toBeLessThan(110_000);
  });

  test('under vacuum does NOT drain: air bubbles in until it stands at the pressure of the room', () => {
    const rig = new MachineRig({ vehicle: { chargeKg: 0.0005 } }).connect();
    rig.hold([...EVACUATE, 'recoveryValve'], 300).hold([], 1);
    addOil(rig.machine.separator, 20 * ML, 293.15);
    rig.hold([], 2).hold(['separatorDrainValve'], 0.3);
    expect(rig.services.oil.drainedOilKg).toBe(0);
    expect(rig.machine.separator.airKg).toBeGreaterThan(1e-5);
    rig.hold(['separatorDrainValve'], 20);
    expect(rig.machine.separator.pressurePa).toBeGreaterThan(95_000);
    expect(rig.services.oil.drainedOilKg / ML).toBeLessThan(20);
  });

  test('an ordinary recovery from an oiled vehicle leaves some to drain', () => {
    const rig = new MachineRig({ vehicle: { oil: { kind: 'PAG', kg: 0.12, humidity: 0.2 } } }).connect();
    rig.hold([], 10).hold(RECOVER, 600).hold([], 1);
    expect(rig.machine.separator.oilKg / ML).toBeGreaterThan(1);
    expect(rig.machine.separator.oilKg / ML).toBeLessThan(40);
  });
});

describe('new oil', () => {
  const evacuated = () =>
    new MachineRig({ vehicle: { chargeKg: 0.0005 } }).connect().hold(EVACUATE, 300).hold([], 1);

  test('is drawn into the evacuated high side at 6.6 mL/s, but for the 2 mL that cling to manifold and hose', () => {
    const rig = evacuated();
    rig.hold(['highSideValve', 'oilValve'], 3).hold([], 1);
    const drawnMl = rig.services.oil.injectedOilKg / ML;
    expect(drawnMl / (6.6 * 1.01325 * 3)).toBeGreaterThan(0.9);
    expect(drawnMl / (6.6 * 1.01325 * 3)).toBeLessThan(1.05);
    expect((rig.plant.vehicle.high.oilKg + rig.plant.vehicle.low.oilKg) / ML).toBeCloseTo(drawnMl - 2, 1);
    // And a trace that came back from the pump while its valve was shutting.
    expect(rig.machine.manifold.oilKg / ML).toBeCloseTo(2, 0);
  });

  test('goes to the low side when only that is open, and to neither when the coupler was left shut', () => {
    const low = evacuated().hold(['lowSideValve', 'oilValve'], 2);
    expect(low.plant.vehicle.low.oilKg / ML).toBeGreaterThan(5);
    const shut = evacuated().fault('coupler-shut').hold(['highSideValve', 'oilValve'], 2);
    expect(shut.plant.truth().vehicleOilKg).toBe(0);
    expect(shut.machine.highHose.oilKg / ML).toBeGreaterThan(5);
  });

  test('from an empty bottle air comes instead, and the vehicle rises by more than 3 mbar a second', () => {
    const rig = evacuated().fault('oil-bottle-empty');
    const before = rig.plant.vehicle.high.pressurePa;
    rig.hold(['highSideValve', 'oilValve'], 3);
    expect(rig.services.oil.injectedOilKg).toBe(0);
    expect(rig.plant.vehicle.high.airKg).toBeGreaterThan(1e-5);
    expect((rig.plant.vehicle.high.pressurePa - before) / 3).toBeGreaterThan(300);
  });

  test('a bottle that still has oil does NOT let air in', () => {
    const rig = evacuated().hold(['highSideValve', 'oilValve'], 3);
    expect(rig.plant.vehicle.high.airKg).toBeLessThan(1e-5);
  });

  test('dye ends after its 50 mL, and then air comes', () => {
    const rig = evacuated().hold(['highSideValve', 'dyeValve'], 10);
    expect(rig.services.oil.injectedDyeKg / ML).toBeCloseTo(50, 6);
    expect(rig.services.oil.injectedOilKg).toBe(0);
    expect(rig.plant.vehicle.high.airKg).toBeGreaterThan(1e-5);
  });

  test('dye counts as oil in the vehicle, and by itself: after oil all of it, through a dry line all but the film', () => {
    const dry = evacuated().hold(['highSideValve', 'dyeValve'], 1).hold(['highSideValve'], 1);
    const drawnMl = dry.services.oil.injectedDyeKg / ML;
    expect(dry.plant.truth().vehicleDyeKg / ML).toBeCloseTo(drawnMl - 2, 6);
    expect(dry.plant.truth().vehicleOilKg).toBeCloseTo(dry.plant.truth().vehicleDyeKg, 9);
    const wet = evacuated().hold(['highSideValve', 'oilValve'], 1).hold(['highSideValve', 'dyeValve'], 1);
    wet.hold(['highSideValve'], 1);
    expect(wet.plant.truth().vehicleDyeKg).toBeCloseTo(wet.services.oil.injectedDyeKg, 12);
    expect(wet.plant.truth().vehicleOilKg).toBeGreaterThan(1.5 * wet.plant.truth().vehicleDyeKg);
  });

  test('from an empty bottle of dye air comes, and one that still has dye does NOT let any in', () => {
    const empty = evacuated().fault('dye-bottle-empty').hold(['highSideValve', 'dyeValve'], 3);
    expect(empty.plant.truth().vehicleDyeKg).toBe(0);
    expect(empty.plant.vehicle.high.airKg).toBeGreaterThan(1e-5);
    const full = evacuated().hold(['highSideValve', 'dyeValve'], 3);
    expect(full.plant.vehicle.high.airKg).toBeLessThan(1e-5);
  });

  test('with the coupler left shut no dye comes into the vehicle', () => {
    const shut = evacuated().fault('coupler-shut').hold(['highSideValve', 'dyeValve'], 2);
    expect(shut.services.oil.injectedDyeKg / ML).toBeGreaterThan(5);
    expect(shut.plant.truth().vehicleDyeKg).toBe(0);
  });

  test('into a vehicle too small for it only half of the high side fills, and the charge still finds room', () => {
    const rig = new MachineRig({ vehicle: { chargeKg: 0.0005, volumeM3: 0.8e-3 } }).connect();
    rig.hold(EVACUATE, 300).hold([], 1).hold(['highSideValve', 'oilValve'], 60);
    const { high } = rig.plant.vehicle;
    expect(high.oilKg / ML / (high.volumeM3 * 1e6)).toBeCloseTo(0.5, 1);
    rig.hold(['highSideValve', 'chargeValve'], 20).hold([], 1800);
    expect(high.gasVolumeM3).toBeGreaterThan(0);
    expect(high.pressurePa).toBeLessThan(700_000);
  });

  test('wets a manifold of 2 mL only as far as there is room', () => {
    const rig = new MachineRig({
      vehicle: { chargeKg: 0.0005 },
      build: { manifoldVolumeM3: 2e-6 },
    }).connect();
    rig.hold(EVACUATE, 300).hold([], 1).hold(['highSideValve', 'oilValve'], 3);
    expect(rig.machine.manifold.oilKg / ML).toBeLessThan(1.6);
    expect(rig.plant.vehicle.high.oilKg / ML).toBeGreaterThan(15);
  });

  test('opened under pressure the line blows refrigerant out through the bottle', () => {
    const rig = new MachineRig().connect().hold(['highSideValve'], 10).hold(['highSideValve', 'oilValve'], 2);
    const truth = rig.plant.truth();
    expect(rig.services.oil.injectedOilKg).toBe(0);
    expect(truth.ventedKg).toBeGreaterThan(0.001);
    expect(Math.abs(truth.massDriftKg)).toBeLessThan(1e-9);
  });
});
