// Liquid that runs down by its own weight, and liquid that has to be lifted.
import { describe, expect, test } from 'vitest';
import { Network } from '../../../sim/network/network.ts';
import type { Node } from '../../../sim/network/node.ts';
import { adiabaticNode, equilibriumOf, ROOM_K, restriction } from './kit.ts';

const equilibrium = equilibriumOf('R-134a');
const LITRE_M3 = 1e-3;
const HEAD_PA = 1000;
const DRAIN_M2 = 9e-6;
const MOUTH = { dryAt: 0.2, uncoversAt: 0.26 };

/** A litre at room temperature that is so full of liquid. */
function vesselOf(name: string, liquidShare: number, temperatureK = ROOM_K): Node {
  const { liquidDensityKgPerM3, vapourDensityKgPerM3 } = equilibrium.saturationAt(temperatureK);
  const density = liquidShare * liquidDensityKgPerM3 + (1 - liquidShare) * vapourDensityKgPerM3;
  const node = adiabaticNode(name, LITRE_M3, 200);
  equilibrium.fill(node, temperatureK, { refrigerantKg: density * LITRE_M3 });
  return node;
}

describe('a vessel above another, joined by a pipe for the vapour and a drain', () => {
  function stand(upperShare: number, lowerShare: number) {
    const [upper, lower] = [vesselOf('upper', upperShare), vesselOf('lower', lowerShare)];
    const drain = restriction(upper, lower, DRAIN_M2, { portA: 'liquid', mouthA: MOUTH, headPa: HEAD_PA });
    const network = new Network(equilibrium, [upper, lower], [restriction(upper, lower, 5e-5), drain]);
    return { upper, lower, drain, network };
  }

  test('loses its liquid down to the mouth of the drain at the speed of Torricelli, and nothing more', () => {
    const { upper, lower, drain, network } = stand(0.6, 0);
    const heldKg = upper.refrigerantKg + lower.refrigerantKg;
    const heldJ = upper.energyJ + lower.energyJ;
    network.advance(5);
    const speed = drain.passedRefrigerantKg / 5;
    const torricelli = DRAIN_M2 * Math.sqrt(2 * 1225 * HEAD_PA);
    // A tenth of the head is lost to the vapour on its way back, and √Δp is rounded off below 1e-3 of the pressure.
    expect(speed).toBeGreaterThan(0.85 * torricelli);
    expect(speed).toBeLessThan(torricelli);
    network.advance(300);
    expect(upper.liquidFraction).toBeGreaterThan(0.18);
    expect(upper.liquidFraction).toBeLessThan(0.22);
    expect(Math.abs(upper.refrigerantKg + lower.refrigerantKg - heldKg)).toBeLessThan(1e-12);
    expect(Math.abs(upper.energyJ + lower.energyJ - heldJ)).toBeLessThan(0.01);
    expect(upper.temperatureK).toBeCloseTo(lower.temperatureK, 1);
  });

  test('keeps what lies below the mouth', () => {
    const { upper, network } = stand(0.15, 0);
    network.advance(300);
    expect(upper.liquidFraction).toBeCloseTo(0.15, 3);
  });

  test('does NOT drain into a vessel that is full', () => {
    const { upper, lower, network } = stand(0.6, 0.95);
    network.advance(60);
    expect(lower.liquidFraction).toBeLessThan(1);
    expect(upper.liquidFraction).toBeGreaterThan(0.55);
  });
});

describe('a path in which liquid has to rise', () => {
  /** The lower vessel is warmer by this, and its pressure higher by 17.7 kPa/K. */
  function rise(warmerK: number) {
    const [lower, upper] = [vesselOf('lower', 0.5, ROOM_K + warmerK), vesselOf('upper', 0.1)];
    const path = restriction(lower, upper, 1e-6, { portA: 'liquid', headPa: -3500 });
    return { lower, upper, path, network: new Network(equilibrium, [lower, upper], [path]) };
  }

  test('passes none while the pressure cannot lift it, and lifts it by whatever is beyond', () => {
    const low = rise(0.15);
    low.network.advance(60);
    expect(low.path.passedRefrigerantKg).toBe(0);
    const high = rise(0.4);
    high.network.advance(60);
    expect(high.path.passedRefrigerantKg).toBeGreaterThan(0.01);
    // It comes to rest with the column standing.
    high.network.advance(3000);
    expect(high.lower.pressurePa - high.upper.pressurePa).toBeGreaterThan(3000);
    expect(high.lower.pressurePa - high.upper.pressurePa).toBeLessThan(4000);
  });

  test('drives nothing by itself: gas comes back only down a difference of pressures', () => {
    const colder = rise(-0.3);
    colder.network.advance(60);
    expect(colder.path.passedRefrigerantKg).toBeLessThan(0);
    const level = rise(0.02);
    level.network.advance(60);
    expect(level.path.passedRefrigerantKg).toBe(0);
  });
});
