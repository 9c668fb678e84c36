// Every joule of a service: what the plant holds changes by heat, work and what leaves, and by nothing else.
import { expect, test } from 'vitest';
import { ON, type Output, SAFE_COMMANDS } from '../../../controller/signals.ts';
import { Plant } from '../../../sim/plant/plant.ts';
import { BOTH_SIDES, EVACUATE, RECOVER, specOf, tablesOf } from '../hand.ts';

function energyOf(plant: Plant) {
  const { nodes, edges } = plant.network;
  const inside = new Set(nodes);
  const outside = new Set(edges.flatMap(({ a, b }) => [a, b]).filter((node) => !inside.has(node)));
  const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);
  return {
    heldJ: sum(nodes.map((node) => node.energyJ + node.wallJPerK * node.wallK)),
    heatJ: sum(nodes.map((node) => node.takenHeatJ)),
    workJ: sum(edges.map((edge) => edge.passedWorkJ)),
    awayJ: sum([...outside].map((node) => node.energyJ)),
    exchangedJ:
      sum(nodes.map((node) => Math.abs(node.takenHeatJ))) + sum(edges.map((edge) => edge.passedWorkJ)),
  };
}

test('over a whole service the energy balance closes within 0.1 % of what was exchanged', () => {
  const plant = new Plant(specOf({ ambientC: 18, vehicleC: 8 }), tablesOf('R-134a'));
  const before = energyOf(plant);
  const hold = (outputs: readonly Output[], seconds: number) => {
    plant.command({ ...SAFE_COMMANDS, ...Object.fromEntries(outputs.map((output) => [output, ON])) });
    plant.advanceTo(plant.nowMs + seconds * 1000);
  };
  plant.operate('connect-hoses');
  hold([], 10);
  hold(RECOVER, 400);
  hold(BOTH_SIDES, 300);
  hold(RECOVER, 400);
  hold(EVACUATE, 300);
  hold(['highSideValve', 'chargeValve'], 20);
  hold(['highSideValve'], 30);
  const after = energyOf(plant);
  const gained = after.heatJ - before.heatJ + (after.workJ - before.workJ) - (after.awayJ - before.awayJ);
  const residual = after.heldJ - before.heldJ - gained;
  expect(after.exchangedJ).toBeGreaterThan(50_000);
  expect(Math.abs(residual) / after.exchangedJ).toBeLessThan(1e-3);
});
