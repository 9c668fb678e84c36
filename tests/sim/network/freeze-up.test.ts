// Self-refrigeration of a liquid pool under recovery: repeated recover and rest against an independent energy balance.
import { describe, expect, test } from 'vitest';
import { makeEdge } from '../../../sim/network/edge.ts';
import { Network } from '../../../sim/network/network.ts';
import { makeNode } from '../../../sim/network/node.ts';
import { airKgAt, boundary, equilibriumOf, ROOM_K, timeToFall } from './kit.ts';

const STOP_PA = 101_325;
const DELIVERY_PA = 665_400;
const VAPOUR_SPACE_M3 = 2.5e-3;

const equilibrium = equilibriumOf('R-134a');

/** A pool with 2.5 L of vapour over it, a compressor of 0.2417 L/s (5 % clearance, n = 1.1), room at 20 °C. */
function pool(massKg: number, metalJPerK: number, uaWPerK: number) {
  const { liquidDensityKgPerM3, vapourDensityKgPerM3 } = equilibrium.saturationAt(ROOM_K);
  const volumeM3 = massKg / liquidDensityKgPerM3 + VAPOUR_SPACE_M3;
  const node = makeNode(
    { name: 'pool', volumeM3, contactMetalJPerK: metalJPerK, contactUaWPerK: uaWPerK },
    ROOM_K,
  );
  equilibrium.fill(node, ROOM_K, { refrigerantKg: massKg + VAPOUR_SPACE_M3 * vapourDensityKgPerM3 });
  const away = boundary(equilibrium, DELIVERY_PA);
  expect(away.airKg).toBeCloseTo(airKgAt(DELIVERY_PA, 1e6), 0);
  const compressor = makeEdge({
    kind: 'compressor',
    name: 'compressor',
    a: node,
    b: away,
    portA: 'vapour',
    portB: 'mixed',
    sweptM3PerS: 0.2417e-3,
    clearance: 0.05,
    polytropicExponent: 1.1,
    efficiency: 0.6,
    opening: 1,
  });
  const network = new Network(equilibrium, [node], [compressor]);
  const run = (on: boolean) => {
    compressor.opening = on ? 1 : 0;
    network.rewire();
  };
  return { node, network, run };
}

/** Worked out independently with a reference equation of state; agreement asked for is 5 %. */
const CASES = [
  {
    massKg: 0.5,
    metal: 300,
    ua: 0.8,
    stopS: 98,
    leftG: 298,
    recoveredG: 259,
    restBar: [1.142, 1.273, 1.674],
    secondG: 308,
  },
  {
    massKg: 0.5,
    metal: 700,
    ua: 0.8,
    stopS: 131,
    leftG: 215,
    recoveredG: 342,
    restBar: [1.107, 1.203, 1.498],
    secondG: 393,
  },
  {
    massKg: 0.3,
    metal: 700,
    ua: 1.5,
    stopS: 117,
    leftG: 58,
    recoveredG: 298,
    restBar: [1.232, 1.457, 2.134],
    secondG: 352,
  },
];

describe.each(CASES)(
  '$massKg kg of R-134a with $metal J/K of metal and $ua W/K',
  ({ massKg, metal, ua, stopS, leftG, recoveredG, restBar, secondG }) => {
    const { node, network, run } = pool(massKg, metal, ua);
    const initialKg = node.refrigerantKg;
    const takenG = () => (initialKg - node.refrigerantKg) * 1000;
    const close = (obtained: number, expected: number, share = 0.05) =>
      expect(Math.abs(obtained / expected - 1), `${obtained} against ${expected}`).toBeLessThan(share);

    test('reaches 0 gauge when the energy balance says, with that much liquid left', () => {
      close(timeToFall(network, node, STOP_PA), stopS);
      close(takenG(), recoveredG);
      close(node.liquidFraction * node.volumeM3 * node.liquidDensityKgPerM3 * 1000, leftG);
    });

    test('rises at rest as heat returns', () => {
      run(false);
      let atS = 0;
      for (const [i, untilS] of [60, 120, 300].entries()) {
        // Nothing flows: the node is looked at once a second.
        network.advance(untilS - atS);
        atS = untilS;
        close(node.pressurePa / 1e5, restBar[i]!);
      }
    });

    test('gives up in the second cycle what the first one could not boil', () => {
      run(true);
      timeToFall(network, node, STOP_PA);
      close(takenG(), secondG);
    });
  },
);
