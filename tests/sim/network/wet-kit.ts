// Evacuated volumes with water on their wall, and the way from there through service hoses to a vacuum pump.
import { makeEdge, tubeOf } from '../../../sim/network/edge.ts';
import type { Equilibrium } from '../../../sim/network/equilibrium.ts';
import { Network } from '../../../sim/network/network.ts';
import { makeNode, type Node } from '../../../sim/network/node.ts';
import { layFilm } from '../../../sim/network/water-film.ts';
import { boundary, ROOM_K } from './kit.ts';

export type Wet = {
  volumeM3?: number;
  filmUa?: number;
  wallJPerK?: number;
  outUa?: number;
  startK?: number;
};

/** An evacuated volume with water on its wall; the wall keeps its temperature unless told otherwise. */
export function wetNode(equilibrium: Equilibrium, waterKg: number, wet: Wet = {}): Node {
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

/** Service hoses of 4.8 mm bore and 1.8 m, then a pump of 2 L/s with an ultimate pressure of 1 Pa. */
export function pumped(equilibrium: Equilibrium, node: Node, hoses: number): Network {
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
