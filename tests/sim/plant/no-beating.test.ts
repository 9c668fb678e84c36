// Pressures that rest or drift do not jump to and fro from scan to scan: real ones do not, and a gauge would show it.
import { expect, test } from 'vitest';
import type { Output } from '../../../controller/signals.ts';
import { BOTH_SIDES, RECOVER } from '../hand.ts';
import { MachineRig } from './machine-rig.ts';

/** The valves have moved and what they set off has passed. */
const SETTLING_S = 3;
/** Beside the pressure, so that a vacuum is not held to fractions of a pascal. */
const FLOOR_PA = 2_000;

/** Largest jump to and fro in any node, relative: the smaller of two changes in a row that have opposite signs. */
function beating(rig: MachineRig, outputs: readonly Output[], seconds: number): number {
  rig.hold(outputs, SETTLING_S);
  let worst = 0;
  const last = rig.nodes.map(({ pressurePa }) => ({ pressurePa, changePa: 0 }));
  rig.hold(outputs, seconds, () => {
    for (const [i, { pressurePa }] of rig.nodes.entries()) {
      const before = last[i]!;
      const changePa = pressurePa - before.pressurePa;
      const jumpPa = Math.min(Math.abs(changePa), Math.abs(before.changePa));
      if (changePa * before.changePa < 0) worst = Math.max(worst, jumpPa / (pressurePa + FLOOR_PA));
      last[i] = { pressurePa, changePa };
    }
  });
  return worst;
}

test('not in the receiver of a vehicle charged so full that it holds liquid only', () => {
  const rig = new MachineRig({ vehicle: { chargeKg: 0.75, expansionDevice: 'expansion-valve' } }).connect();
  expect(beating(rig, BOTH_SIDES, 20)).toBeLessThan(2e-3);
  expect(beating(rig, RECOVER, 90)).toBeLessThan(2e-3);
  expect(beating(rig, BOTH_SIDES, 60)).toBeLessThan(2e-3);
});

test('not in the hose through which a cold tank charges a warm vehicle until the charge stalls', () => {
  const rig = new MachineRig({ ambientC: 35, tankC: 15, vehicle: { chargeKg: 0.001 } }).connect();
  expect(beating(rig, ['highSideValve', 'chargeValve'], 120)).toBeLessThan(3e-3);
  expect(beating(rig, ['highSideValve'], 60)).toBeLessThan(2e-3);
});

test('not between hoses that are filled, shut off and opened again', () => {
  const rig = new MachineRig({ ambientC: 24, vehicleC: 34 }).connect().hold(BOTH_SIDES, 20);
  expect(beating(rig, [], 60)).toBeLessThan(2e-3);
  expect(beating(rig, BOTH_SIDES, 60)).toBeLessThan(2e-3);
});
