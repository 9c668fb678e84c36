// Pressures that rest or drift do not jump to and fro from scan to scan: real ones do not, and a gauge would show it.
import { expect, test } from 'vitest';
import { ON, type Output, SAFE_COMMANDS } from '../../../controller/signals.ts';
import { Plant } from '../../../sim/plant/plant.ts';
import { BOTH_SIDES, RECOVER, type SpecChoices, specOf, tablesOf } from '../hand.ts';

const SCAN_MS = 100;
/** The valves have moved and what they set off has passed. */
const SETTLING_MS = 3_000;

class Watched {
  readonly plant: Plant;
  #nowMs = 0;
  constructor(choices: SpecChoices) {
    const spec = specOf(choices);
    this.plant = new Plant(spec, tablesOf(spec.vehicle.refrigerant));
    this.plant.operate('connect-hoses');
  }

  #scan(outputs: readonly Output[]): void {
    this.#nowMs += SCAN_MS;
    this.plant.command({ ...SAFE_COMMANDS, ...Object.fromEntries(outputs.map((output) => [output, ON])) });
    this.plant.advanceTo(this.#nowMs);
  }

  hold(outputs: readonly Output[], seconds: number): void {
    for (let ms = 0; ms < 1000 * seconds; ms += SCAN_MS) this.#scan(outputs);
  }

  /** Largest jump to and fro in any node, relative: the smaller of two changes in a row that have opposite signs. */
  beating(outputs: readonly Output[], seconds: number): number {
    const nodes = [...this.plant.vehicle.nodes, ...this.plant.machine.nodes];
    this.hold(outputs, SETTLING_MS / 1000);
    let worst = 0;
    const last = nodes.map(({ pressurePa }) => ({ pressurePa, changePa: 0 }));
    for (let ms = 0; ms < 1000 * seconds; ms += SCAN_MS) {
      this.#scan(outputs);
      for (const [i, { pressurePa }] of nodes.entries()) {
        const before = last[i]!;
        const changePa = pressurePa - before.pressurePa;
        const jumpPa =
          changePa * before.changePa < 0 ? Math.min(Math.abs(changePa), Math.abs(before.changePa)) : 0;
        worst = Math.max(worst, jumpPa / (pressurePa + 2_000));
        last[i] = { pressurePa, changePa };
      }
    }
    return worst;
  }
}

const FULL_RECEIVER = {
  vehicle: { chargeKg: 0.75, expansionDevice: 'expansion-valve', volumeM3: 2.5e-3 },
} as const satisfies SpecChoices;

test('not in the receiver of a vehicle charged so full that it holds liquid only', () => {
  const watched = new Watched(FULL_RECEIVER);
  expect(watched.beating(BOTH_SIDES, 20)).toBeLessThan(2e-3);
  expect(watched.beating(RECOVER, 90)).toBeLessThan(2e-3);
  expect(watched.beating(BOTH_SIDES, 60)).toBeLessThan(2e-3);
});

test('not in the hose through which a cold tank charges a warm vehicle until the charge stalls', () => {
  const watched = new Watched({ ambientC: 35, tankC: 15, vehicle: { chargeKg: 0.001 } });
  expect(watched.beating(['highSideValve', 'chargeValve'], 120)).toBeLessThan(3e-3);
  expect(watched.beating(['highSideValve'], 60)).toBeLessThan(3e-3);
});

test('not between hoses that are filled, shut off and opened again', () => {
  const watched = new Watched({ ambientC: 24, vehicleC: 34 });
  watched.hold(BOTH_SIDES, 20);
  expect(watched.beating([], 60)).toBeLessThan(2e-3);
  expect(watched.beating(BOTH_SIDES, 60)).toBeLessThan(2e-3);
});
