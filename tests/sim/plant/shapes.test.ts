// What someone who knows the trade looks for in the gauges, seen in the bench's readings.
import { describe, expect, test } from 'vitest';
import { ON, SAFE_COMMANDS } from '../../../controller/signals.ts';
import { newSaturationState } from '../../../sim/fluids/property-state.ts';
import { Plant } from '../../../sim/plant/plant.ts';
import { BOTH_SIDES, EVACUATE, Hand, RECOVER, readPa, specOf, tablesOf } from '../hand.ts';

const ATMOSPHERE_PA = 101_325;

const saturationPa = (celsius: number, refrigerant = 'R-134a'): number => {
  const saturation = newSaturationState();
  tablesOf(refrigerant).saturation(celsius + 273.15, saturation);
  return saturation.pressurePa;
};

describe('at rest', () => {
  test.each(['R-134a', 'R-1234yf'])(
    'both gauges read the saturation pressure of %s, whatever the charge',
    (refrigerant) => {
      for (const chargeKg of [0.3, 0.6]) {
        const hand = new Hand(specOf({ refrigerant, ambientC: 20, vehicle: { chargeKg } })).connect();
        const [look] = hand.hold([], 120, 120);
        const expected = saturationPa(20, refrigerant);
        // Two standard deviations of the transducers of the profile, and the hoses' gulp of vapour.
        expect(Math.abs(readPa(look!.readings, 'highSidePressurePa') - expected)).toBeLessThan(20_000);
        expect(Math.abs(readPa(look!.readings, 'lowSidePressurePa') - expected)).toBeLessThan(10_000);
      }
    },
  );

  test('a system without liquid reads below saturation: 40 g in 2.5 L at 20 °C', () => {
    const hand = new Hand(specOf({ vehicle: { chargeKg: 0.04 } })).connect();
    const [look] = hand.hold([], 60, 60);
    expect(readPa(look!.readings, 'lowSidePressurePa')).toBeLessThan(0.7 * saturationPa(20));
  });

  test('gauges hold their pressure when the machine valves and then the couplers are shut', () => {
    const hand = new Hand(specOf()).connect();
    const [before] = hand.hold([], 60, 60);
    hand.bench.operate('close-couplers');
    const [after] = hand.hold([], 120, 120);
    const high = (look: typeof before) => readPa(look!.readings, 'highSidePressurePa');
    expect(Math.abs(high(after) / high(before) - 1)).toBeLessThan(0.03);
  });
});

describe('recovery', () => {
  test('a cold pool cut off from heat reads 0 on the gauge with much of the charge still there, and rises at rest', () => {
    const cold = { ambientC: 10, vehicle: { accumulatorHeatCapacityJPerK: 300, accumulatorUaWPerK: 0.8 } };
    const hand = new Hand(specOf(cold)).connect();
    hand.hold([], 20);
    const zero = hand
      .hold(RECOVER, 600)
      .find((look) => readPa(look.readings, 'lowSidePressurePa') < ATMOSPHERE_PA);
    expect(zero).toBeDefined();
    const atZero = new Hand(specOf(cold)).connect();
    atZero.hold([], 20);
    atZero.hold(RECOVER, zero!.atS - 20);
    expect(atZero.bench.truth().vehicleRefrigerantKg / 0.6).toBeGreaterThan(0.25);
    const rest = atZero.hold(BOTH_SIDES, 300);
    const low = rest.map((look) => readPa(look.readings, 'lowSidePressurePa'));
    expect(low[119]! - low[0]!).toBeGreaterThan(10_000);
    expect(low[299]!).toBeGreaterThan(low[119]!);
  });

  test('warmth in the pool decides, not time: an accumulator at 40 °C gives up in one pull what a cold one holds back', () => {
    const left = (vehicleC: number) => {
      const hand = new Hand(specOf({ ambientC: 20, vehicleC })).connect();
      hand.hold([], 10);
      hand.hold(RECOVER, 240, 240);
      return hand.bench.truth().vehicleRefrigerantKg;
    };
    expect(left(40)).toBeLessThan(0.6 * left(5));
  });

  test('the pressure stays flat at saturation until the last liquid is gone, and falls with the mass from there', () => {
    // A warm, well-heated pool and a slow compressor: what the gauge shows has nothing to do with how much is left.
    const vehicle = { accumulatorHeatCapacityJPerK: 5000, accumulatorUaWPerK: 50 };
    const plant = new Plant(specOf({ vehicle, build: { compressorSweptM3PerS: 2e-5 } }), tablesOf('R-134a'));
    plant.operate('connect-hoses');
    plant.command({ ...SAFE_COMMANDS, ...Object.fromEntries(RECOVER.map((output) => [output, ON])) });
    const minutes = Array.from({ length: 20 }, (_, minute) => {
      plant.advanceTo((minute + 1) * 60_000);
      const { low, vessel } = plant.vehicle;
      return {
        kg: plant.truth().vehicleRefrigerantKg,
        pa: low.pressurePa,
        vesselC: vessel.temperatureK - 273.15,
      };
    });
    const wet = minutes.filter(({ kg }) => kg > 0.09);
    expect(wet.length).toBeGreaterThan(12);
    for (const { pa, vesselC } of wet) expect(pa / saturationPa(vesselC)).toBeCloseTo(1, 2);
    // From 430 g down to 120 g the gauge moves by half a per cent.
    const [full, last] = [wet.find(({ kg }) => kg < 0.44)!, wet.findLast(({ kg }) => kg > 0.12)!];
    expect(last.pa / full.pa).toBeCloseTo(1, 2);
    // 70 g is all vapour in 2.5 L at 20 °C: pressure and mass now fall together.
    const dry = minutes.filter(({ kg }) => kg < 0.045);
    const [first, end] = [dry[0]!, dry.at(-1)!];
    expect(end.pa / first.pa / (end.kg / first.kg)).toBeCloseTo(1, 0);
    expect(end.pa).toBeLessThan(0.6 * first.pa);
  });

  test('a compressor cannot pull a vacuum: it stops drawing at its clearance limit (hand calculation, n = 1.1)', () => {
    const hand = new Hand(specOf({ ambientC: 20, vehicle: { chargeKg: 0.03 } })).connect();
    hand.hold([], 10);
    const [look] = hand.hold(RECOVER, 900, 900);
    // p_s = p_d / (1 + 1/c)^n with c = 5 % and the tank at saturation: 0.035 of the delivery pressure.
    const limit = saturationPa(20) / 21 ** 1.1;
    expect(readPa(look!.readings, 'manifoldPressurePa')).toBeGreaterThan(0.8 * limit);
    expect(readPa(look!.readings, 'manifoldPressurePa')).toBeLessThan(1.5 * limit);
  });
});

describe('vacuum', () => {
  const evacuated = (barometerPa: number, seconds: number) => {
    const hand = new Hand(
      specOf({ barometerPa, vehicle: { chargeKg: 0.005 }, build: { manifoldOffsetPa: 0 } }),
    ).connect();
    hand.hold([], 5);
    return hand.hold(EVACUATE, seconds, 1);
  };

  test('below some 10 mbar the hoses decide: the vehicle stays well above the pump', () => {
    const looks = evacuated(ATMOSPHERE_PA, 240);
    const { readings } = looks[89]!;
    const vehicle = readings.vehicleVacuumPa;
    expect(vehicle.ok).toBe(true);
    const manifold = readPa(readings, 'manifoldPressurePa');
    expect(vehicle.ok && vehicle.value).toBeGreaterThan(1.5 * manifold);
  });

  test('full vacuum reads the same absolute pressure at 2,000 m (79.5 kPa by ISO 2533) as at sea level', () => {
    const seaLevel = evacuated(ATMOSPHERE_PA, 600).at(-1)!;
    const mountain = evacuated(79_495, 600).at(-1)!;
    expect(Math.abs(readPa(seaLevel.readings, 'manifoldPressurePa'))).toBeLessThan(50);
    expect(Math.abs(readPa(mountain.readings, 'manifoldPressurePa'))).toBeLessThan(50);
  });
});

describe('charging', () => {
  const charge = (vehicleC: number, tankC: number, seconds: number) => {
    const hand = new Hand(
      specOf({
        ambientC: tankC,
        tankC,
        vehicleC,
        vehicle: { chargeKg: 0.0001, accumulatorHeatCapacityJPerK: 500 },
      }),
    ).connect();
    hand.hold([], 5);
    hand.hold(EVACUATE, 120, 120);
    hand.hold(['highSideValve', 'chargeValve'], seconds, seconds);
    return hand.bench.truth().vehicleRefrigerantKg;
  };

  test('a cool vehicle takes a full charge of liquid from a tank at 20 °C', () => {
    expect(charge(12, 20, 90)).toBeGreaterThan(0.6);
  });

  test('a vehicle 15 K warmer than the tank stalls the charge at a fraction of it', () => {
    expect(charge(35, 20, 90)).toBeLessThan(0.35);
  });
});

describe('reliefs', () => {
  test('a hot vehicle does not blow through them into a cold tank', () => {
    const hand = new Hand(specOf({ ambientC: 20, vehicleC: 65 })).connect();
    const tankKg = hand.bench.truth().tankRefrigerantKg;
    hand.hold([], 120, 120);
    expect(hand.bench.truth().tankRefrigerantKg).toBeCloseTo(tankKg, 6);
  });

  /** The highest pressure of a hose shut full of liquid at 5 °C that warms to 45 °C. */
  function highestPa(relieved: boolean): number {
    const plant = new Plant(specOf({ ambientC: 45, tankC: 45 }), tablesOf('R-134a'));
    const { highHose } = plant.machine;
    const { equilibrium, edges } = plant.network;
    const { liquidDensityKgPerM3 } = equilibrium.saturationAt(278.15);
    highHose.wallK = 278.15;
    equilibrium.fill(highHose, 278.15, { refrigerantKg: liquidDensityKgPerM3 * highHose.volumeM3 });
    for (const edge of edges) if (edge.name === 'high-side hose relief') edge.opening = relieved ? 1 : 0;
    plant.network.rewire();
    let highest = 0;
    for (let minute = 1; minute <= 30; minute++) {
      plant.advanceTo(minute * 60_000);
      highest = Math.max(highest, highHose.pressurePa);
    }
    return highest;
  }

  test('a hose shut full of cold liquid that warms up is let off into the tank before it bursts', () => {
    expect(highestPa(true)).toBeLessThan(4_000_000);
  });

  test('without its relief the same hose would NOT hold: the liquid has no room to expand', () => {
    expect(highestPa(false)).toBeGreaterThan(10_000_000);
  });
});
