// The recovery compressor: against a shut tank, at a restart, worn, flooded, and before a cold condenser.
import { describe, expect, test } from 'vitest';
import { makeNode } from '../../../sim/network/node.ts';
import { BOTH_SIDES, RECOVER } from '../hand.ts';
import { equilibriumOf } from '../network/kit.ts';
import { MachineRig } from './machine-rig.ts';

const CUT_OUT_PA = 2_500_000;

describe('against tank valves shut by hand', () => {
  test('3 g/s into 0.3 L raise the pressure by about 2.7 bar/s if nothing condenses (ideal gas at 60 °C)', () => {
    const equilibrium = equilibriumOf('R-134a');
    const discharge = makeNode({ name: 'discharge', volumeM3: 0.3e-3 }, 333.15);
    const at = (refrigerantKg: number): number => {
      equilibrium.fill(discharge, 333.15, { refrigerantKg });
      return discharge.pressurePa;
    };
    const perSecond = at(0.0045) - at(0.0015);
    expect(Math.abs(perSecond / 270_000 - 1)).toBeLessThan(0.15);
  });

  test.each(['with its fan stopped', 'with its fan running'])(
    '%s the high-pressure switch cuts the compressor before the pressure is a bar beyond it, and the tank gets nothing',
    (fan) => {
      const rig = new MachineRig({ ambientC: 30 }).connect().fault('tank-valve-shut');
      if (fan === 'with its fan stopped') rig.fault('fan-stopped');
      const tankKg = rig.machine.tank.refrigerantKg;
      let highestPa = 0;
      rig.hold(RECOVER, 600, () => {
        highestPa = Math.max(highestPa, rig.machine.condenser.pressurePa);
      });
      expect(rig.plant.highPressureSwitch).toBe(true);
      expect(highestPa).toBeGreaterThanOrEqual(CUT_OUT_PA);
      expect(highestPa).toBeLessThan(CUT_OUT_PA + 100_000);
      expect(rig.machine.tank.refrigerantKg).toBeCloseTo(tankKg, 9);
    },
  );

  test('with the valves open the same draw does NOT trip it', () => {
    const rig = new MachineRig({ ambientC: 30 }).connect().fault('fan-stopped');
    rig.hold(RECOVER, 300);
    expect(rig.plant.highPressureSwitch).toBe(false);
  });

  test('nothing comes out of the charge valve either', () => {
    const rig = new MachineRig().connect().fault('tank-valve-shut');
    rig.hold(['vacuumPump', 'vacuumValve'], 10);
    const tankKg = rig.machine.tank.refrigerantKg;
    rig.hold(['chargeValve', 'highSideValve'], 20);
    expect(rig.machine.tank.refrigerantKg).toBeCloseTo(tankKg, 9);
  });
});

describe('at a restart', () => {
  const drawnAfterPause = (pauseS: number, between: () => readonly ['fanStop'] | readonly [] = () => []) => {
    const rig = new MachineRig({ ambientC: 20 }).connect();
    rig.hold(RECOVER, 240).hold(between(), pauseS);
    const before = rig.machine.separator.refrigerantKg + rig.plant.truth().vehicleRefrigerantKg;
    rig.hold(RECOVER, 20);
    const after = rig.machine.separator.refrigerantKg + rig.plant.truth().vehicleRefrigerantKg;
    return { rig, drawnKg: before - after };
  };

  test('soon after a stop and against more than 3 bar the motor stalls and moves nothing', () => {
    const { rig, drawnKg } = drawnAfterPause(10);
    expect(rig.services.motor.stalled).toBe(true);
    expect(drawnKg).toBeLessThan(0.001);
  });

  test('it stays stalled while it is told to run, and turns again after a pause of two minutes', () => {
    const { rig } = drawnAfterPause(10);
    rig.hold(RECOVER, 200);
    expect(rig.services.motor.stalled).toBe(true);
    rig.hold([], 121).hold(RECOVER, 5);
    expect(rig.services.motor.stalled).toBe(false);
  });

  test('after two minutes of pause it does NOT stall', () => {
    const { rig, drawnKg } = drawnAfterPause(125);
    expect(rig.services.motor.stalled).toBe(false);
    expect(drawnKg).toBeGreaterThan(0.005);
  });
});

test('worn valves leave that share of the draw (half the swept volume draws a little more than half, from a higher suction)', () => {
  const drawn = (size?: number): number => {
    const rig = new MachineRig().connect();
    if (size !== undefined) rig.fault('compressor-weak', { size });
    rig.hold(BOTH_SIDES, 30);
    const before = rig.plant.truth();
    rig.hold(RECOVER, 10);
    return before.vehicleRefrigerantKg - rig.plant.truth().vehicleRefrigerantKg;
  };
  expect(drawn(0.5) / drawn()).toBeGreaterThan(0.4);
  expect(drawn(0.5) / drawn()).toBeLessThan(0.7);
});

describe('liquid at the suction', () => {
  test('is counted when the tank is emptied through the separator', () => {
    const rig = new MachineRig().connect();
    rig.hold(['chargeValve', 'recoveryValve', 'compressor'], 60);
    expect(rig.services.motor.swallowedLiquidKg).toBeGreaterThan(0.1);
  });

  test('there is none in an ordinary recovery', () => {
    const rig = new MachineRig().connect();
    rig.hold(RECOVER, 300);
    expect(rig.services.motor.swallowedLiquidKg).toBe(0);
  });
});

describe('the coil', () => {
  test.each([
    { fan: 'running', outputs: RECOVER, wattsPerK: 40 },
    { fan: 'stopped', outputs: [...RECOVER, 'fanStop'] as const, wattsPerK: 6 },
  ])('gives $wattsPerK W/K from condensing refrigerant to the air, fan $fan', ({ outputs, wattsPerK }) => {
    const rig = new MachineRig({ ambientC: 20 }).connect().hold(outputs, 600);
    const { condenser } = rig.machine;
    const before = condenser.takenHeatJ;
    let kelvinS = 0;
    rig.hold(outputs, 60, () => {
      // What is drowned does not count.
      kelvinS += (condenser.temperatureK - 293.15) * (1 - condenser.liquidFraction) * 0.1;
    });
    expect((before - condenser.takenHeatJ) / kelvinS / wattsPerK).toBeGreaterThan(0.94);
    expect((before - condenser.takenHeatJ) / kelvinS / wattsPerK).toBeLessThan(1.03);
  });
});

describe('a condenser colder than the tank', () => {
  const keptKg = (tankC: number, ambientC: number): number => {
    const rig = new MachineRig({ tankC, ambientC, vehicle: { chargeKg: 0.6 } }).connect();
    rig.hold([], 10).hold(RECOVER, 1200);
    return rig.machine.condenser.refrigerantKg;
  };

  test('drowns until what is left of its surface condenses no more than comes, and then delivers', () => {
    const kept = keptKg(20, 10);
    // All of the coil but the part that takes 0.25 g/s × 190 kJ/kg = 48 W at 40 W/K × 11 K.
    const cold = equilibriumOf('R-134a').saturationAt(293.15).liquidDensityKgPerM3;
    const expected = cold * 0.118e-3 * (1 - 48 / (40 * 11));
    expect(kept / expected).toBeGreaterThan(0.8);
    expect(kept / expected).toBeLessThan(1.1);
  });

  test('one no colder than its tank keeps clearly less', () => {
    expect(keptKg(10, 10)).toBeLessThan(0.75 * keptKg(20, 10));
  });
});
