// Where the liquid of a fresh charge goes, and where it lies at rest: common practice waits some minutes before an engine starts.
import { describe, expect, test } from 'vitest';
import type { Node } from '../../../sim/network/node.ts';
import { freeLiquidFraction } from '../../../sim/network/stream.ts';
import type { VehicleSpec } from '../../../sim/spec.ts';
import { EVACUATE } from '../hand.ts';
import { MachineRig } from './machine-rig.ts';
import { VehicleRig } from './vehicle-rig.ts';

const CHARGE_KG = 0.6;

const liquidG = (node: Node): number =>
  1000 * freeLiquidFraction(node) * node.volumeM3 * node.liquidDensityKgPerM3;

type Look = {
  readonly atS: number;
  readonly high: number;
  readonly low: number;
  readonly vessel: number;
  readonly apartPa: number;
};

/** Liquid into the evacuated high side, engine off, then half an hour of rest; all in grams of free liquid. */
function charge(expansionDevice: VehicleSpec['expansionDevice'], tankC: number) {
  const vehicle = {
    chargeKg: 0.0005,
    expansionDevice,
    oil: { kind: 'PAG', kg: 0.12, humidity: 0.1 },
  } as const;
  const worked = new MachineRig({ ambientC: 20, tankC, vehicle }).connect().hold(EVACUATE, 600);
  const { plant } = worked;
  const looks: Look[] = [];
  const fromMs = plant.nowMs;
  const look = () => {
    const { high, low, vessel } = plant.vehicle;
    const atS = (plant.nowMs - fromMs) / 1000;
    const apartPa = high.pressurePa - low.pressurePa;
    looks.push({ atS, high: liquidG(high), low: liquidG(low), vessel: liquidG(vessel), apartPa });
  };
  while (plant.truth().vehicleRefrigerantKg < CHARGE_KG) {
    worked.hold(['highSideValve', 'chargeValve'], 1);
    look();
  }
  const charged = looks.at(-1)!;
  for (let i = 0; i < 180; i++) {
    worked.hold([], 10);
    look();
  }
  return { looks, charged, rested: looks.at(-1)! };
}

describe('a charge into the high side of an orifice-tube vehicle, engine off', () => {
  const { looks, charged, rested } = charge('orifice-tube', 35);

  test('fills the condenser first, and flashes through the tube all the while', () => {
    const early = looks.find(({ high }) => high > 10)!;
    expect(early.vessel).toBeLessThan(1);
    expect(charged.high).toBeGreaterThan(80);
    expect(charged.low).toBeGreaterThan(150);
  });

  test('equalises within a minute or two', () => {
    const minutes = looks.filter(({ atS }) => atS > charged.atS + 90);
    for (const { apartPa } of minutes) expect(Math.abs(apartPa)).toBeLessThan(5_000);
  });

  test('comes to lie in the accumulator, but for what the passes of the evaporator trap', () => {
    expect(rested.vessel).toBeGreaterThan(1.2 * rested.low);
    expect(rested.low).toBeGreaterThan(100);
    // The metal of the condenser is still a little warmer, from what condensed on it.
    expect(rested.high).toBeLessThan(5);
    // 0.6 kg less 45 g of vapour and what goes into 120 g of oil.
    expect(rested.high + rested.low + rested.vessel).toBeGreaterThan(450);
  });

  test('no longer moves after ten minutes', () => {
    const tenMinutes = looks.find(({ atS }) => atS > charged.atS + 600)!;
    expect(Math.abs(tenMinutes.vessel - rested.vessel)).toBeLessThan(10);
  });
});

test('from a tank no warmer than the vehicle some liquid stays at the bottom of the condenser', () => {
  const { rested } = charge('orifice-tube', 20);
  expect(rested.high).toBeGreaterThan(50);
  expect(rested.vessel).toBeGreaterThan(100);
});

test('with an expansion valve the liquid stays in receiver and condenser: the valve bleeds', () => {
  const { charged, rested } = charge('expansion-valve', 35);
  expect(charged.low).toBeLessThan(20);
  expect(rested.vessel + rested.high).toBeGreaterThan(4 * rested.low);
});

describe('at rest liquid wanders to the coldest place', () => {
  const wander = (warm: (rig: VehicleRig) => void) => {
    const rig = new VehicleRig({ ambientC: 20 });
    warm(rig);
    rig.pass(4 * 3600);
    const { high, low, vessel } = rig.vehicle;
    return { high: liquidG(high), low: liquidG(low), vessel: liquidG(vessel) };
  };

  test('into the condenser, when the rest of the vehicle stands in the sun', () => {
    const found = wander(({ vehicle: { low, vessel } }) => {
      low.surroundingsK += 10;
      vessel.surroundingsK += 10;
    });
    expect(found.high).toBeGreaterThan(300);
    expect(found.vessel).toBeLessThan(100);
  });

  test('NOT anywhere, while everything is equally warm', () => {
    const found = wander(() => undefined);
    expect(found.vessel).toBeGreaterThan(400);
    expect(found.high + found.low).toBeLessThan(5);
  });

  test('out of an evaporator that is colder it runs down into the accumulator, beyond what the passes trap', () => {
    const found = wander(({ vehicle: { low } }) => {
      low.surroundingsK -= 10;
    });
    expect(found.low).toBeGreaterThan(180);
    expect(found.low).toBeLessThan(300);
    expect(found.vessel).toBeGreaterThan(150);
  });
});
