// Air that rushes into an empty vessel without walls: it heats up to κ times its temperature (adiabatic filling, any
// textbook of thermodynamics), beyond where the tables of the refrigerant end.
import { expect, test } from 'vitest';
import { AIR } from '../../../sim/fluids/air.ts';
import { Network } from '../../../sim/network/network.ts';
import { makeNode } from '../../../sim/network/node.ts';
import { adiabaticNode, equilibriumOf, restriction } from './kit.ts';

const equilibrium = equilibriumOf('R-134a');
const KAPPA = AIR.cpJPerKgK / AIR.cvJPerKgK;
const OUTSIDE_M3 = 1e6;

test.each([263.15, 293.15, 303.15, 333.15])('from outside at %d K', (outsideK) => {
  const outside = makeNode({ name: 'outside', volumeM3: OUTSIDE_M3 }, outsideK);
  const airKg = (101_325 * OUTSIDE_M3) / (AIR.gasConstantJPerKgK * outsideK);
  equilibrium.fill(outside, outsideK, { refrigerantKg: 0, airKg });
  const vessel = adiabaticNode('vessel', 60e-6);
  equilibrium.fill(vessel, outsideK, { refrigerantKg: 1e-9 });
  const network = new Network(equilibrium, [vessel], [restriction(vessel, outside, 1e-6)]);
  network.advance(5);
  expect(vessel.pressurePa).toBeCloseTo(101_325, -2);
  expect(vessel.temperatureK / outsideK).toBeCloseTo(KAPPA, 2);
});
