// Hoses and couplers: left shut, taken off, come off. And whatever happens, the account of grams closes.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ON, OUTPUTS, SAFE_COMMANDS } from '../../../controller/signals.ts';
import { ActiveFaults, FAULT_NAMES } from '../../../sim/faults.ts';
import { Plant } from '../../../sim/plant/plant.ts';
import type { HandAction } from '../../../sim/spec.ts';
import { EVACUATE, RECOVER, specOf, tablesOf } from '../hand.ts';
import { MachineRig } from './machine-rig.ts';

describe('couplers', () => {
  test('a high-side coupler left shut keeps its hose from the vehicle, and the low side works on', () => {
    const rig = new MachineRig().fault('coupler-shut').connect().hold([], 30);
    expect(rig.machine.highHose.pressurePa).toBeLessThan(100_000);
    expect(rig.machine.lowHose.pressurePa).toBeGreaterThan(500_000);
  });

  test('charging into it fills the hose and stops: some 40 g of liquid in 1.8 m of 4.8 mm', () => {
    const choices = { vehicle: { chargeKg: 0.0005 }, build: { valveReverseLiftPa: 600_000 } };
    const rig = new MachineRig(choices).connect().hold(EVACUATE, 300).hold([], 1);
    rig.fault('coupler-shut');
    const before = rig.machine.tank.refrigerantKg;
    const chargedG = () => (before - rig.machine.tank.refrigerantKg) * 1000;
    rig.hold(['highSideValve', 'chargeValve'], 30);
    const filledG = chargedG();
    expect(filledG).toBeGreaterThan(30);
    expect(filledG).toBeLessThan(60);
    // Then the hose, as warm as the room, boils some of it back into the tank.
    rig.hold(['highSideValve', 'chargeValve'], 90);
    expect(chargedG()).toBeLessThan(filledG);
    expect(chargedG()).toBeGreaterThan(filledG / 2);
    expect(rig.plant.truth().vehicleRefrigerantKg).toBeLessThan(0.001);
  });

  test('the high one can be shut alone', () => {
    const rig = new MachineRig().connect().hold([], 20);
    rig.plant.operate('close-high-coupler');
    rig.hold(RECOVER, 120);
    expect(rig.machine.highHose.pressurePa).toBeLessThan(0.9 * rig.plant.vehicle.high.pressurePa);
  });

  test('taken off they spill what is between seal and core, once: about 25 mg each at 5.7 bar', () => {
    const rig = new MachineRig().connect().hold([], 30);
    rig.plant.operate('close-couplers');
    rig.plant.operate('disconnect-hoses');
    rig.hold([], 5);
    const first = rig.plant.truth();
    expect(first.spilledKg * 1e6).toBeGreaterThan(40);
    expect(first.spilledKg * 1e6).toBeLessThan(70);
    rig.plant.operate('disconnect-hoses');
    expect(rig.plant.truth().spilledKg).toBe(first.spilledKg);
    expect(rig.machine.highHose.pressurePa).toBeGreaterThan(500_000);
    expect(Math.abs(first.massDriftKg)).toBeLessThan(1e-9);
  });

  test('a hose that comes off empties itself into the room, while the core keeps the vehicle shut', () => {
    const rig = new MachineRig().connect().hold([], 30);
    const vehicleKg = rig.plant.truth().vehicleRefrigerantKg;
    rig.fault('hose-off').hold([], 10);
    const truth = rig.plant.truth();
    expect(truth.spilledKg).toBeGreaterThan(0.0005);
    expect(Math.abs(rig.machine.lowHose.pressurePa - 101_325)).toBeLessThan(2_000);
    expect(truth.vehicleRefrigerantKg).toBeCloseTo(vehicleKg, 6);
    expect(Math.abs(truth.massDriftKg)).toBeLessThan(1e-9);
  });

  test('in the middle of an evacuation the same hose draws air at full bore', () => {
    const rig = new MachineRig({ vehicle: { chargeKg: 0.0005 } }).connect().hold(EVACUATE, 120);
    rig.fault('hose-off').hold(EVACUATE, 5);
    expect(rig.machine.manifold.pressurePa).toBeGreaterThan(10_000);
    expect(rig.machine.lowHose.airKg).toBeGreaterThan(1e-5);
  });
});

const HANDS: readonly HandAction[] = [
  'connect-hoses',
  'close-couplers',
  'close-high-coupler',
  'disconnect-hoses',
  'start-engine',
  'stop-engine',
];

test('whatever hands, commands and faults do, the places sum to what was there within a microgram', () => {
  const step = fc.record({
    on: fc.subarray([...OUTPUTS]),
    faults: fc.subarray([...FAULT_NAMES], { maxLength: 3 }),
    welded: fc.constantFrom(...OUTPUTS),
    hand: fc.constantFrom(...HANDS),
    lastMs: fc.integer({ min: 50, max: 20_000 }),
  });
  fc.assert(
    fc.property(fc.array(step, { minLength: 6, maxLength: 20 }), (steps) => {
      const faults = new ActiveFaults();
      const spec = specOf({
        ambientC: 25,
        vehicleC: 15,
        vehicle: { oil: { kind: 'PAG', kg: 0.12, humidity: 0.2 }, airKg: 0.001, waterKg: 0.002 },
        build: { valveSeatLeak: 1e-5 },
      });
      const plant = new Plant({ ...spec, tank: { ...spec.tank, airKg: 0.004 } }, tablesOf('R-134a'), faults);
      for (const { on, faults: wrong, welded, hand, lastMs } of steps) {
        plant.operate(hand);
        for (const fault of FAULT_NAMES) {
          if (fault === 'relay-welded') continue;
          faults.switch({ fault }, wrong.includes(fault));
        }
        faults.switch({ fault: 'relay-welded', output: welded }, wrong.includes('relay-welded'));
        plant.command({ ...SAFE_COMMANDS, ...Object.fromEntries(on.map((output) => [output, ON])) });
        plant.advanceTo(plant.nowMs + lastMs);
        const truth = plant.truth();
        for (const kg of Object.values(truth)) expect(Number.isFinite(kg)).toBe(true);
        const { initialKg, tankAirKg, vehicleWaterKg, vehicleOilKg, vehicleDyeKg, massDriftKg, ...places } =
          truth;
        const sum = Object.values(places).reduce((total, kg) => total + kg, 0);
        expect(Math.abs(sum - initialKg)).toBeLessThan(1e-9);
        expect(Math.abs(massDriftKg)).toBeLessThan(1e-9);
      }
    }),
    { seed: 20_260_402, numRuns: 40 },
  );
});
