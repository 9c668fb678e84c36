// A charge into a shut coupler: what tells it from a vehicle that has merely stopped taking more.
import { describe, expect, test } from 'vitest';
import { NO_READINGS, withReading } from '../../../controller/estimates/masses.ts';
import { couplerShut, engineParts } from '../../../controller/stages/charge-stall.ts';
import type { ChargeData } from '../../../controller/stages/data-charge.ts';
import { charging, type Given, scanOf } from '../support/charging.ts';

const TANK_PA = 600_000;
/** High hose and manifold, 93 mL, full of liquid at 20 °C: R-134a, 1225.3 kg/m³ (Tillner-Roth and Baehr). */
const FULL_KG = 93e-6 * 1225.3;
const SIDES_DOUBT_PA = 2 * Math.hypot(7_500, 2_500);

type Scene = Given & { readonly data?: Partial<ChargeData>; readonly deliveredKg?: number };

/** The hose is full, stands as high as the tank, and nothing has moved for twelve seconds. */
function isShut({ data = {}, deliveredKg = FULL_KG, seen, ...given }: Scene = {}): boolean {
  const input = scanOf({
    nowMs: 60_000,
    seen: { tankPa: TANK_PA, highSidePa: TANK_PA, lowSidePa: 1_000, ...seen },
    ...given,
  });
  const stalled = { stallSinceMs: 48_000, stalledMs: 12_000, lowFromPa: 1_000 };
  return couplerShut(charging({ ...stalled, ...data }), deliveredKg, input);
}

describe('A coupler is found shut', () => {
  test('where the hose has filled and the vehicle has not answered', () => expect(isShut()).toBe(true));

  test('by no less than three tenths of what the hose holds, and no more than all of it and a little', () => {
    expect(isShut({ deliveredKg: 0.299 * FULL_KG })).toBe(false);
    expect(isShut({ deliveredKg: 0.301 * FULL_KG })).toBe(true);
    // Volumes known to 2 %, twice over, and 5 g of the scale.
    const most = 1.04 * FULL_KG + 0.005;
    expect(isShut({ deliveredKg: most - 1e-4 })).toBe(true);
    expect(isShut({ deliveredKg: most + 1e-4 })).toBe(false);
  });

  test('in a room of 20 °C where the tank has no thermometer', () =>
    expect(isShut({ deliveredKg: 0.301 * FULL_KG, seen: { tankTemperatureK: undefined } })).toBe(true));

  test('after ten seconds with two ports, and after thirty with one', () => {
    expect(isShut({ data: { stalledMs: 9_999 } })).toBe(false);
    expect(isShut({ data: { stalledMs: 10_000 } })).toBe(true);
    expect(isShut({ ticket: { ports: 1 }, data: { stalledMs: 29_999 } })).toBe(false);
    expect(isShut({ ticket: { ports: 1 }, data: { stalledMs: 30_000 } })).toBe(true);
  });

  test('but NOT with one port where a warm vehicle was to stop the flow as early', () => {
    const data = { stalledMs: 30_000, told: ['charge-will-stall'] };
    expect(isShut({ ticket: { ports: 1 }, data })).toBe(false);
    expect(isShut({ data })).toBe(true);
  });

  test('but NOT where the supply is shut, or an engine runs', () => {
    expect(isShut({ data: { told: ['charge-stalled-supply'] } })).toBe(false);
    expect(isShut({ data: { told: ['charge-stalled-engine'] } })).toBe(false);
    expect(isShut({ data: { told: ['charge-stalled-warm'] } })).toBe(true);
    expect(isShut({ seen: { highSidePa: 450_000 } })).toBe(false);
    expect(isShut({ seen: { highSidePa: 700_000, lowSidePa: 350_000 }, data: { lowFromPa: 340_000 } })).toBe(
      false,
    );
  });
});

describe('A vehicle answers', () => {
  test('with its low side, 15 kPa above what it was', () => {
    const seen = { highSidePa: 590_000 };
    const lowFromPa = 400_000;
    expect(isShut({ seen: { ...seen, lowSidePa: 415_000 }, data: { lowFromPa } })).toBe(true);
    expect(isShut({ seen: { ...seen, lowSidePa: 415_001 }, data: { lowFromPa } })).toBe(false);
  });

  test('NOT with what the spring of a shut valve lets back: 3 bar below the hose', () => {
    expect(isShut({ seen: { lowSidePa: 315_000 }, deliveredKg: FULL_KG })).toBe(true);
    expect(isShut({ seen: { lowSidePa: 315_001 }, deliveredKg: FULL_KG })).toBe(false);
  });

  test('NOT with its low side where that is capped', () => {
    const data = { stalledMs: 30_000 };
    expect(isShut({ ticket: { ports: 1 }, data, seen: { lowSidePa: 500_000 } })).toBe(true);
  });

  test('with a hose that falls and comes back: 8 kPa of deviation, unless a valve let something back', () => {
    const swings = (pa: number) =>
      [pa, -pa].reduce((sums, by) => withReading(sums, 400_000 + by, 8), NO_READINGS);
    expect(isShut({ data: { falling: swings(7_990) } })).toBe(true);
    expect(isShut({ data: { falling: swings(8_010) } })).toBe(false);
    expect(isShut({ data: { falling: swings(8_010) }, seen: { lowSidePa: 16_000 } })).toBe(true);
    expect(isShut({ data: { falling: swings(8_010) }, seen: { lowSidePa: 15_900 } })).toBe(false);
  });

  test('or nobody can know, where a side has no value now or had none before', () => {
    expect(isShut({ seen: { lowSidePa: undefined } })).toBe(false);
    expect(isShut({ seen: { highSidePa: undefined } })).toBe(false);
    expect(isShut({ data: { lowFromPa: undefined } })).toBe(false);
  });
});

test('What a valve has let into the vehicle from behind is no part of what fills the hose', () => {
  // 2.6 L of gas from -40 to -10 °C of saturation: 2.7695 to 10.04 kg/m³ (Tillner-Roth and Baehr).
  const backKg = 2.6e-3 * (10.04 - 2.7695);
  const scene = (deliveredKg: number, ticket = {}): Scene => ({
    ticket,
    deliveredKg,
    seen: { lowSidePa: 200_600 },
    data: { lowFromPa: 51_210, stalledMs: 12_000 },
  });
  expect(isShut(scene(1.04 * FULL_KG + 0.005 + backKg - 1e-4))).toBe(true);
  expect(isShut(scene(1.04 * FULL_KG + 0.005 + backKg + 1e-4))).toBe(false);
  expect(isShut(scene(0.301 * FULL_KG + backKg))).toBe(true);
  expect(isShut(scene(0.299 * FULL_KG + backKg))).toBe(false);
  // Less than 15 kPa is nothing that came.
  const little = { seen: { lowSidePa: 214_000 }, data: { lowFromPa: 200_000 } };
  expect(isShut({ ...little, deliveredKg: 1.04 * FULL_KG + 0.005 + 1e-4 })).toBe(false);
  expect(isShut({ ...little, deliveredKg: 1.04 * FULL_KG + 0.005 - 1e-4 })).toBe(true);
  // With one port nobody sees it.
  const one = scene(0.301 * FULL_KG, { ports: 1 });
  expect(isShut({ ...one, data: { ...one.data, stalledMs: 30_000 } })).toBe(true);
});

describe('A trickle through a lifted valve', () => {
  const trickle = (flowKgPerS: number, data: Partial<ChargeData> = {}, gapPa = 0) => {
    const gap = { pa: gapPa, leastPa: gapPa, mostPa: gapPa, stalledPa: undefined };
    const slow = { stallSinceMs: undefined, stalledMs: 0, slowSinceMs: 50_000, peakFlowKgPerS: 0.02, gap };
    return isShut({ data: { ...slow, ...data }, scale: { flowKgPerS: -flowKgPerS } });
  };
  const DOUBT_PA = 2 * Math.hypot(5_000, 7_500);

  test('of less than 15 % of the flow at its most is none', () => {
    expect(trickle(0.00299)).toBe(true);
    expect(trickle(0.003)).toBe(false);
  });

  test('shows within ten seconds', () => {
    expect(trickle(0.001, { slowSinceMs: 50_001 })).toBe(false);
    expect(trickle(0.001, { slowSinceMs: undefined })).toBe(false);
  });

  test('leaves the hose as high as the tank', () => {
    expect(trickle(0.001, {}, 14_990 + DOUBT_PA)).toBe(true);
    expect(trickle(0.001, {}, 15_010 + DOUBT_PA)).toBe(false);
    expect(trickle(0.001, { gap: undefined })).toBe(false);
  });
});

describe('Sides that stand far apart for twenty seconds', () => {
  const apart = (byPa: number, over: Scene = {}) =>
    isShut({
      deliveredKg: 0.4,
      ...over,
      data: { stalledMs: 20_000, ...over.data },
      seen: { lowSidePa: TANK_PA - 150_000 - SIDES_DOUBT_PA - byPa, ...over.seen },
    });

  test('are parted by a shut coupler, whatever was given', () => {
    expect(apart(10)).toBe(true);
    expect(apart(-10)).toBe(false);
  });

  test('but NOT earlier, not unseen, and not with one port', () => {
    expect(apart(10, { data: { stalledMs: 19_999 } })).toBe(false);
    for (const name of ['tankPa', 'highSidePa', 'lowSidePa'])
      expect(apart(10, { seen: { [name]: undefined } })).toBe(false);
    expect(apart(10, { ticket: { ports: 1 }, data: { stalledMs: 30_000 } })).toBe(false);
  });
});

describe('An engine', () => {
  const DOUBT_PA = 2 * Math.hypot(5_000, 7_500);
  const parts = (highSidePa: number, lowSidePa: number) =>
    engineParts(scanOf({ seen: { tankPa: TANK_PA, highSidePa, lowSidePa } }));

  test('holds the high side above the tank beyond doubt', () => {
    expect(parts(TANK_PA + DOUBT_PA + 10, 100_000)).toBe(true);
    expect(parts(TANK_PA + DOUBT_PA - 10, 100_000)).toBe(false);
  });

  test('sucks the low side a bar below it, out of a vehicle that has something', () => {
    expect(parts(700_000, 600_000 - SIDES_DOUBT_PA - 10)).toBe(true);
    expect(parts(700_000, 600_000 - SIDES_DOUBT_PA + 10)).toBe(false);
    expect(parts(700_000, 40_001)).toBe(true);
    expect(parts(700_000, 40_000)).toBe(false);
  });

  test('is NOT seen where a pressure is not', () => {
    const seen = { tankPa: TANK_PA, highSidePa: 700_000, lowSidePa: 100_000 };
    expect(engineParts(scanOf({ seen }))).toBe(true);
    for (const name of Object.keys(seen))
      expect(engineParts(scanOf({ seen: { ...seen, [name]: undefined } }))).toBe(false);
  });
});
