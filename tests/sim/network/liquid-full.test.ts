// A node that fills up with liquid, or a full one that begins to boil: the pressure over what came in bends there.
import { expect, test } from 'vitest';
import { Network } from '../../../sim/network/network.ts';
import { makeNode } from '../../../sim/network/node.ts';
import { adiabaticNode, equilibriumOf, ROOM_K, restriction } from './kit.ts';

const equilibrium = equilibriumOf('R-134a');
const LITRE_M3 = 1e-3;

/** From a vessel that never changes and is a little warmer, through a wide pipe, into one that is nearly full of liquid. */
function filling(liquidShare: number) {
  const { liquidDensityKgPerM3, vapourDensityKgPerM3 } = { ...equilibrium.saturationAt(ROOM_K) };
  const source = makeNode({ name: 'source', volumeM3: LITRE_M3 }, ROOM_K);
  equilibrium.fill(source, ROOM_K + 0.2, { refrigerantKg: 0.6 });
  const vessel = adiabaticNode('vessel', 0.3 * LITRE_M3);
  const meanDensity = liquidShare * liquidDensityKgPerM3 + (1 - liquidShare) * vapourDensityKgPerM3;
  equilibrium.fill(vessel, ROOM_K, { refrigerantKg: meanDensity * vessel.volumeM3 });
  const pipe = restriction(source, vessel, 1e-5, { portA: 'liquid', portB: 'liquid' });
  return { source, vessel, network: new Network(equilibrium, [vessel], [pipe]) };
}

test('a vessel fills up to the pressure of the pipe and stays there', () => {
  const { source, vessel, network } = filling(0.99);
  const seen: number[] = [];
  for (let i = 0; i < 50; i++) {
    network.advance(0.1);
    seen.push(vessel.pressurePa);
  }
  expect(vessel.liquidFraction).toBe(1);
  expect(Math.max(...seen)).toBeLessThan(1.015 * source.pressurePa);
  for (const pressurePa of seen.slice(-30))
    expect(Math.abs(pressurePa / source.pressurePa - 1)).toBeLessThan(1e-5);
  // Full steps, but for the moment in which it fills up.
  expect(network.steps).toBeLessThan(80);
});

test('a full vessel that is drawn from falls to the vapour pressure and boils there', () => {
  const { source, vessel, network } = filling(0.99);
  network.advance(5);
  expect(vessel.liquidFraction).toBe(1);
  equilibrium.fill(source, ROOM_K, { refrigerantKg: 0.02 * LITRE_M3 * 1000 });
  network.rewire();
  let lowestShare = 1;
  let beforePa = vessel.pressurePa;
  for (let i = 0; i < 20; i++) {
    network.advance(0.05);
    expect(vessel.pressurePa).toBeLessThanOrEqual(beforePa);
    expect(vessel.pressurePa).toBeGreaterThan(0.999 * vessel.saturationPa);
    beforePa = vessel.pressurePa;
    lowestShare = Math.min(lowestShare, vessel.liquidFraction);
  }
  expect(lowestShare).toBeLessThan(0.95);
  expect(vessel.pressurePa).toBeCloseTo(vessel.saturationPa, 3);
});
