// A quiet plant is reckoned in longer strides, and nobody who reads it can tell.
import { describe, expect, test } from 'vitest';
import { BOTH_SIDES, EVACUATE } from '../hand.ts';
import { MachineRig } from './machine-rig.ts';

/** A hold after an evacuation: pressure creeps up out of the oil. */
function atRest(): MachineRig {
  const oil = { kind: 'PAG', kg: 0.08, humidity: 0.4 } as const;
  const rig = new MachineRig({ vehicle: { chargeKg: 0, oil } }).connect();
  return rig.hold(BOTH_SIDES, 5).hold(EVACUATE, 300).hold(BOTH_SIDES, 100);
}

describe('a plant in which hardly anything moves', () => {
  test('takes fewer steps than it is asked for times', () => {
    const rig = atRest();
    const before = rig.plant.network.steps;
    rig.hold(BOTH_SIDES, 100);
    expect(rig.plant.network.steps - before).toBeLessThan(500);
  });

  test('shows pressures that lag behind by less than an instrument tells', () => {
    const rig = atRest();
    const { manifold, highHose, lowHose, tank } = rig.machine;
    const gauged = [manifold, highHose, lowHose, tank];
    let scans = 0;
    let worst = 0;
    rig.hold(BOTH_SIDES, 120, () => {
      scans++;
      if (scans % 7 !== 0) return;
      const shownPa = gauged.map(({ pressurePa }) => pressurePa);
      rig.plant.truth();
      for (const [i, { pressurePa }] of gauged.entries()) {
        worst = Math.max(worst, Math.abs(pressurePa - shownPa[i]!) / (1 + 2e-4 * pressurePa));
      }
    });
    expect(worst).toBeGreaterThan(0);
    expect(worst).toBeLessThan(1);
  });

  test('answers a valve at once, NOT after its stride', () => {
    const rig = atRest();
    const { tank } = rig.machine;
    const beforeKg = tank.refrigerantKg;
    const flows: number[] = [];
    let lastKg = beforeKg;
    rig.hold(['chargeValve'], 0.5, () => {
      flows.push(lastKg - tank.refrigerantKg);
      lastKg = tank.refrigerantKg;
    });
    expect(flows.filter((kg) => kg > 1e-4).length).toBeGreaterThan(3);
  });

  test('makes and loses nothing', () => {
    const rig = atRest().hold(BOTH_SIDES, 200);
    expect(Math.abs(rig.plant.truth().massDriftKg)).toBeLessThan(1e-9);
  });
});
