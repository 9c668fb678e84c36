import { describe, expect, it } from 'vitest';
import {
  CONDENSED_WATER,
  WATER_VAPOUR,
  waterSaturationTemperatureK,
  waterVapourPressurePa,
  waterVapourViscosityPaS,
} from '../../../sim/fluids/water.ts';
import { makeEdge, tubeOf } from '../../../sim/network/edge.ts';
import { MoistureHold } from '../../../sim/network/moisture.ts';
import { Network, STEP_RULE } from '../../../sim/network/network.ts';
import { makeNode, type Node } from '../../../sim/network/node.ts';
import { filmTemperatureK, hiddenWaterEnergyJ, iceShare, layFilm } from '../../../sim/network/water-film.ts';
import { boundary, equilibriumOf, ROOM_K } from './kit.ts';

const equilibrium = equilibriumOf('R-134a');

type Wet = { volumeM3?: number; filmUa?: number; wallJPerK?: number; outUa?: number; startK?: number };

/** An evacuated volume with water on its wall. */
function wetNode(waterKg: number, wet: Wet = {}): Node {
  const { volumeM3 = 3e-3, filmUa = 1e5, wallJPerK = 1e9, outUa = 0, startK = ROOM_K } = wet;
  const node = makeNode(
    {
      name: 'wet',
      volumeM3,
      wallJPerK,
      wallUaDryWPerK: 50,
      wallUaWetWPerK: 50,
      wallUaOutWPerK: outUa,
      filmUaWPerK: filmUa,
    },
    startK,
  );
  node.wallK = startK;
  equilibrium.fill(node, startK, { refrigerantKg: 0, airKg: 1e-9 });
  layFilm(node, waterKg);
  return node;
}

/** Service hoses of 4.8 mm bore and 1.8 m, then a 2 L/s pump. */
function pumped(node: Node, hoses: number): Network {
  const inlet = makeNode({ name: 'pump inlet', volumeM3: 50e-6, contactMetalJPerK: 1e9 }, ROOM_K);
  equilibrium.fill(inlet, ROOM_K, { refrigerantKg: 0, airKg: 1e-9 });
  const one = tubeOf(0.0048, 1.8);
  const hose = makeEdge({
    kind: 'restriction',
    name: 'hoses',
    a: node,
    b: inlet,
    portA: 'vapour',
    portB: 'mixed',
    areaM2: 1e-3,
    opening: 1,
    tube: { laminarM3PerSPa: hoses * one.laminarM3PerSPa, molecularM3PerS: hoses * one.molecularM3PerS },
  });
  const pump = makeEdge({
    kind: 'pump',
    name: 'pump',
    a: inlet,
    b: boundary(equilibrium, 101_325),
    portA: 'vapour',
    portB: 'mixed',
    sweptM3PerS: 2e-3,
    ultimatePa: 1,
    valveAreaM2: 1e-3,
    opening: 1,
  });
  return new Network(equilibrium, [node, inlet], [hose, pump]);
}

/** Seconds until the film is gone. */
function dryAfterS(network: Network, node: Node, atMostS: number): number {
  for (let s = 1; s <= atMostS; s++) {
    network.advance(1);
    if (node.filmKg === 0) return s;
  }
  throw new Error(`${node.filmKg} kg left after ${atMostS} s`);
}

describe('free water under vacuum', () => {
  it('saturates 3 L with 51.9 mg at 20 °C and stays at its vapour pressure', () => {
    const node = wetNode(1e-3);
    new Network(equilibrium, [node], []).advance(60);
    expect(node.waterKg * 1e6).toBeCloseTo(51.9, 0);
    expect(node.pressurePa).toBeCloseTo(2339, -1);
  });

  it('keeps the pressure at the plateau until 10 g have gone, as fast as hoses and pump in series let them', () => {
    // Closed form of the two in series: K/2·(p1² − p2²) + Cm·(p1 − p2) = S·(p2 − p_ult), with water's own viscosity.
    const tube = tubeOf(0.0048, 1.8);
    const laminar = 2 * tube.laminarM3PerSPa * (1.82e-5 / waterVapourViscosityPaS(ROOM_K));
    const molecular = 2 * tube.molecularM3PerS * Math.sqrt(28.964 / 18.015);
    let inletPa = 0;
    for (let p = 1; p < 2339; p++) {
      const through = (laminar / 2) * (2339 ** 2 - p * p) + molecular * (2339 - p);
      if (through > 2e-3 * (p - 1)) inletPa = p;
    }
    const kgPerS = (2e-3 * (inletPa - 1)) / (WATER_VAPOUR.gasConstantJPerKgK * ROOM_K);
    const node = wetNode(10e-3);
    const network = pumped(node, 2);
    network.advance(60);
    const beforeKg = node.filmKg;
    network.advance(240);
    expect(node.pressurePa / 2339).toBeCloseTo(1, 1);
    expect((beforeKg - node.filmKg) / 240 / kgPerS).toBeCloseTo(1, 1);
    const totalS = 300 + dryAfterS(network, node, 600);
    expect(totalS / (10e-3 / kgPerS)).toBeCloseTo(1, 1);
  });

  it('removes 0.40 g/h at 133 Pa and 0.12 g/h at 67 Pa through the same hoses (5 %)', () => {
    // By hand: viscous flow at the mean pressure, molecular flow, and the pump in series, vapour at room temperature.
    for (const [pressurePa, gramsPerHour] of [
      [133.3, 0.4],
      [66.7, 0.12],
    ] as const) {
      // A block of ice so large that it keeps its temperature, in a warm vessel.
      const iceK = waterSaturationTemperatureK(pressurePa);
      const node = wetNode(100, { filmUa: 1e-6 });
      const { iceHeatJPerKgK, fusionJPerKg, freezingK } = CONDENSED_WATER;
      node.filmEnergyJ = node.filmKg * (iceHeatJPerKgK * (iceK - freezingK) - fusionJPerKg);
      const network = pumped(node, 2);
      network.advance(600);
      const beforeKg = node.filmKg;
      network.advance(1800);
      const obtained = (beforeKg - node.filmKg) * 1000 * 2;
      expect(obtained / gramsPerHour).toBeGreaterThan(0.95);
      expect(obtained / gramsPerHour).toBeLessThan(1.05);
    }
  });

  it('freezes when it is pumped without heat: 3.3 % evaporates down to 0 °C and 14.7 % until all is ice', () => {
    const node = wetNode(10e-3, { filmUa: 1e-6 });
    const network = pumped(node, 20);
    let atFreezing: number | undefined;
    let allIce: number | undefined;
    for (let s = 0; s < 4000 && allIce === undefined; s++) {
      network.advance(0.5);
      if (atFreezing === undefined && filmTemperatureK(node.filmKg, node.filmEnergyJ) <= 273.15)
        atFreezing = 1 - node.filmKg / 10e-3;
      if (iceShare(node) === 1) allIce = 1 - node.filmKg / 10e-3;
    }
    expect(atFreezing! * 100).toBeCloseTo(3.3, 0);
    expect(allIce! * 100).toBeCloseTo(14.7, 0);
  });

  it('then sublimes as fast as heat leaks in: 1.27 g/h for each watt', () => {
    const node = wetNode(10e-3, { startK: 253.15, filmUa: 0.05 });
    node.wallK = 273.15;
    const network = pumped(node, 20);
    network.advance(1800);
    const filmK = filmTemperatureK(node.filmKg, node.filmEnergyJ);
    const beforeKg = node.filmKg;
    network.advance(3600);
    const watts = 0.05 * (node.wallK - filmK);
    expect(((beforeKg - node.filmKg) * 1000) / watts).toBeCloseTo(1.27, 1);
  });

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
