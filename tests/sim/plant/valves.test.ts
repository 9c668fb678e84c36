// Valves that do not do as they are told: dirt on a seat, a plunger lifted from behind, a welded relay, a dead fan.
import { describe, expect, test } from 'vitest';
import { RECOVER } from '../hand.ts';
import { MachineRig } from './machine-rig.ts';

/** Pumps the manifold so that five bar and more stand over the charge valve; answers what left the tank, g/s. */
function throughShutChargeValve(rig: MachineRig): number {
  rig.hold(['vacuumPump', 'vacuumValve'], 10);
  const before = rig.machine.tank.refrigerantKg;
  rig.hold(['vacuumPump', 'vacuumValve'], 20);
  return ((before - rig.machine.tank.refrigerantKg) * 1000) / 20;
}

describe('the seat of the charge valve', () => {
  test.each([0.05, 0.5, 5])('with dirt for %d g/s lets that much liquid through while it is shut', (size) => {
    const flow = throughShutChargeValve(new MachineRig().fault('charge-valve-leaks', { size }));
    expect(Math.abs(flow / size - 1)).toBeLessThan(0.1);
  });

  test('when good lets nothing through', () => {
    expect(throughShutChargeValve(new MachineRig())).toBe(0);
  });

  test('may leak by its build: a thousandth of its area passes a thousandth of its flow', () => {
    const flow = throughShutChargeValve(new MachineRig({ build: { valveSeatLeak: 1e-3 } }));
    expect(flow).toBeGreaterThan(0.022);
    expect(flow).toBeLessThan(0.028);
  });
});

describe('a shut valve with the pressure behind it', () => {
  const lowHoseAfterCharging = (valveReverseLiftPa: number): number => {
    const rig = new MachineRig({ tankC: 30, ambientC: 30, build: { valveReverseLiftPa } });
    rig.hold(['highSideValve', 'lowSideValve', 'vacuumPump', 'vacuumValve'], 60);
    rig.hold(['chargeValve'], 20);
    return rig.machine.lowHose.pressurePa;
  };

  test('lifts off its seat where the difference beats its spring', () => {
    expect(lowHoseAfterCharging(450_000)).toBeGreaterThan(100_000);
  });

  test('stays shut below, and never leaves more difference than its spring bears', () => {
    expect(lowHoseAfterCharging(900_000)).toBeLessThan(20_000);
    const rig = new MachineRig({ tankC: 30, ambientC: 30, build: { valveReverseLiftPa: 450_000 } });
    rig.hold(['highSideValve', 'lowSideValve', 'vacuumPump', 'vacuumValve'], 60).hold(['chargeValve'], 60);
    const { manifold, lowHose } = rig.machine;
    expect(manifold.pressurePa - lowHose.pressurePa).toBeLessThan(460_000);
  });
});

describe('a welded relay', () => {
  test('keeps its output on whatever is commanded, countdown included, until the mains fail', () => {
    const rig = new MachineRig().fault('relay-welded', { output: 'chargeValve' });
    rig.hold([], 1);
    expect(rig.plant.isOn('chargeValve')).toBe(true);
    rig.fault('power-lost').hold([], 1);
    expect(rig.plant.isOn('chargeValve')).toBe(false);
  });

  test('holds its own output alone', () => {
    const rig = new MachineRig().fault('relay-welded', { output: 'chargeValve' }).hold([], 1);
    expect(rig.plant.isOn('highSideValve')).toBe(false);
  });
});

test('with its fan stopped a warm condenser gives the room less than half of the heat', () => {
  const toRoomJ = (stopped: boolean): number => {
    const rig = new MachineRig({ ambientC: 20, vehicleC: 30, tankC: 20 }).connect();
    if (stopped) rig.fault('fan-stopped');
    return -rig.hold(RECOVER, 120).machine.condenser.takenHeatJ;
  };
  expect(toRoomJ(false)).toBeGreaterThan(5_000);
  expect(toRoomJ(true)).toBeLessThan(0.5 * toRoomJ(false));
});
