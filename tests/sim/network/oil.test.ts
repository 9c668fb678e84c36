import { describe, expect, it } from 'vitest';
import { makeEdge } from '../../../sim/network/edge.ts';
import { Network } from '../../../sim/network/network.ts';
import { makeNode, type Node } from '../../../sim/network/node.ts';
import { addOil, moveOil, OilHold } from '../../../sim/network/oil.ts';
import { STEP_RULE } from '../../../sim/network/step-rule.ts';
import { equilibriumOf, isothermalNode, ROOM_K } from './kit.ts';

const equilibrium = equilibriumOf('R-134a');
const { tables } = equilibrium;

/** A node with oil, brought to a pressure of refrigerant with that much dissolved. */
function oily(node: Node, pressurePa: number, dissolvedKg: number): OilHold {
  let kg = pressurePa * node.volumeM3 * 4e-5;
  for (let i = 0; i < 60; i++) {
    equilibrium.fill(node, ROOM_K, { refrigerantKg: kg, oilKg: 0.12, dissolvedKg });
    kg *= pressurePa / node.pressurePa;
  }
  const hold = new OilHold(node, 'PAG', tables);
  hold.start();
  return hold;
}

const networkOf = (nodes: readonly Node[], holds: readonly OilHold[]): Network =>
  new Network(equilibrium, nodes, [], STEP_RULE, { oils: holds, moistures: [] });

describe('oil that gives off refrigerant', () => {
  it('follows the sum of three exponentials when the pressure hardly moves', () => {
    // So large a gas volume that what comes out changes the pressure by 0.1 %.
    const node = isothermalNode('large', 20);
    const hold = oily(node, 20_000, 0.0018);
    const restKg = hold.equilibriumKg(0.12, 20_000, ROOM_K);
    const network = networkOf([node], [hold]);
    const expected = (t: number): number =>
      restKg +
      (0.0018 - restKg) *
        (0.5 * Math.exp(-t / 60) + 0.48 * Math.exp(-t / 600) + 0.02 * Math.exp(-t / 18_000));
    let timeS = 0;
    for (const atS of [30, 120, 600, 3600]) {
      network.advance(atS - timeS);
      timeS = atS;
      expect(node.dissolvedKg * 1000).toBeCloseTo(expected(atS) * 1000, 1);
    }
  });

  it('gives off five times faster while it foams, and not faster when it does not', () => {
    const dissolvedWith = (pressurePa: number): number => {
      const node = isothermalNode('large', 200);
      const hold = oily(node, pressurePa, 0.005);
      const restKg = hold.equilibriumKg(0.12, pressurePa, ROOM_K);
      networkOf([node], [hold]).advance(6);
      return (node.dissolvedKg - restKg) / (0.005 - restKg);
    };
    const left = (factor: number): number =>
      0.5 * Math.exp((-6 * factor) / 60) + 0.48 * Math.exp((-6 * factor) / 600) + 0.02;
    // 5 g in 120 g of oil is in equilibrium near 0.92 bar: 0.2 bar foams, 0.5 bar does not.
    expect(dissolvedWith(20_000)).toBeCloseTo(left(5), 1);
    expect(dissolvedWith(50_000)).toBeCloseTo(left(1), 1);
  });

  it('keeps mass and energy to the last figure, and cools the oil by the heat of evaporation', () => {
    const node = makeNode({ name: 'closed', volumeM3: 1e-3, contactMetalJPerK: 300 }, ROOM_K);
    const hold = oily(node, 10_000, 0.006);
    const beforeKg = node.refrigerantKg + node.dissolvedKg;
    const beforeJ = node.energyJ;
    networkOf([node], [hold]).advance(1800);
    expect(node.refrigerantKg + node.dissolvedKg).toBeCloseTo(beforeKg, 15);
    expect(node.energyJ).toBe(beforeJ);
    const outKg = 0.006 - node.dissolvedKg;
    expect(outKg).toBeGreaterThan(0.002);
    // Heat of evaporation near 20 °C less the work of pushing back the gas, over metal and oil: 182 − 20 kJ/kg.
    const cooledK = (outKg * 162_000) / (300 + 0.12 * 1900);
    expect(ROOM_K - node.temperatureK).toBeCloseTo(cooledK, 0);
  });

  it('takes up refrigerant under pressure, and a node that flows does as one that rests', () => {
    const taken = (flows: boolean): number => {
      const node = isothermalNode('vessel', 3e-3);
      const other = isothermalNode('other', 1e-6);
      const hold = oily(node, 400_000, 0);
      equilibrium.fill(other, ROOM_K, { refrigerantKg: 1.7e-5 });
      const pipe = makeEdge({
        kind: 'restriction',
        name: 'pipe',
        a: node,
        b: other,
        portA: 'mixed',
        portB: 'mixed',
        areaM2: 1e-7,
        opening: flows ? 1 : 0,
      });
      new Network(equilibrium, [node, other], [pipe], STEP_RULE, { oils: [hold], moistures: [] }).advance(
        900,
      );
      return node.dissolvedKg;
    };
    expect(taken(false)).toBeGreaterThan(0.01);
    expect(Math.abs(taken(true) / taken(false) - 1)).toBeLessThan(0.01);
  });

  it('moves with what it holds, and heat goes with it', () => {
    const from = isothermalNode('from', 1e-3);
    const to = isothermalNode('to', 1e-3);
    oily(from, 100_000, 0.006);
    oily(to, 100_000, 0);
    addOil(to, 0.01, ROOM_K);
    const beforeJ = from.energyJ + to.energyJ;
    const moved = moveOil(from, to, 0.03, equilibrium.dissolved);
    expect(moved).toBe(0.03);
    expect(to.dissolvedKg).toBeCloseTo(0.006 / 4, 12);
    expect(from.dissolvedKg + to.dissolvedKg).toBeCloseTo(0.006, 15);
    expect((from.energyJ + to.energyJ) / beforeJ).toBeCloseTo(1, 14);
    equilibrium.settle(to, 0);
    expect(to.temperatureK).toBeCloseTo(ROOM_K, 6);
  });
});
