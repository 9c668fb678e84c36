// The vacuum pump's oil: cold, wet, full of refrigerant or dirty it pulls less deep; stopped with its valve open it lets air and oil back.
import { describe, expect, test } from 'vitest';
import { areaOfBore, makeEdge } from '../../../sim/network/edge.ts';
import { PumpOil } from '../../../sim/plant/pump.ts';
import { specOf } from '../hand.ts';
import { boundary, equilibriumOf, isothermalNode } from '../network/kit.ts';
import { MachineRig } from './machine-rig.ts';

const equilibrium = equilibriumOf('R-134a');
const NEW_PA = 3;

/** The oil of a pump that draws from nowhere: what passes is set by the test. */
function pumpOil(ballast = false) {
  const manifold = isothermalNode('manifold', 60e-6);
  equilibrium.fill(manifold, 293.15, { refrigerantKg: 0 });
  const outside = boundary(equilibrium, 101_325);
  const ends = { a: manifold, b: outside, portA: 'vapour', portB: 'mixed', opening: 1 } as const;
  const pump = makeEdge({
    ...ends,
    kind: 'pump',
    name: 'pump',
    sweptM3PerS: 2e-3,
    ultimatePa: NEW_PA,
    valveAreaM2: 1e-5,
  });
  const resting = makeEdge({ ...ends, kind: 'restriction', name: 'resting', areaM2: areaOfBore(1e-3, 1) });
  const { build } = specOf({ build: { vacuumPumpUltimatePa: NEW_PA, vacuumPumpBallast: ballast } });
  const oil = new PumpOil(pump, resting, build);
  const run = (seconds: number): number => {
    for (let i = 0; i < seconds; i++) oil.look(1, true, 0);
    return pump.ultimatePa;
  };
  return { pump, resting, manifold, oil, run };
}

describe('ultimate pressure', () => {
  test('is three times that of a warm pump at the start and 1 + 2/e times after five minutes', () => {
    const { run } = pumpOil();
    expect(run(1) / NEW_PA).toBeCloseTo(3, 1);
    expect(run(299) / NEW_PA).toBeCloseTo(1 + 2 / Math.E, 3);
    expect(run(3600) / NEW_PA).toBeCloseTo(1, 3);
  });

  test('a gram of water in the oil costs 50 to 100 Pa, and without ballast two hours hardly rid it of that', () => {
    const { pump, run } = pumpOil();
    run(3600);
    pump.passedWaterKg = 0.002;
    const wet = run(1) - NEW_PA;
    expect(wet).toBeGreaterThan(50);
    expect(wet).toBeLessThan(100);
    expect((run(7200) - NEW_PA) / wet).toBeCloseTo(1 / Math.E, 2);
  });

  test('with open ballast little water stays, and leaves within twenty minutes; the ballast itself costs 30 to 200 Pa', () => {
    const { pump, run } = pumpOil(true);
    const dry = run(7200);
    expect(dry - NEW_PA).toBeGreaterThan(30);
    expect(dry - NEW_PA).toBeLessThan(200);
    pump.passedWaterKg = 0.02;
    const wet = run(1) - dry;
    expect(wet).toBeGreaterThan(50);
    expect((run(1200) - dry) / wet).toBeCloseTo(1 / Math.E, 2);
  });

  test('refrigerant taken up costs 10 to 100 Pa and is gone after some minutes', () => {
    const { pump, run } = pumpOil();
    run(3600);
    pump.passedRefrigerantKg = 0.02;
    const loaded = run(1) - NEW_PA;
    expect(loaded).toBeGreaterThan(10);
    expect(loaded).toBeLessThan(100);
    expect(run(900) - NEW_PA).toBeLessThan(0.05 * loaded);
  });

  test('dirty oil keeps the manifold from the depth that clean oil reaches', () => {
    const reached = (dirty: boolean): number => {
      const rig = new MachineRig();
      if (dirty) rig.fault('pump-oil-dirty', { size: 500 });
      return rig.hold(['vacuumPump', 'vacuumValve'], 300).machine.manifold.pressurePa;
    };
    expect(reached(false)).toBeLessThan(30);
    expect(reached(true)).toBeGreaterThan(450);
  });
});

describe('a pump that stops with its valve open', () => {
  const evacuated = () =>
    new MachineRig({ vehicle: { chargeKg: 0.0005 } })
      .connect()
      .hold(['highSideValve', 'lowSideValve', 'vacuumPump', 'vacuumValve'], 300);

  test('lets 0.1 to 1 bar·L of air a second back, and with it 1 to 30 mL of oil', () => {
    const rig = evacuated();
    const air = () =>
      [...rig.machine.nodes, ...rig.plant.vehicle.nodes].reduce((sum, node) => sum + node.airKg, 0);
    const before = air();
    rig.hold(['highSideValve', 'lowSideValve', 'vacuumValve'], 2);
    const barLitrePerS = ((air() - before) * 287.05 * 293.15) / 100 / 2;
    expect(barLitrePerS).toBeGreaterThan(0.1);
    expect(barLitrePerS).toBeLessThan(1);
    rig.hold(['highSideValve', 'lowSideValve', 'vacuumValve'], 60);
    const oilMl = (rig.services.pumpOil.suckedBackOilKg / 970) * 1e6;
    expect(oilMl).toBeGreaterThan(1);
    expect(oilMl).toBeLessThanOrEqual(30);
    expect(rig.machine.manifold.oilKg).toBeGreaterThan(0);
  });

  test('does NOT when the valve shuts with it: only the dead time lets a breath in', () => {
    const rig = evacuated();
    rig.hold(['highSideValve', 'lowSideValve'], 60);
    expect(rig.machine.manifold.pressurePa).toBeLessThan(2_000);
    expect(rig.services.pumpOil.suckedBackOilKg).toBeLessThan(0.001);
  });

  test('a valve that does not shut does the same to a machine at rest', () => {
    const rig = evacuated().fault('vacuum-valve-stuck-open');
    rig.hold(['highSideValve', 'lowSideValve'], 60);
    expect(rig.machine.manifold.pressurePa).toBeGreaterThan(90_000);
  });
});
