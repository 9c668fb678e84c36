// Engine running with the machine on the vehicle: hoses sucked dry, hot gas going round, vapour drawn in, a warm recovery.
import { describe, expect, test } from 'vitest';
import { ON, type Output, SAFE_COMMANDS } from '../../../controller/signals.ts';
import { Plant } from '../../../sim/plant/plant.ts';
import type { VehicleSpec } from '../../../sim/spec.ts';
import { BOTH_SIDES, RECOVER, type SpecChoices, specOf, tablesOf } from '../hand.ts';

const BAR = 1e5;
const CHARGE: readonly Output[] = ['highSideValve', 'chargeValve'];
const WITH_OIL: Partial<VehicleSpec> = { oil: { kind: 'PAG', kg: 0.12, humidity: 0.1 } };

function connected(choices: SpecChoices = {}): Plant {
  const plant = new Plant(
    specOf({ ambientC: 25, ...choices, vehicle: { ...WITH_OIL, ...choices.vehicle } }),
    tablesOf(choices.refrigerant ?? 'R-134a'),
  );
  plant.operate('connect-hoses');
  hold(plant, [], 5);
  return plant;
}

function hold(plant: Plant, outputs: readonly Output[], seconds: number): void {
  plant.command({ ...SAFE_COMMANDS, ...Object.fromEntries(outputs.map((output) => [output, ON])) });
  plant.advanceTo(plant.nowMs + seconds * 1000);
}

const hoseKg = ({ machine }: Plant): number =>
  machine.highHose.refrigerantKg + machine.manifold.refrigerantKg + machine.lowHose.refrigerantKg;

describe('clearing the hoses', () => {
  /** Charged a little, so that high-side hose and manifold are left full of liquid. */
  function charged(): Plant {
    const plant = connected({ tankC: 35, vehicle: { chargeKg: 0.2 } });
    hold(plant, CHARGE, 12);
    hold(plant, ['highSideValve'], 1);
    hold(plant, [], 1);
    return plant;
  }

  test('with the high coupler shut and both valves open the low side sucks the liquid in within a minute', () => {
    const plant = charged();
    plant.operate('close-high-coupler');
    plant.operate('start-engine');
    hold(plant, [], 60);
    const beforeKg = hoseKg(plant);
    const vehicleKg = plant.truth().vehicleRefrigerantKg;
    expect(beforeKg).toBeGreaterThan(0.03);
    hold(plant, BOTH_SIDES, 60);
    expect(plant.truth().vehicleRefrigerantKg - vehicleKg).toBeGreaterThan(0.95 * beforeKg);
    // Vapour at 3 bar in 1.8 m of 4.8 mm bore: 0.44 g (saturation density times volume).
    for (const hose of [plant.machine.highHose, plant.machine.lowHose]) {
      expect(hose.pressurePa).toBeLessThan(3.5 * BAR);
      expect(hose.refrigerantKg).toBeLessThan(0.7e-3);
    }
    expect(Math.abs(plant.truth().massDriftKg)).toBeLessThan(1e-9);
  });

  test('with the coupler left open it does NOT: hot gas goes round and the hose keeps the pressure of the high side', () => {
    const plant = charged();
    plant.operate('start-engine');
    hold(plant, [], 120);
    hold(plant, BOTH_SIDES, 60);
    const { machine, vehicle } = plant;
    expect(machine.highHose.pressurePa).toBeGreaterThan(0.8 * vehicle.high.pressurePa);
    expect(machine.manifold.pressurePa).toBeGreaterThan(2 * vehicle.low.pressurePa);
    expect(machine.lowHose.pressurePa).toBeGreaterThan(1.5 * vehicle.low.pressurePa);
  });
});

describe('measuring', () => {
  test('with its valves shut the machine reads both sides of the running system and changes nothing', () => {
    const plant = connected();
    plant.operate('start-engine');
    hold(plant, [], 300);
    const { machine, vehicle } = plant;
    expect(Math.abs(machine.highHose.pressurePa / vehicle.high.pressurePa - 1)).toBeLessThan(0.01);
    expect(Math.abs(machine.lowHose.pressurePa / vehicle.low.pressurePa - 1)).toBeLessThan(0.01);
    expect(plant.cabin.ventAirK).toBeLessThan(273.15 + 12);
  });
});

describe('charging with the engine on', () => {
  test('the low side takes vapour from a tank no warmer than the vehicle', () => {
    const plant = connected({ vehicle: { chargeKg: 0.4 } });
    plant.operate('start-engine');
    hold(plant, [], 60);
    const before = plant.truth();
    hold(plant, ['lowSideValve', 'chargeValve'], 10);
    hold(plant, ['lowSideValve'], 10);
    expect(plant.truth().vehicleRefrigerantKg - before.vehicleRefrigerantKg).toBeGreaterThan(0.05);
  });

  test('the high side is above the tank: an open charge valve lets it flow backwards', () => {
    const plant = connected();
    plant.operate('start-engine');
    hold(plant, [], 120);
    const before = plant.truth();
    hold(plant, CHARGE, 10);
    expect(plant.truth().tankRefrigerantKg).toBeGreaterThan(before.tankRefrigerantKg + 0.01);
  });
});

describe('a vehicle warmed by fifteen minutes of running', () => {
  const cold: SpecChoices = {
    ambientC: 10,
    vehicle: { accumulatorHeatCapacityJPerK: 300, accumulatorUaWPerK: 0.8 },
  };

  /** Two pulls to 0.65 bar with a rest between; answers what is left. */
  function leftAfterTwoPulls(plant: Plant): number {
    for (const rest of [300, 0]) {
      for (let i = 0; i < 90 && (i === 0 || plant.machine.manifold.pressurePa > 65_000); i++)
        hold(plant, RECOVER, 10);
      hold(plant, BOTH_SIDES, rest);
    }
    return plant.truth().vehicleRefrigerantKg;
  }

  const warmed = (choices: SpecChoices): Plant => {
    const plant = connected(choices);
    plant.operate('start-engine');
    hold(plant, [], 900);
    plant.operate('stop-engine');
    hold(plant, [], 60);
    return plant;
  };

  test('gives up nine tenths in two pulls, what is left being in its oil; left cold it holds a third back', () => {
    expect(leftAfterTwoPulls(warmed(cold))).toBeLessThan(0.11 * 0.6);
    expect(leftAfterTwoPulls(connected(cold))).toBeGreaterThan(0.3 * 0.6);
  });

  test('without oil it gives up more than 95 %', () => {
    const dry = { ...cold, vehicle: { ...cold.vehicle, oil: { kind: 'PAG', kg: 0, humidity: 0 } } } as const;
    expect(leftAfterTwoPulls(warmed(dry))).toBeLessThan(0.05 * 0.6);
  });
});

test('both compressors at once, as when someone starts the engine during a recovery: masses stay in their books', () => {
  const plant = connected();
  hold(plant, RECOVER, 10);
  plant.operate('start-engine');
  hold(plant, RECOVER, 120);
  const truth = plant.truth();
  expect(Math.abs(truth.massDriftKg)).toBeLessThan(1e-9);
  expect(truth.tankRefrigerantKg).toBeGreaterThan(8.2);
});
