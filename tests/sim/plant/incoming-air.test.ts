// Air that comes in from outside brings the water of the weather along, by whatever way it comes.
import { expect, test } from 'vitest';
import { EVACUATE } from '../hand.ts';
import { MachineRig } from './machine-rig.ts';

/** Saturation at 30 °C is 4247 Pa (IAPWS-95): ideal gases at one atmosphere and 60 % of it. */
const VAPOUR_PA = 0.6 * 4247;
const RATIO = (0.62198 * VAPOUR_PA) / (101_325 - VAPOUR_PA);
const SULTRY = { ambientC: 30, relativeHumidity: 0.6 };

/** Air and water in the whole plant, water as vapour, on walls, in oil and desiccant. */
function heldIn(rig: MachineRig): { airKg: number; waterKg: number } {
  const { nodes } = rig.plant.network;
  const sum = (of: (node: (typeof nodes)[number]) => number) => nodes.reduce((kg, node) => kg + of(node), 0);
  return {
    airKg: sum(({ airKg }) => airKg),
    waterKg: sum(({ waterKg, filmKg, sorbedWaterKg }) => waterKg + filmKg + sorbedWaterKg),
  };
}

const emptied = { chargeKg: 0, oil: { kind: 'PAG', kg: 0.12, humidity: 0 } } as const;

test.each([
  {
    way: 'a leak',
    rig: () => new MachineRig({ ...SULTRY, vehicle: { ...emptied, leakKgPerYear: 3e3 } }),
    open: (rig: MachineRig) => rig.hold([], 600),
  },
  {
    way: 'a hole',
    rig: () => new MachineRig({ ...SULTRY, vehicle: { ...emptied, holeDiameterM: 0.3e-3 } }),
    open: (rig: MachineRig) => rig.hold([], 60),
  },
  {
    way: 'a hose that comes off under vacuum',
    rig: () => new MachineRig({ ...SULTRY, vehicle: emptied }).connect().hold(EVACUATE, 300).hold([], 1),
    open: (rig: MachineRig) => rig.fault('hose-off').hold(['lowSideValve'], 5),
  },
  {
    way: 'the pump, stopped before its valve',
    rig: () => new MachineRig({ ...SULTRY, vehicle: emptied }).connect().hold(EVACUATE, 300).hold([], 1),
    open: (rig: MachineRig) =>
      rig.hold(
        [...EVACUATE].filter((output) => output !== 'vacuumPump'),
        5,
      ),
  },
  {
    way: 'the purge valve of a tank under vacuum',
    rig: () => new MachineRig({ ...SULTRY, contentKg: 0 }),
    open: (rig: MachineRig) => rig.hold(['airPurgeValve'], 20),
  },
])('through $way: 16 g of water with a kilogram of dry air at 30 °C and 60 %', ({ rig, open }) => {
  const worked = rig();
  const before = heldIn(worked);
  open(worked);
  const after = heldIn(worked);
  expect(after.airKg - before.airKg).toBeGreaterThan(1e-5);
  expect((after.waterKg - before.waterKg) / (after.airKg - before.airKg) / RATIO).toBeCloseTo(1, 3);
});

test('all the gas around the plant stands at the barometer, dry or moist', () => {
  for (const relativeHumidity of [0, 0.5, 1]) {
    const rig = new MachineRig({ ambientC: 35, relativeHumidity, barometerPa: 80_000 });
    const outside = rig.plant.network.edges.find(({ name }) => name === 'resting vacuum pump')!.b;
    expect(outside.pressurePa).toBeCloseTo(80_000, 3);
  }
});

test('in a vehicle colder than the dew point it settles on the walls, and not in a warmer one', () => {
  const filmKg = (vehicleC: number): number => {
    const rig = new MachineRig({
      ...SULTRY,
      vehicleC,
      vehicle: { chargeKg: 0, holeDiameterM: 3e-3 },
    }).hold([], 60);
    return rig.plant.vehicle.nodes.reduce((sum, node) => sum + node.filmKg, 0);
  };
  expect(filmKg(5)).toBeGreaterThan(1e-6);
  expect(filmKg(40)).toBe(0);
});

test('dry weather brings none', () => {
  const rig = new MachineRig({ relativeHumidity: 0, vehicle: { ...emptied, holeDiameterM: 0.3e-3 } });
  rig.hold([], 60);
  expect(heldIn(rig).waterKg).toBe(0);
});
