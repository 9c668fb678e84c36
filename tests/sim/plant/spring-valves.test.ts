// Spring-loaded valves between small volumes: they open by degrees and do not beat.
import { expect, test } from 'vitest';
import { ON, SAFE_COMMANDS } from '../../../controller/signals.ts';
import { Plant } from '../../../sim/plant/plant.ts';
import { EVACUATE, specOf, tablesOf } from '../hand.ts';

test('while a charge lifts the shut low-side valve backwards, the low hose does not swing from scan to scan', () => {
  const build = { valveReverseLiftPa: 300_000 };
  const plant = new Plant(specOf({ vehicle: { chargeKg: 0.01 }, build }), tablesOf('R-134a'));
  const command = (...outputs: readonly (keyof typeof SAFE_COMMANDS)[]) =>
    plant.command({ ...SAFE_COMMANDS, ...Object.fromEntries(outputs.map((output) => [output, ON])) });
  plant.operate('connect-hoses');
  command(...EVACUATE);
  plant.advanceTo(300_000);
  command('highSideValve', 'chargeValve');
  const seen: number[] = [];
  for (let scan = 1; scan <= 200; scan++) {
    plant.advanceTo(300_000 + scan * 100);
    seen.push(plant.machine.lowHose.pressurePa);
  }
  const lifted = plant.network.edges.filter(
    ({ name, b }) => /lift/.test(name) && b === plant.machine.lowHose,
  );
  expect(lifted.length).toBe(1);
  // The valve really lifts: what passes it goes into the low hose although the valve is shut.
  expect(lifted[0]!.passedRefrigerantKg).toBeGreaterThan(1e-4);
  // The first second is the filling itself.
  for (let i = 12; i < seen.length; i++) {
    const [before, now] = [seen[i - 1]! - seen[i - 2]!, seen[i]! - seen[i - 1]!];
    if (before * now < 0) expect(Math.min(Math.abs(before), Math.abs(now)) / seen[i]!).toBeLessThan(0.02);
  }
});

test('an overfull vehicle stands at the pressure of compressed liquid in all of its parts alike', () => {
  const plant = new Plant(specOf({ vehicle: { chargeKg: 1.19, volumeM3: 1e-3 } }), tablesOf('R-134a'));
  const pressures = plant.vehicle.nodes.map((node) => node.pressurePa);
  expect(Math.max(...pressures) / Math.min(...pressures)).toBeLessThan(1.02);
});

test('air over the liquid of a standing vehicle has the same pressure everywhere', () => {
  for (const expansionDevice of ['orifice-tube', 'expansion-valve'] as const) {
    const plant = new Plant(
      specOf({ vehicle: { chargeKg: 0.6, airKg: 0.003, expansionDevice } }),
      tablesOf('R-134a'),
    );
    const pressures = plant.vehicle.nodes.map((node) => node.pressurePa);
    expect(Math.max(...pressures) / Math.min(...pressures)).toBeLessThan(1.001);
  }
});
