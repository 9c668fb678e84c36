// The dip tube: liquid while its mouth is covered, then more and more gas, and a little liquid that it never reaches.
import { describe, expect, test } from 'vitest';
import { areaOfKv, type Mouth } from '../../../sim/network/edge.ts';
import { Network } from '../../../sim/network/network.ts';
import { makeNode } from '../../../sim/network/node.ts';
import { liquidShare } from '../../../sim/network/stream.ts';
import { dipTubeOf } from '../../../sim/plant/dip-tube.ts';

import { adiabaticNode, equilibriumOf, ROOM_K, restriction } from '../network/kit.ts';
import { MachineRig } from './machine-rig.ts';

const equilibrium = equilibriumOf('R-134a');
const TANK_M3 = 21.6e-3;
const MOUTH = dipTubeOf(TANK_M3);

describe('its mouth', () => {
  /** Share of a volume below a height in a bowl, disc by disc. */
  function inBowl(heightM: number, crownM: number, volumeM3: number): number {
    const slices = 20_000;
    let sumM2 = 0;
    for (let i = 0; i < slices; i++) {
      const y = ((i + 0.5) / slices) * heightM;
      sumM2 += Math.PI * (crownM ** 2 - (crownM - y) ** 2);
    }
    return (sumM2 * heightM) / slices / volumeM3;
  }

  test('6 mm over a dished bottom of 0.30 m crown it runs dry, and 12 mm cover it (summed disc by disc)', () => {
    expect(MOUTH.dryAt).toBeCloseTo(inBowl(0.006, 0.3, TANK_M3), 5);
    expect(MOUTH.uncoversAt).toBeCloseTo(inBowl(0.012, 0.3, TANK_M3), 5);
  });

  test('is covered by a smaller share, though by more liquid, in a larger tank', () => {
    const large = dipTubeOf(0.06);
    expect(large.uncoversAt).toBeLessThan(MOUTH.uncoversAt);
    expect(large.uncoversAt * 0.06).toBeGreaterThan(MOUTH.uncoversAt * TANK_M3);
  });
});

describe('what lies in the tank', () => {
  const shareAt = (contentKg: number, celsius: number): number => {
    const node = makeNode({ name: 'tank', volumeM3: TANK_M3 }, ROOM_K);
    equilibrium.fill(node, celsius + 273.15, { refrigerantKg: contentKg });
    return liquidShare(node, 'liquid', MOUTH);
  };

  test('0.8 kg cover it at 20 °C, and half a kilogram is vapour alone', () => {
    expect(shareAt(0.8, 20)).toBe(1);
    expect(shareAt(0.5, 20)).toBe(0);
  });

  test('one kilogram covers it at 20 °C, hardly at 35 °C, and NOT at 40 °C, where that much is vapour', () => {
    expect(shareAt(1, 20)).toBe(1);
    expect(shareAt(1, 35)).toBeGreaterThan(0);
    expect(shareAt(1, 35)).toBeLessThan(0.5);
    expect(shareAt(1, 40)).toBe(0);
  });

  test('ports in a sump take liquid from two hundredths up, as if there were no dip tube anywhere', () => {
    const node = makeNode({ name: 'sump', volumeM3: TANK_M3 }, ROOM_K);
    equilibrium.fill(node, ROOM_K, { refrigerantKg: 0.9 });
    expect(node.liquidFraction).toBeGreaterThan(MOUTH.uncoversAt);
    const x = node.liquidFraction / 0.02;
    expect(liquidShare(node, 'liquid')).toBe(x * x * (3 - 2 * x));
    expect(liquidShare(node, 'liquid', MOUTH)).toBe(1);
  });
});

/** Drains a tank of 1.1 kg at 20 °C through its charge valve into a vessel kept by a pump. */
function drained(): { share: number; liquid: number; flowKgPerS: number }[] {
  const rig = new MachineRig({ contentKg: 1.1 });
  rig.connect().hold(['vacuumPump', 'vacuumValve'], 10);
  const { tank } = rig.machine;
  const looks: { share: number; liquid: number; flowKgPerS: number }[] = [];
  let beforeKg = tank.refrigerantKg;
  rig.hold(['chargeValve', 'vacuumPump', 'vacuumValve'], 60, () => {
    looks.push({
      share: liquidShare(tank, 'liquid', MOUTH),
      liquid: tank.liquidFraction,
      flowKgPerS: (beforeKg - tank.refrigerantKg) / 0.1,
    });
    beforeKg = tank.refrigerantKg;
  });
  expect(Math.abs(rig.plant.truth().massDriftKg)).toBeLessThan(1e-9);
  return looks;
}

describe('a tank that is drained', () => {
  const looks = drained().slice(5);

  test('gives liquid alone until the mouth uncovers, and then a share of gas that only grows', () => {
    const covered = looks.filter(({ liquid }) => liquid > MOUTH.uncoversAt);
    const later = looks.filter(({ liquid }) => liquid <= MOUTH.uncoversAt);
    expect(covered.length).toBeGreaterThan(20);
    expect(covered.every(({ share }) => share === 1)).toBe(true);
    expect(later.length).toBeGreaterThan(20);
    for (let i = 1; i < later.length; i++) {
      expect(later[i]!.share).toBeLessThanOrEqual(later[i - 1]!.share);
    }
    expect(later.at(-1)!.share).toBeLessThan(0.01);
  });

  test('leaves the liquid below the mouth lying, which only evaporates', () => {
    expect(looks.at(-1)!.liquid).toBeGreaterThan(0.5 * MOUTH.dryAt);
  });

  test('gives a quarter of the mass and less once gas comes: choked vapour instead of flashing liquid', () => {
    expect(looks.at(-1)!.flowKgPerS).toBeLessThan(0.25 * looks[0]!.flowKgPerS);
    expect(looks.at(-1)!.flowKgPerS).toBeGreaterThan(0.05 * looks[0]!.flowKgPerS);
  });
});

test('mass and energy are kept while the mouth uncovers, in a tank and a vessel that exchange nothing else', () => {
  const drain = (mouthA: Mouth) => {
    const tank = adiabaticNode('tank', TANK_M3);
    const vessel = adiabaticNode('vessel', 5e-3);
    equilibrium.fill(tank, ROOM_K, { refrigerantKg: 0.9 });
    equilibrium.fill(vessel, ROOM_K, { refrigerantKg: 0.005 });
    const beforeJ = tank.energyJ + vessel.energyJ;
    const path = restriction(tank, vessel, areaOfKv(0.1), { portA: 'liquid', portB: 'mixed', mouthA });
    const network = new Network(equilibrium, [tank, vessel], [path]);
    for (let i = 0; i < 600; i++) network.advance(0.1);
    return {
      share: liquidShare(tank, 'liquid', mouthA),
      massKg: tank.refrigerantKg + vessel.refrigerantKg,
      gainedJ: (tank.energyJ + vessel.energyJ - beforeJ) / beforeJ,
      passedKg: path.passedRefrigerantKg,
    };
  };
  const uncovered = drain(MOUTH);
  expect(uncovered.share).toBeLessThan(1);
  expect(uncovered.massKg).toBeCloseTo(0.905, 12);
  expect(Math.abs(uncovered.gainedJ)).toBeLessThan(1e-12);
  expect(uncovered.passedKg).toBeGreaterThan(0.1);
});
