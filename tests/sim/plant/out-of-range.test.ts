// A state that leaves the fluid's range stops the run with node, time and values, never with a number that is none.
import { expect, test } from 'vitest';
import { StateOutOfRange } from '../../../sim/network/equilibrium.ts';
import { Plant } from '../../../sim/plant/plant.ts';
import { specOf, tablesOf } from '../hand.ts';

function messageOf(spoil: (plant: Plant) => void): string {
  const plant = new Plant(specOf(), tablesOf('R-134a'));
  plant.advanceTo(5_000);
  spoil(plant);
  try {
    plant.advanceTo(600_000);
  } catch (error) {
    expect(error).toBeInstanceOf(StateOutOfRange);
    return (error as Error).message;
  }
  throw new Error('the plant went on');
}

test('a tank heated beyond the tables is named, with the time and what it holds', () => {
  const message = messageOf((plant) => {
    plant.machine.tank.energyJ += 5e6;
  });
  expect(message).toMatch(/^at \d+\.\d s, tank: /);
  expect(message).toContain('8000.000 g in 21.600 L');
  expect(message).not.toContain('NaN');
});

test('a hose filled beyond any liquid is named as well', () => {
  const message = messageOf((plant) => {
    plant.machine.highHose.refrigerantKg = 0.2;
  });
  expect(message).toMatch(/^at \d+\.\d s, high-side hose: /);
});

test('a plant that is left alone does NOT stop', () => {
  const plant = new Plant(specOf(), tablesOf('R-134a'));
  plant.advanceTo(600_000);
  expect(plant.nowMs).toBe(600_000);
});

test('an empty vehicle of water and nothing else, that leaks, is no vehicle of numbers that are none', () => {
  const vehicle = { chargeKg: 0, waterKg: 0.002, leakKgPerYear: 100 };
  const plant = new Plant(specOf({ vehicle }), tablesOf('R-134a'));
  plant.advanceTo(60_000);
  for (const node of plant.network.nodes) {
    expect(node.pressurePa, node.name).toBeGreaterThanOrEqual(0);
    expect(node.energyJ, node.name).not.toBeNaN();
  }
});
