// What an expert looks for in a trace when there is oil or water in the vehicle.
import { describe, expect, it } from 'vitest';
import { toScenario } from '../../../app/scenario/scenario.ts';
import { findFluid } from '../../../sim/fluids/fluid.ts';
import { FluidTables } from '../../../sim/fluids/tables.ts';
import { waterVapourPressurePa } from '../../../sim/fluids/water.ts';
import { Equilibrium } from '../../../sim/network/equilibrium.ts';
import { makeVehicle } from '../../../sim/plant/vehicle.ts';
import type { VehicleSpec } from '../../../sim/spec.ts';
import { BOTH_SIDES, EVACUATE, Hand, RECOVER, readPa, specOf } from '../hand.ts';
import { MachineRig } from './machine-rig.ts';

const PAG = { kind: 'PAG', kg: 0.12, humidity: 0 } as const;

const handOn = (vehicle: Partial<VehicleSpec>, ambientC = 20): Hand =>
  new Hand(specOf({ ambientC, vehicle })).connect();

/** Grams that came out of the vehicle in each of a number of recover-and-rest cycles. */
function gramsPerCycle(hand: Hand, cycles: number, recoverS: number, restS: number): number[] {
  return Array.from({ length: cycles }, () => {
    const beforeKg = hand.bench.truth().vehicleRefrigerantKg;
    hand.hold(RECOVER, recoverS, 60);
    const drawnKg = beforeKg - hand.bench.truth().vehicleRefrigerantKg;
    hand.hold(BOTH_SIDES, restS, 60);
    return drawnKg * 1000;
  });
}

it('an open vehicle stands at the barometer in every part, however much oil is in it', () => {
  const vehicle = toScenario(
    { ticket: { refrigerant: 'R-134a', nominalChargeG: 600 }, vehicle: { chargeG: 0, oilG: 300 } },
    'the test',
  ).vehicle!;
  const equilibrium = new Equilibrium(new FluidTables(findFluid('R-134a')!));
  for (const node of makeVehicle(vehicle, equilibrium, vehicle.temperatureK).nodes)
    expect(node.pressurePa / 101_325, node.name).toBeCloseTo(1, 4);
});

it('the truth tells what of the vehicle is dissolved, liquid and vapour, and what lies in its accumulator', () => {
  const { bench } = handOn({ chargeKg: 0.6, oil: PAG });
  const { vehicleRefrigerantKg } = bench.truth();
  const { vehicleDissolvedKg, vehicleLiquidKg, vesselRefrigerantKg } = bench.within();
  const vapourKg = vehicleRefrigerantKg - vehicleDissolvedKg - vehicleLiquidKg;
  // 27.8 kg/m³ at 20 °C (Tillner-Roth and Baehr 1994), in what oil and liquid leave of 2.5 L.
  const gasM3 = 2.5e-3 - vehicleLiquidKg / 1225 - 0.12 / 970 - vehicleDissolvedKg / 1200;
  expect(vapourKg / gasM3).toBeCloseTo(27.8, 0);
  expect(vehicleDissolvedKg).toBeGreaterThan(0.04);
  expect(vesselRefrigerantKg).toBeGreaterThan(vehicleLiquidKg);
});

describe('recovery from a vehicle with oil', () => {
  it('gives constant grams per cycle while liquid is trapped and cold', () => {
    const hand = handOn({ chargeKg: 0.57, accumulatorHeatCapacityJPerK: 300, accumulatorUaWPerK: 0.8 });
    const [, second, third, fourth] = gramsPerCycle(hand, 4, 90, 300);
    expect(third! / second!).toBeGreaterThan(0.75);
    expect(fourth! / third!).toBeGreaterThan(0.75);
  });

  it('gives falling grams per cycle when what is left comes out of the oil', () => {
    const hand = handOn({ chargeKg: 0.16, oil: PAG });
    gramsPerCycle(hand, 2, 240, 60);
    const grams = gramsPerCycle(hand, 3, 90, 300);
    expect(grams[0]).toBeGreaterThan(1);
    expect(grams[1]! / grams[0]!).toBeLessThan(0.75);
    expect(grams[2]! / grams[1]!).toBeLessThan(0.9);
  });

  it('rises in the rest, ever more slowly, where a dry vehicle without liquid stays put', () => {
    const restRise = (vehicle: Partial<VehicleSpec>): number[] => {
      const hand = handOn(vehicle);
      hand.hold(RECOVER, 300, 60);
      const looks = hand
        .hold(BOTH_SIDES, 360, 120)
        .map((look) => readPa(look.readings, 'manifoldPressurePa'));
      return [looks[1]! - looks[0]!, looks[2]! - looks[1]!];
    };
    const [first, second] = restRise({ chargeKg: 0.12, oil: PAG });
    expect(first).toBeGreaterThan(2_000);
    expect(second!).toBeLessThan(first!);
    const [dry] = restRise({ chargeKg: 0.06 });
    expect(dry!).toBeLessThan(first! / 3);
  });

  it('carries oil into the separator: 5 to 30 mL from an ordinary charge, less when there is less to draw', () => {
    const caughtMl = (chargeKg: number): number => {
      const hand = handOn({ chargeKg, oil: PAG });
      const beforeKg = hand.bench.truth().vehicleOilKg;
      hand.hold(RECOVER, 600, 60);
      return ((beforeKg - hand.bench.truth().vehicleOilKg) / 0.97) * 1000;
    };
    const ordinary = caughtMl(0.6);
    expect(ordinary).toBeGreaterThan(5);
    expect(ordinary).toBeLessThan(30);
    expect(caughtMl(0.25)).toBeLessThan(ordinary);
  });
});

describe('a hold under vacuum', () => {
  /** Manifold pressure each minute of a quarter of an hour's hold, after a pump-down. */
  function holdPa(vehicle: Partial<VehicleSpec>, pumpS: number, ambientC = 20): number[] {
    const hand = handOn({ chargeKg: 0, ...vehicle }, ambientC);
    hand.hold(EVACUATE, pumpS, 60);
    // The valve shuts first, or the pump lets air back.
    hand.hold([...BOTH_SIDES, 'vacuumPump'], 2);
    return hand.hold(BOTH_SIDES, 900, 60).map((look) => readPa(look.readings, 'manifoldPressurePa'));
  }
  const between = (pressures: readonly number[], from: number, to: number): number =>
    (pressures[to]! - pressures[from]!) / (to - from);

  it('bends over when refrigerant comes out of oil', () => {
    const held = holdPa({ chargeKg: 0.01, oil: PAG }, 400);
    const early = between(held, 1, 4);
    const late = between(held, 11, 14);
    expect(early).toBeGreaterThan(20);
    expect(late).toBeLessThan(0.6 * early);
  });

  it('runs straight when air leaks in', () => {
    const held = holdPa({ leakKgPerYear: 400 }, 900);
    const early = between(held, 1, 4);
    const late = between(held, 11, 14);
    expect(early).toBeGreaterThan(5);
    expect(late / early).toBeGreaterThan(0.9);
    expect(late / early).toBeLessThan(1.1);
  });

  it('rises towards the vapour pressure of the water that is left, and no further', () => {
    const held = holdPa({ waterKg: 0.01 }, 300, 8);
    expect(held.at(-1)! / waterVapourPressurePa(281.15)).toBeGreaterThan(0.6);
    expect(held.at(-1)! / waterVapourPressurePa(281.15)).toBeLessThan(1.05);
    expect(between(held, 11, 14)).toBeLessThan(0.5 * between(held, 0, 3));
  });
});

describe('pumping on free water', () => {
  it('stands between freezing and room saturation for minutes, then freezes, and comes back when shut off', () => {
    const hand = handOn({ chargeKg: 0, waterKg: 0.005 }, 8);
    const looks = hand.hold(EVACUATE, 1500, 10);
    const pressures = looks.map((look) => look.readings.lowSidePressurePa);
    expect(pressures.length).toBe(150);
    const vehiclePa = looks.map((look) => look.readings.vehicleVacuumPa);
    expect(vehiclePa.some((reading) => reading.ok)).toBe(true);
    const left = hand.bench.truth().vehicleWaterKg;
    expect(left).toBeGreaterThan(0.001);
    const endPa = readPa(looks.at(-1)!.readings, 'manifoldPressurePa');
    expect(endPa).toBeLessThan(500);
    const held = hand.hold(BOTH_SIDES, 900, 60);
    expect(readPa(held.at(-1)!.readings, 'manifoldPressurePa')).toBeGreaterThan(endPa + 300);
  });
});

it('what a draw brings of water lies on the walls of condenser and tank beyond its saturation, and fills no coil as a gas', () => {
  const { plant, machine } = new MachineRig({ vehicle: { chargeKg: 0.3, waterKg: 0.003 } })
    .connect()
    .hold(RECOVER, 900);
  const cameKg = 0.003 - plant.truth().vehicleWaterKg;
  expect(cameKg).toBeGreaterThan(3e-4);
  for (const { name, waterKg, temperatureK, gasVolumeM3, wallK, liquidFraction } of [
    machine.separator,
    machine.condenser,
    machine.tank,
  ]) {
    expect(liquidFraction, name).toBeLessThan(1);
    // Ideal gas of 18.015 g/mol.
    const vapourPa = (waterKg * 461.5 * temperatureK) / gasVolumeM3;
    expect(vapourPa, name).toBeLessThan(1.1 * waterVapourPressurePa(Math.max(wallK, temperatureK)));
  }
});
