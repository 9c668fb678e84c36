// A simulated service does not depend on the simulator's own step: with half of it masses and pressures stay within 0.5 %.
import { describe, expect, test } from 'vitest';
import type { Output } from '../../../controller/signals.ts';
import { Random } from '../../../sim/random.ts';
import { BOTH_SIDES, EVACUATE, RECOVER, type SpecChoices } from '../hand.ts';
import { MachineRig } from './machine-rig.ts';

const TOLERANCE = 0.005;
/** What is less than this is nothing: a tenth of a gram, as stays in a coil whose valve shuts a little sooner, and some pascal. */
const NOTHING_KG = 1e-4;
const NOTHING_PA = 3;
const CHARGE: readonly Output[] = ['highSideValve', 'chargeValve'];

/** Looked at while pressures rest or drift; within the second in which a valve opens or a film dries a time would shift. */
const SERVICE: readonly (readonly [outputs: readonly Output[], seconds: number])[] = [
  [BOTH_SIDES, 20],
  [RECOVER, 150],
  [RECOVER, 250],
  [BOTH_SIDES, 120],
  [RECOVER, 200],
  [EVACUATE, 60],
  [EVACUATE, 500],
  [BOTH_SIDES, 300],
  [CHARGE, 70],
  [[], 60],
  [RECOVER, 60],
];

type Look = { readonly what: string; readonly value: number; readonly nothing: number };

function looks(choices: SpecChoices, finer: number, drive: boolean): readonly Look[] {
  const rig = new MachineRig(choices, finer).connect();
  const found: Look[] = [];
  const look = (at: string) => {
    const truth = rig.plant.truth();
    const masses = {
      vehicle: truth.vehicleRefrigerantKg,
      hoses: truth.hoseRefrigerantKg,
      machine: truth.machineRefrigerantKg,
      tank: truth.tankRefrigerantKg,
      exhaust: truth.pumpExhaustKg,
      oil: truth.vehicleOilKg,
      water: truth.vehicleWaterKg,
    };
    for (const [what, value] of Object.entries(masses))
      found.push({ what: `${what} kg ${at}`, value, nothing: NOTHING_KG });
    // A few milligrams out of the caught oil decide the separator's pressure: its content is in the machine's.
    const gauged = rig.nodes.filter((node) => node !== rig.plant.machine.separator);
    for (const { name, pressurePa } of gauged)
      found.push({ what: `${name} Pa ${at}`, value: pressurePa, nothing: NOTHING_PA });
  };
  for (const [i, [outputs, seconds]] of SERVICE.entries()) {
    rig.hold(outputs, seconds);
    look(`after part ${i + 1}`);
  }
  if (!drive) return found;
  rig.plant.operate('start-engine');
  rig.hold([], 300);
  look('with the engine running');
  rig.plant.operate('stop-engine');
  rig.hold([], 120);
  look('with the engine stopped');
  return found;
}

/** An invented vehicle and day. */
function choicesOf(seed: number): SpecChoices {
  const random = new Random(seed, 'halving');
  const between = (low: number, high: number) => low + (high - low) * random.uniform();
  const chance = (share: number) => random.uniform() < share;
  const ambientC = between(5, 40);
  const volumeM3 = between(1.6e-3, 4e-3);
  return {
    seed,
    refrigerant: chance(0.5) ? 'R-134a' : 'R-1234yf',
    ambientC,
    tankC: ambientC + between(-5, 5),
    vehicleC: ambientC + between(0, 20),
    vehicle: {
      chargeKg: between(80, 330) * volumeM3,
      volumeM3,
      expansionDevice: chance(0.5) ? 'orifice-tube' : 'expansion-valve',
      oil: { kind: 'PAG', kg: chance(0.5) ? 0.12 : 0, humidity: 0.1 },
      waterKg: chance(0.3) ? 0.002 : 0,
    },
  };
}

describe('halving the internal step of a service worked by hand', () => {
  test.each([1, 2, 3, 4, 5, 6, 7, 8].map((seed) => ({ seed })))(
    'changes, while pressures rest or drift, no mass by 0.5 % and 0.1 g, and no pressure but the separator’s by 0.5 % and 3 Pa, in vehicle $seed',
    ({ seed }) => {
      const choices = choicesOf(seed);
      const coarse = looks(choices, 1, seed % 2 === 0);
      const fine = looks(choices, 2, seed % 2 === 0);
      const parted = coarse
        .map(({ what, value, nothing }, i) => ({ what, value, fine: fine[i]!.value, nothing }))
        .filter((row) => !(Math.abs(row.value - row.fine) < TOLERANCE * Math.abs(row.fine) + row.nothing));
      expect(parted).toEqual([]);
    },
  );
});
