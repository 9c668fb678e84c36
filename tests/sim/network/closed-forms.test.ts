// The network against closed forms and hand calculations that need no simulator.
import { describe, expect, test } from 'vitest';
import { areaOfBore, areaOfKv, makeEdge, tubeOf } from '../../../sim/network/edge.ts';
import { evaluateFlow } from '../../../sim/network/flow.ts';
import { Network } from '../../../sim/network/network.ts';
import type { Node } from '../../../sim/network/node.ts';
import {
  adiabaticNode,
  airKgAt,
  boundary,
  equilibriumOf,
  fillWithVapour,
  isothermalNode,
  ROOM_K,
  timeToFall,
} from './kit.ts';

const equilibrium = equilibriumOf('R-134a');
const yf = equilibriumOf('R-1234yf');
const ATMOSPHERE_PA = 101_325;

const within = (obtained: number, expected: number, share: number) =>
  expect(Math.abs(obtained / expected - 1), `${obtained} against ${expected}`).toBeLessThan(share);

const restriction = (a: Node, b: Node, areaM2: number, more = {}) =>
  makeEdge({
    kind: 'restriction',
    name: 'path',
    a,
    b,
    portA: 'vapour',
    portB: 'vapour',
    areaM2,
    opening: 1,
    ...more,
  });

const airVolume = (litres: number) => {
  const node = isothermalNode('volume', litres * 1e-3);
  equilibrium.fill(node, ROOM_K, { refrigerantKg: 0, airKg: airKgAt(ATMOSPHERE_PA, node.volumeM3) });
  return node;
};

describe('pump-down', () => {
  test('an ideal pump of 2 L/s empties 3 L along V/S·ln(p0/p), the textbook pump-down equation', () => {
    const volume = airVolume(3);
    const pump = makeEdge({
      kind: 'pump',
      name: 'pump',
      a: volume,
      b: boundary(equilibrium, ATMOSPHERE_PA),
      portA: 'mixed',
      portB: 'mixed',
      sweptM3PerS: 2e-3,
      ultimatePa: 1e-9,
      valveAreaM2: 1e3,
      opening: 1,
    });
    const network = new Network(equilibrium, [volume], [pump]);
    const to1000 = timeToFall(network, volume, 1000);
    within(to1000, 6.927, 0.005);
  });

  test.each([
    { hoses: 1, molecular: 0, toPa: 100, expectedS: 150.7 },
    { hoses: 1, molecular: 1, toPa: 100, expectedS: 128.0 },
    { hoses: 2, molecular: 1, toPa: 100, expectedS: 64.0 },
    { hoses: 1, molecular: 1, toPa: 10, expectedS: 627.6 },
  ])(
    'through $hoses hose(s) 4.8 mm × 1.8 m, molecular part × $molecular, 3 L reach $toPa Pa after $expectedS s: the integral of laminar plus molecular flow',
    ({ hoses, molecular, toPa, expectedS }) => {
      const volume = airVolume(3);
      const one = tubeOf(0.0048, 1.8);
      const tube = {
        laminarM3PerSPa: one.laminarM3PerSPa * hoses,
        molecularM3PerS: one.molecularM3PerS * hoses * molecular,
      };
      const path = restriction(volume, boundary(equilibrium, 1e-3), 1, { tube });
      const network = new Network(equilibrium, [volume], [path]);
      within(timeToFall(network, volume, toPa), expectedS, 0.01);
    },
  );
});

describe('orifices', () => {
  const flowOf = (edge: ReturnType<typeof restriction>, of = equilibrium) => {
    const { tables } = of;
    evaluateFlow(edge, {
      gasConstantJPerKgK: tables.fluid.gasConstantJPerKgK,
      criticalPa: tables.fluid.criticalPressurePa,
      vapourViscosityPaS: (t) => tables.vapourViscosityPaS(t),
    });
    return edge.flowKgPerS;
  };

  test('air chokes in a 1.0 mm orifice at 0.1878 g/s from one atmosphere (ideal-gas nozzle)', () => {
    const edge = restriction(airVolume(1), boundary(equilibrium, 10), areaOfBore(1e-3, 1));
    within(flowOf(edge), 0.1878e-3, 0.01);
  });

  test('R-134a vapour of 5 bar and 40 °C chokes in a 1.0 mm orifice at 1.598 g/s (isentropic, real gas)', () => {
    const up = isothermalNode('up', 1e-3);
    let kg = 0.02;
    for (let i = 0; i < 60; i++) {
      equilibrium.fill(up, 313.15, { refrigerantKg: kg });
      kg *= 5e5 / up.pressurePa;
    }
    within(flowOf(restriction(up, boundary(equilibrium, 10), areaOfBore(1e-3, 1))), 1.598e-3, 0.02);
  });

  test('liquid R-134a passes Kv 0.1 at a drop of 1 bar with 30.75 g/s, the definition of Kv', () => {
    const up = isothermalNode('up', 1e-3);
    equilibrium.fill(up, ROOM_K, { refrigerantKg: 1.232 });
    expect(up.pressurePa).toBeGreaterThan(15e5);
    const edge = restriction(up, boundary(equilibrium, up.pressurePa - 1e5), areaOfKv(0.1), {
      portA: 'liquid',
    });
    within(flowOf(edge) / Math.sqrt(up.liquidDensityKgPerM3 / 1225.3), 30.75e-3, 0.01);
  });

  test('no flow passes a check valve against its direction, however large the difference', () => {
    const low = isothermalNode('low', 1e-3);
    fillWithVapour(equilibrium, low, 1e5);
    const high = isothermalNode('high', 1e-3);
    fillWithVapour(equilibrium, high, 5e5);
    expect(flowOf(restriction(low, high, 1e-6, { checkPa: 0 }))).toBeCloseTo(0, 12);
    expect(flowOf(restriction(high, low, 1e-6, { checkPa: 0 }))).toBeGreaterThan(0);
  });
});

describe('boiling pools', () => {
  const boilTo = (of: typeof equilibrium, pool: Node, toPa: number) => {
    const away = boundary(of, 100);
    const network = new Network(of, [pool], [restriction(pool, away, 1e-6)]);
    timeToFall(network, pool, toPa);
  };

  test.each([
    { refrigerant: 'R-134a', fromC: 20, evaporatedPercent: 26.5 },
    { refrigerant: 'R-134a', fromC: 30, evaporatedPercent: 32.1 },
    { refrigerant: 'R-1234yf', fromC: 20, evaporatedPercent: 31.9 },
  ])(
    'a closed-off pool of $refrigerant at $fromC °C reads 0 gauge when $evaporatedPercent % has boiled away (energy balance of the pool)',
    ({ refrigerant, fromC, evaporatedPercent }) => {
      const of = refrigerant === 'R-134a' ? equilibrium : yf;
      const pool = adiabaticNode('pool', 1e-3);
      of.fill(pool, 273.15 + fromC, {
        refrigerantKg: of.saturationAt(273.15 + fromC).liquidDensityKgPerM3 * 0.8e-3,
      });
      const before = pool.refrigerantKg;
      boilTo(of, pool, ATMOSPHERE_PA);
      expect(Math.abs(100 * (1 - pool.refrigerantKg / before) - evaporatedPercent)).toBeLessThan(1);
    },
  );

  test('0.3 kg of R-134a with 720 J/K of metal keeps 77 g of liquid at its normal boiling point (integral of dm·h_fg = (m·c+C)·dT)', () => {
    const pool = adiabaticNode('pool', 0.3e-3, 720);
    equilibrium.fill(pool, ROOM_K, { refrigerantKg: 0.3 });
    boilTo(equilibrium, pool, ATMOSPHERE_PA);
    within(pool.liquidFraction * pool.volumeM3 * pool.liquidDensityKgPerM3, 0.077, 0.03);
  });
});

describe('equalisation and mixing', () => {
  test('3 L of R-134a vapour at 5 bar opened to 1 L of vacuum settle at 3.875 bar, and no gram is lost', () => {
    const a = isothermalNode('a', 3e-3);
    const b = isothermalNode('b', 1e-3);
    fillWithVapour(equilibrium, a, 5e5);
    equilibrium.fill(b, ROOM_K, { refrigerantKg: 0 });
    const before = a.refrigerantKg;
    new Network(equilibrium, [a, b], [restriction(a, b, 1e-6)]).advance(60);
    within(a.pressurePa, 3.875e5, 0.005);
    within(b.pressurePa, 3.875e5, 0.005);
    expect(Math.abs(a.refrigerantKg + b.refrigerantKg - before)).toBeLessThan(1e-15);
    within(before, 0.0712, 0.002);
  });

  test('5 g of air in a 21.6 L tank with 10 kg of R-134a at 20 °C raise its pressure by 30.6 kPa (ideal gas over the liquid)', () => {
    const tank = isothermalNode('tank', 21.6e-3);
    equilibrium.fill(tank, ROOM_K, { refrigerantKg: 10 });
    const alone = tank.pressurePa;
    equilibrium.fill(tank, ROOM_K, { refrigerantKg: 10, airKg: 0.005 });
    within(tank.pressurePa - alone, 30_600, 0.01);
  });

  test('1 g of R-134a let into an empty 3 L system raises it by 7.96 kPa', () => {
    const system = isothermalNode('system', 3e-3);
    equilibrium.fill(system, ROOM_K, { refrigerantKg: 0.001 });
    within(system.pressurePa, 7_960, 0.01);
  });

  test('a compressor of 0.2417 L/s with 5 % clearance draws 3 L down along the exponential to its limit (n = 1)', () => {
    const volume = isothermalNode('volume', 3e-3);
    equilibrium.fill(volume, ROOM_K, { refrigerantKg: 0, airKg: airKgAt(571_700, 3e-3) });
    const compressor = makeEdge({
      kind: 'compressor',
      name: 'compressor',
      a: volume,
      b: boundary(equilibrium, 665_400),
      portA: 'vapour',
      portB: 'mixed',
      sweptM3PerS: 0.2417e-3,
      clearance: 0.05,
      polytropicExponent: 1.000001,
      efficiency: 0.6,
      opening: 1,
    });
    const network = new Network(equilibrium, [volume], [compressor]);
    const limit = 665_400 * (0.05 / 1.05);
    const expected = (toPa: number) =>
      (3e-3 / (1.05 * 0.2417e-3)) * Math.log((571_700 - limit) / (toPa - limit));
    const first = timeToFall(network, volume, ATMOSPHERE_PA);
    within(first, expected(ATMOSPHERE_PA), 0.01);
    within(first, 24.2, 0.01);
    within(first + timeToFall(network, volume, 50_000), expected(50_000), 0.015);
  });
});
