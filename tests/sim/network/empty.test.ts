// A node in which there is nothing at all gives nothing: not even where its pressure is expected to rise within a step.
import { expect, test } from 'vitest';
import { evaluateFlow, turnRound } from '../../../sim/network/flow.ts';
import { Network } from '../../../sim/network/network.ts';
import { adiabaticNode, airKgAt, equilibriumOf, restriction } from './kit.ts';

const equilibrium = equilibriumOf('R-134a');

function ends() {
  const thin = adiabaticNode('thin', 1e-3);
  const empty = adiabaticNode('empty', 1e-3);
  equilibrium.fill(thin, 293.15, { refrigerantKg: 0, airKg: airKgAt(0.2, 1e-3) });
  equilibrium.fill(empty, 293.15, { refrigerantKg: 0 });
  return { thin, empty };
}

test.each([
  ['an orifice', undefined],
  ['a tube', { laminarM3PerSPa: 1e-9, molecularM3PerS: 1e-6 }],
])('through %s, and its slopes are numbers', (_, tube) => {
  const { thin, empty } = ends();
  expect(empty.pressurePa).toBe(0);
  const edge = restriction(thin, empty, 1e-6, tube === undefined ? {} : { tube });
  const { context } = new Network(equilibrium, [thin, empty], [edge]);
  evaluateFlow(edge, context);
  expect(edge.flowKgPerS).toBeGreaterThan(0);
  expect(turnRound(edge, 0.2, 500, context)).toBe(true);
  for (const figure of ['flowKgPerS', 'slopeA', 'slopeB', 'tangent', 'secant', 'upstreamSlope'] as const)
    expect(Math.abs(edge[figure]), figure).toBe(0);
});
