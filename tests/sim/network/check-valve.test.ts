import { expect, test } from 'vitest';
import { makeEdge } from '../../../sim/network/edge.ts';
import { evaluateFlow } from '../../../sim/network/flow.ts';
import { Network } from '../../../sim/network/network.ts';
import type { Node } from '../../../sim/network/node.ts';
import { equilibriumOf, fillWithVapour, isothermalNode } from './kit.ts';

test('no flow passes a check valve against its direction, however large the difference', () => {
  const equilibrium = equilibriumOf('R-134a');
  const { context } = new Network(equilibrium, [], []);
  const nodeAt = (pressurePa: number): Node => {
    const node = isothermalNode('node', 1e-3);
    fillWithVapour(equilibrium, node, pressurePa);
    return node;
  };
  const flow = (a: Node, b: Node): number => {
    const edge = makeEdge({
      kind: 'restriction',
      name: 'check valve',
      a,
      b,
      portA: 'vapour',
      portB: 'vapour',
      areaM2: 1e-6,
      opening: 1,
      checkPa: 0,
    });
    evaluateFlow(edge, context);
    return edge.flowKgPerS;
  };
  const low = nodeAt(1e5);
  const high = nodeAt(5e5);
  expect(flow(low, high)).toBeCloseTo(0, 12);
  expect(flow(high, low)).toBeGreaterThan(0);
});
