// Every joule of a service: what the plant holds changes by heat, work and what leaves, and by nothing else.
import { describe, expect, it } from 'vitest';
import { ON, type Output, SAFE_COMMANDS } from '../../../controller/signals.ts';
import { hiddenWaterEnergyJ } from '../../../sim/network/water-film.ts';
import { Plant } from '../../../sim/plant/plant.ts';
import type { VehicleSpec } from '../../../sim/spec.ts';
import { BOTH_SIDES, EVACUATE, RECOVER, specOf, tablesOf } from '../hand.ts';

function energyOf(plant: Plant) {
  const { nodes, edges } = plant.network;
  const inside = new Set(nodes);
  const outside = new Set(edges.flatMap(({ a, b }) => [a, b]).filter((node) => !inside.has(node)));
  const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);
  return {
    heldJ: sum(nodes.map((node) => node.energyJ + node.wallJPerK * node.wallK + hiddenWaterEnergyJ(node))),
    heatJ: sum(nodes.map((node) => node.takenHeatJ)),
    workJ: sum(edges.map((edge) => edge.passedWorkJ)),
    awayJ: sum([...outside].map((node) => node.energyJ + hiddenWaterEnergyJ(node))),
    exchangedJ:
      sum(nodes.map((node) => Math.abs(node.takenHeatJ))) + sum(edges.map((edge) => edge.passedWorkJ)),
  };
}

/** A service by hand, from the first recovery to the charge; answers how it ends. */
function service(vehicle: Partial<VehicleSpec>): { plant: Plant; residual: number } {
  const plant = new Plant(specOf({ ambientC: 18, vehicleC: 8, vehicle }), tablesOf('R-134a'));
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
  hold(EVACUATE, 600);
  hold(BOTH_SIDES, 300);
  hold(EVACUATE, 300);
  hold(['highSideValve', 'chargeValve'], 20);
  hold(['highSideValve'], 30);
  const after = energyOf(plant);
  expect(after.exchangedJ).toBeGreaterThan(50_000);
  const gained = after.heatJ - before.heatJ + (after.workJ - before.workJ) - (after.awayJ - before.awayJ);
  return { plant, residual: (after.heldJ - before.heldJ - gained) / after.exchangedJ };
}

describe('over a whole service', () => {
  const wet = { oil: { kind: 'PAG', kg: 0.12, humidity: 0.3 }, waterKg: 0.003 } as const;

  it('the energy balance closes within 0.1 % of what was exchanged, dry', () => {
    expect(Math.abs(service({}).residual)).toBeLessThan(1e-3);
  });

  it('and with oil, water that freezes and moisture', () => {
    expect(Math.abs(service(wet).residual)).toBeLessThan(1e-3);
  });

  it('mass drifts by less than a milligram, and oil and water are neither made nor lost', () => {
    const { plant } = service(wet);
    expect(Math.abs(plant.truth().massDriftKg)).toBeLessThan(1e-6);
    const { nodes, edges } = plant.network;
    const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);
    const fromPumpKg = plant.services.pumpOil.suckedBackOilKg;
    expect(sum(nodes.map((node) => node.oilKg))).toBeCloseTo(0.12 + fromPumpKg, 12);
    const listed = new Set(nodes);
    const gone = edges.filter((edge) => !listed.has(edge.b)).map((edge) => edge.passedWaterKg);
    const inOil = 0.02 * 0.12 * 0.3;
    const water = sum(nodes.map((node) => node.waterKg + node.filmKg + node.sorbedWaterKg)) + sum(gone);
    expect(water).toBeCloseTo(0.003 + inOil, 9);
    expect(sum(gone)).toBeGreaterThan(0.0005);
  });
});
