// Heat through a wall between contents and surroundings, dry, wet, and wetted by what condenses on it.
import { expect, test } from 'vitest';
import { Network } from '../../../sim/network/network.ts';
import { makeNode, type Node } from '../../../sim/network/node.ts';
import { equilibriumOf } from './kit.ts';

const equilibrium = equilibriumOf('R-134a');
const WARM_K = 303.15;
const ROOM_K = 293.15;

/** A coil whose contents stay warm, some minutes after its wall has come to rest. */
function coil(refrigerantKg: number, surroundingsK: number): Node {
  const node = makeNode(
    {
      name: 'coil',
      volumeM3: 1e-3,
      contactMetalJPerK: 1e9,
      wallJPerK: 500,
      wallUaDryWPerK: 60,
      wallUaWetWPerK: 120,
      wallUaOutWPerK: 40,
    },
    surroundingsK,
  );
  equilibrium.fill(node, WARM_K, { refrigerantKg });
  new Network(equilibrium, [node], []).advance(600);
  return node;
}

const betweenK = (inner: number, surroundingsK: number): number =>
  (inner * WARM_K + 40 * surroundingsK) / (inner + 40);

test('vapour alone meets the wall with the dry conductance', () => {
  expect(coil(0.02, ROOM_K).wallK).toBeCloseTo(betweenK(60, ROOM_K), 2);
});

test('a trace of condensate on a colder wall is enough for the wet one: what condenses wets it', () => {
  // 37.5 g of saturated vapour fill the litre at 30 °C; half a gram more is liquid.
  expect(coil(0.0381, ROOM_K).wallK).toBeCloseTo(betweenK(120, ROOM_K), 1);
});

test('on a warmer wall a trace of liquid does NOT count: only what lies there wets it', () => {
  const surroundingsK = 313.15;
  expect(coil(0.0381, surroundingsK).wallK).toBeCloseTo(betweenK(60, surroundingsK), 0);
});
