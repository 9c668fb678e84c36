import { describe, expect, it } from 'vitest';
import { WATER_VAPOUR, waterVapourPressurePa } from '../../../sim/fluids/water.ts';
import { makeEdge } from '../../../sim/network/edge.ts';
import { MoistureHold } from '../../../sim/network/moisture.ts';
import { Network } from '../../../sim/network/network.ts';
import type { Node } from '../../../sim/network/node.ts';
import { STEP_RULE } from '../../../sim/network/step-rule.ts';
import { hiddenWaterEnergyJ, iceShare } from '../../../sim/network/water-film.ts';
import { equilibriumOf, ROOM_K } from './kit.ts';
import { wetNode as makeWetNode, pumped as pumpedThrough, type Wet } from './wet-kit.ts';

const equilibrium = equilibriumOf('R-134a');

const wetNode = (waterKg: number, wet: Wet = {}): Node => makeWetNode(equilibrium, waterKg, wet);
const pumped = (node: Node, hoses: number): Network => pumpedThrough(equilibrium, node, hoses);

describe('free water under vacuum', () => {
  it('hides as ice and comes back when the pump is shut off and the wall warms it', () => {
    const node = wetNode(5e-3, { filmUa: 0.3, startK: 281.15 });
    const network = pumped(node, 10);
    network.advance(1500);
    const lowPa = node.pressurePa;
    expect(iceShare(node)).toBe(1);
    expect(lowPa).toBeLessThan(400);
    const still = new Network(equilibrium, [node], []);
    still.advance(3600);
    expect(node.pressurePa).toBeGreaterThan(3 * lowPa);
    expect(node.pressurePa).toBeLessThan(waterVapourPressurePa(281.2));
  });

  it('condenses on a cold wall what a warm one gives off, and stops at the vapour pressure of the coldest spot', () => {
    const warm = wetNode(1e-3, { volumeM3: 1e-3 });
    const cold = wetNode(0, { volumeM3: 1e-3, startK: 278.15 });
    const pipe = makeEdge({
      kind: 'restriction',
      name: 'pipe',
      a: warm,
      b: cold,
      portA: 'vapour',
      portB: 'vapour',
      areaM2: 1e-4,
      opening: 1,
    });
    const network = new Network(equilibrium, [warm, cold], [pipe]);
    const beforeKg = warm.filmKg + warm.waterKg + cold.waterKg;
    network.advance(900);
    expect(warm.filmKg).toBe(0);
    expect(cold.filmKg).toBeGreaterThan(0.9e-3);
    expect(cold.pressurePa / waterVapourPressurePa(278.15)).toBeCloseTo(1, 1);
    expect(warm.filmKg + cold.filmKg + warm.waterKg + cold.waterKg).toBeCloseTo(beforeKg, 12);
  });

  it('keeps energy: what film, vapour, contents and walls hold together changes only by heat from outside', () => {
    const node = wetNode(5e-3, { filmUa: 1, wallJPerK: 800, outUa: 2, startK: 283.15 });
    const total = (): number => node.energyJ + node.wallJPerK * node.wallK + hiddenWaterEnergyJ(node);
    const beforeJ = total();
    const network = new Network(equilibrium, [node], []);
    node.surroundingsK = 300;
    network.advance(1200);
    expect(node.takenHeatJ).toBeGreaterThan(1000);
    expect((total() - beforeJ) / node.takenHeatJ).toBeCloseTo(1, 6);
  });
});

describe('moisture in oil and desiccant', () => {
  it('comes out of the oil over hours: a tail of outgassing that has no plateau of free water', () => {
    const node = wetNode(0);
    equilibrium.fill(node, ROOM_K, { refrigerantKg: 0, airKg: 1e-9, oilKg: 0.12 });
    const hold = new MoistureHold(node, 'PAG', 0);
    hold.start(0.25);
    const network = new Network(equilibrium, [node], [], STEP_RULE, { oils: [], moistures: [hold] });
    const risesPa = [0, 1, 2].map(() => {
      const beforePa = node.pressurePa;
      network.advance(600);
      return node.pressurePa - beforePa;
    });
    expect(risesPa[0]).toBeGreaterThan(100);
    expect(risesPa[1]).toBeLessThan(risesPa[0]!);
    expect(risesPa[2]).toBeLessThan(risesPa[1]!);
    // Towards the humidity that the oil began with, never beyond it.
    network.advance(40_000);
    expect(node.pressurePa).toBeLessThan(0.25 * waterVapourPressurePa(ROOM_K));
  });

  it('is taken from the vapour by a dry desiccant, and NOT where there is none', () => {
    const pressureWith = (desiccantKg: number): number => {
      const node = wetNode(0);
      equilibrium.fill(node, ROOM_K, { refrigerantKg: 0, airKg: 1e-9 });
      node.waterKg = (500 * 3e-3) / (WATER_VAPOUR.gasConstantJPerKgK * ROOM_K);
      node.energyJ += node.waterKg * WATER_VAPOUR.cvJPerKgK * ROOM_K;
      equilibrium.settle(node, 0);
      const hold = new MoistureHold(node, 'PAG', desiccantKg);
      hold.start(0);
      new Network(equilibrium, [node], [], STEP_RULE, { oils: [], moistures: [hold] }).advance(3600);
      return node.pressurePa;
    };
    expect(pressureWith(0.04)).toBeLessThan(10);
    expect(pressureWith(0)).toBeGreaterThan(450);
  });
});
