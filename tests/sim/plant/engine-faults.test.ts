// What is wrong with a vehicle's air conditioning shows in the pattern of its pressures: the rows of the trade's tables.
import { describe, expect, test } from 'vitest';
import { SYSTEMS, VehicleRig } from './vehicle-rig.ts';

const BAR = 1e5;
const SETTLED_S = 480;

describe.each(SYSTEMS)('faults of a vehicle with $refrigerant and an $device', (system) => {
  const AMBIENT_C = 30;
  type Means = {
    readonly high: number;
    readonly low: number;
    readonly vent: number;
    readonly lowest: number;
  };

  /** Means over the third minute before the end, for a clutch may cycle. */
  function means(choices: ConstructorParameters<typeof VehicleRig>[0]): Means {
    const rig = new VehicleRig({ ...system, ambientC: AMBIENT_C, ...choices });
    let [high, low, vent, seconds, lowest] = [0, 0, 0, 0, Number.POSITIVE_INFINITY];
    rig.run(SETTLED_S, (atS) => {
      if (atS < SETTLED_S - 180) return;
      seconds++;
      high += rig.highPa / BAR;
      low += rig.lowPa / BAR;
      vent += rig.ventC;
      lowest = Math.min(lowest, rig.lowPa / BAR);
    });
    return { high: high / seconds, low: low / seconds, vent: vent / seconds, lowest };
  }
  const right = means({});

  test('40 % too little: both sides low, the vent warm', () => {
    const found = means({ chargeShare: 0.6 });
    expect(found.high).toBeLessThan(right.high - 0.3);
    expect(found.low).toBeLessThan(right.low - 0.3);
    expect(found.vent).toBeGreaterThan(right.vent + 4);
  });

  test('40 % too much: both sides high, the high side clearly', () => {
    const found = means({ chargeShare: 1.4 });
    expect(found.high).toBeGreaterThan(right.high * 1.08);
    expect(found.low).toBeGreaterThan(right.low);
  });

  test('a tenth more or less does not show: pressures cannot measure a charge', () => {
    for (const chargeShare of [0.9, 1.1]) {
      const found = means({ chargeShare });
      expect(Math.abs(found.high / right.high - 1)).toBeLessThan(0.1);
      expect(Math.abs(found.low / right.low - 1)).toBeLessThan(0.1);
    }
  });

  test('4 g of air: the high side far above what its temperature explains', () => {
    const rig = new VehicleRig({ ...system, ambientC: AMBIENT_C, airKg: 0.004 }).run(SETTLED_S);
    expect(rig.highPa / BAR).toBeGreaterThan(right.high + 3);
    expect(rig.highPa - rig.vehicle.high.saturationPa).toBeGreaterThan(2 * BAR);
    expect(rig.lowPa / BAR).toBeGreaterThan(right.low);
  });

  test('poor air through the condenser: both sides high', () => {
    const found = means({ condition: { condenserAirShare: 0.3 } });
    expect(found.high).toBeGreaterThan(right.high + 3);
    expect(found.low).toBeGreaterThan(right.low + 0.05);
  });

  test('no air through the condenser at all: both sides far too high, and the clutch comes and goes', () => {
    const found = means({ condition: { condenserAirShare: 0 } });
    expect(found.high).toBeGreaterThan(right.high + 6);
    expect(found.low).toBeGreaterThan(right.low + 1);
    expect(found.vent).toBeGreaterThan(right.vent + 10);
  });

  test('the less charge, the lower both sides and the warmer the vent', () => {
    const [less, least] = [means({ chargeShare: 0.6 }), means({ chargeShare: 0.4 })];
    expect(least.high).toBeLessThan(less.high - 0.5);
    expect(least.lowest).toBeLessThan(less.lowest);
    expect(least.vent).toBeGreaterThan(less.vent + 4);
  });

  test('a compressor shows its wear by degrees', () => {
    const [some, much] = [0.6, 0.35].map((compressorShare) => means({ condition: { compressorShare } }));
    expect(some!.high).toBeLessThan(right.high);
    expect(some!.low).toBeGreaterThan(right.low);
    expect(much!.high).toBeLessThan(some!.high);
    expect(much!.low).toBeGreaterThan(some!.low);
  });

  test('a worn compressor: the high side low, the low side high', () => {
    const found = means({ condition: { compressorShare: 0.35 } });
    expect(found.high).toBeLessThan(right.high - 0.5);
    expect(found.low).toBeGreaterThan(right.low + 0.4);
    expect(found.vent).toBeGreaterThan(right.vent + 2);
  });

  test('a blocked expansion: the low side very low until the switch lets go, hardly any cooling', () => {
    const found = means({ condition: { expansionShare: 0.08 } });
    expect(found.lowest).toBeLessThan(1.8);
    expect(found.low).toBeLessThan(right.low - 0.7);
    expect(found.vent).toBeGreaterThan(right.vent + 10);
    // A receiver takes the liquid that does not get through; without one it stands in the condenser, whose head rises.
    if (system.device === 'expansion-valve') expect(found.high).toBeLessThan(right.high - 1);
    else expect(found.high).toBeGreaterThan(right.high + 1);
  });
});
