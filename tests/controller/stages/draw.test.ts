// How the compressor draws, and what its draws are counted by.

import { describe, expect, test } from 'vitest';
import { type DrawCount, startCount } from '../../../controller/estimates/condenser.ts';
import {
  counting,
  cutOffSuction,
  drawAlone,
  drawOpened,
  drawWith,
  keptAfter,
  shownKg,
  wantsFanStopped,
} from '../../../controller/stages/draw.ts';
import { EQUIPMENT } from '../support/machine.ts';
import { type Given, NOW_MS, shown, weighing } from '../support/stage-input.ts';
import { onOf } from '../support/weighings.ts';

describe('The fan of the condenser', () => {
  const stops = (given: Given): boolean => wantsFanStopped(shown(given));
  const warm = { seen: { tankTemperatureK: 294.2, ambientK: 293.15 } };

  test('stops where the tank is more than a kelvin warmer than the room, or the coil would keep the liquid', () => {
    expect(stops(warm)).toBe(true);
    expect(stops({ seen: { tankTemperatureK: 294, ambientK: 293 } })).toBe(false);
    expect(stops({ seen: { tankTemperatureK: 290, ambientK: 293 } })).toBe(false);
  });

  test('runs on where a thermometer is silent, no relay is fitted, or the refrigerant burns', () => {
    expect(stops({ seen: { ...warm.seen, ambientK: undefined } })).toBe(false);
    expect(stops({ seen: { ...warm.seen, tankTemperatureK: undefined } })).toBe(false);
    const fitted = EQUIPMENT.fitted.filter((output) => output !== 'fanStop');
    expect(stops({ ...warm, equipment: { ...EQUIPMENT, fitted } })).toBe(false);
    const input = shown(warm);
    const tank = { ...EQUIPMENT.tank, refrigerant: 'R-1234yf' };
    expect(wantsFanStopped({ ...input, equipment: { ...EQUIPMENT, tank } })).toBe(false);
  });
});

test('The compressor draws through the ports of the vehicle, through the manifold alone, or past a high side opened for a moment', () => {
  expect(onOf(drawWith(false)[2])).toEqual(['highSideValve', 'lowSideValve', 'recoveryValve', 'compressor']);
  expect(onOf(drawWith(false)[1])).toEqual(['highSideValve', 'recoveryValve', 'compressor']);
  expect(onOf(drawWith(true)[1])).toEqual(['highSideValve', 'recoveryValve', 'compressor', 'fanStop']);
  expect(onOf(drawAlone(false))).toEqual(['recoveryValve', 'compressor']);
  expect(onOf(drawAlone(true))).toEqual(['recoveryValve', 'compressor', 'fanStop']);
  for (const still of [false, true]) {
    const opened = drawOpened(still, 120);
    expect(onOf(opened)).toEqual(onOf(drawWith(still)[1]));
    expect(opened.highSideValve.offAfterMs).toBe(120);
    expect(opened.recoveryValve.offAfterMs).toBeUndefined();
  }
});

test('The scale shows what the tank has gained since the last weighing, and nothing before the first', () => {
  const gained = { scale: { massKg: 8.25 } };
  expect(shownKg(shown({ ...gained, accounts: { weighed: weighing(8) } }))).toBeCloseTo(0.25, 9);
  expect(shownKg(shown(gained))).toBe(0);
});

describe('The suction of a manifold cut off from the hoses', () => {
  const over = shown({ seen: { manifoldPa: undefined, manifoldOverSpan: true } });

  test('is what the absolute sensor reads', () =>
    expect(cutOffSuction(shown({ seen: { manifoldPa: 90_000 } }), 900_000)).toEqual({
      pa: 90_000,
      sdShare: 0,
      joined: false,
    }));

  test('beyond its span is the mean over the logarithm of the span and of where it stood, and doubted', () =>
    expect(cutOffSuction(over, 640_000)).toEqual({ pa: 320_000, sdShare: 0.2, joined: false }));

  test('that stood no higher than the span is hardly above it', () => {
    expect(cutOffSuction(over, 160_000)).toEqual({ pa: 160_000, sdShare: 0, joined: false });
    expect(cutOffSuction(over)).toEqual({ pa: 160_000, sdShare: 0, joined: false });
  });
});

describe('A draw', () => {
  const second = (given: Given, count: DrawCount = startCount(NOW_MS - 1_000), still = false): DrawCount =>
    counting(count, still, shown({ on: ['compressor'], ...given }));
  const sides = (highSidePa: number, lowSidePa: number, more: Given['seen'] = {}): Given => ({
    seen: { manifoldPa: undefined, highSidePa, lowSidePa, ...more },
  });

  test('counts what the displacement takes: some 1.9 g a second at two bar, while it runs', () => {
    // 0.2417 L/s, 0.87 of it filled, vapour of some 9 kg/m³.
    const grams = second({ seen: { manifoldPa: 200_000 } }).drawnKg * 1_000;
    expect(grams).toBeGreaterThan(1.7);
    expect(grams).toBeLessThan(2.1);
    expect(second({ seen: { manifoldPa: 200_000 }, on: [] }).drawnKg).toBe(0);
  });

  test('is counted by the manifold, else by the low side, with one port by the high side', () => {
    const by = (given: Given): number => second(given).drawnKg;
    const manifold = by({ seen: { manifoldPa: 150_000, highSidePa: 400_000, lowSidePa: 300_000 } });
    expect(by(sides(400_000, 150_000))).toBeCloseTo(manifold, 12);
    expect(by({ ...sides(150_000, 400_000), ticket: { ports: 1 } })).toBeCloseTo(manifold, 12);
  });

  test('knows whether a gauge told it, and whether the other side stands elsewhere: 60 kPa and the doubt of both', () => {
    const suction = (given: Given) => second(given).suction;
    expect(suction({ seen: { manifoldPa: 150_000 } })).toMatchObject({ gauge: 'none', guessed: false });
    expect(suction(sides(383_000, 300_000))).toMatchObject({ gauge: 'alone', guessed: false });
    expect(suction(sides(385_000, 300_000))).toMatchObject({ gauge: 'alone', guessed: true });
    expect(suction(sides(300_000, 385_000))).toMatchObject({ guessed: true });
    const perfect = { ...EQUIPMENT.pressure, highSideSdPa: 0, lowSideSdPa: 0 };
    const exact = { equipment: { ...EQUIPMENT, pressure: perfect } };
    expect(suction({ ...sides(360_000, 300_000), ...exact })).toMatchObject({ guessed: false });
    expect(suction({ ...sides(360_001, 300_000), ...exact })).toMatchObject({ guessed: true });
    const manifold = { manifoldPa: 150_000 };
    expect(suction(sides(385_000, 300_000, manifold))).toMatchObject({ gauge: 'none', guessed: false });
    expect(suction(sides(385_000, 300_000, { highSidePa: undefined }))).toMatchObject({ guessed: false });
    expect(suction(sides(385_000, 300_000, { lowSidePa: undefined }))).toMatchObject({ guessed: false });
    const given = counting(startCount(NOW_MS - 1_000), false, shown({ on: ['compressor'] }), {
      pa: 150_000,
      sdShare: 0.2,
      joined: false,
    });
    expect(given.suction).toMatchObject({ guessed: true });
  });

  test('finds its gauges denied where each stands more than 20 kPa and its own doubt from the absolute sensor', () => {
    const suction = { mostPa: 300_000, fell: true, guessed: false, gauge: 'alone' as const };
    const told = { ...startCount(NOW_MS - 1_000), suction };
    const denied = (given: Given): boolean => second(given, told).suction!.gauge === 'denied';
    const { lowSideSdPa, highSideSdPa } = EQUIPMENT.pressure;
    const [low, high] = [20_000 + 3 * lowSideSdPa, 20_000 + 3 * highSideSdPa];
    const at = (highPa: number, lowPa: number, more: Given['seen'] = {}): Given =>
      sides(150_000 + highPa, 150_000 + lowPa, { manifoldPa: 150_000, ...more });
    expect(denied(at(high + 1, low + 1))).toBe(true);
    expect(denied(at(-high - 1, -low - 1))).toBe(true);
    expect(denied(at(high, low + 1))).toBe(false);
    expect(denied(at(high + 1, low))).toBe(false);
    expect(denied(at(high + 1, 0, { lowSidePa: undefined }))).toBe(true);
    expect(denied(at(0, low + 1, { highSidePa: undefined }))).toBe(true);
    expect(denied({ ...at(high + 1, 0), ticket: { ports: 1 } })).toBe(true);
    expect(denied({ ...at(high, 300_000), ticket: { ports: 1 } })).toBe(false);
    expect(denied(sides(400_000, 400_000))).toBe(false);
    const cutOff = shown({ on: ['compressor'], ...at(300_000, 300_000) });
    expect(counting(told, false, cutOff, { pa: 150_000, sdShare: 0, joined: false }).suction!.gauge).toBe(
      'heard',
    );
  });

  test('warms a still coil more than one that the fan cools', () => {
    const warm = { ...startCount(NOW_MS - 1_000), coilWarmerK: 1 };
    expect(second({}, warm, true).coilWarmerK).toBeGreaterThan(second({}, warm, false).coilWarmerK);
  });

  test('remembers the pressure of the hoses when it began', () =>
    expect(second({ seen: { highSidePa: 301_325, lowSidePa: 201_325 } }).hoseGaugePa).toBeCloseTo(
      150_000,
      6,
    ));
});

describe('What the condenser keeps of a draw', () => {
  /** 10 g drawn by displacement, sure to 1 g, and 4 g of it on the scale. */
  const count = { ...startCount(NOW_MS), drawnKg: 0.01, totalKg: 0.01, drawnSdKg: 0.001 };
  const ROOM = { highSidePa: 101_325, lowSidePa: 101_325 };
  const HALF_BAR = { highSidePa: 151_325, lowSidePa: 151_325 };
  const kept = (more: Partial<DrawCount> = {}, given: Given = {}) =>
    keptAfter({ ...count, ...more }, 0.004, shown({ seen: ROOM, ...given }));

  test('is what has not arrived', () => expect(kept().kg * 1_000).toBeCloseTo(6, 2));

  test('is as sure as displacement, scale and coil are, and less where the force of the hoses has changed', () => {
    // In grams: 1 of the displacement, 0.3 of the shaking platform, 0.5 of the coil.
    expect(kept().sdKg * 1_000).toBeCloseTo(Math.hypot(1, 0.3, 0.5), 2);
    // 100 kPa less in the hoses, 16.7 mg a kPa: 1.67 more, of which the draw itself rules out a little.
    const fallen = kept({ hoseGaugePa: 100_000 }).sdKg * 1_000;
    expect(fallen).toBeCloseTo(1.99, 2);
    expect(kept({ hoseGaugePa: 150_000 }, { seen: HALF_BAR }).sdKg * 1_000).toBeCloseTo(fallen, 9);
    expect(kept({ hoseGaugePa: -100_000 }).sdKg * 1_000).toBeCloseTo(fallen, 9);
  });

  test('may be anything up to a full coil where it was counted by a gauge that the other side or the absolute sensor denies', () => {
    // 0.12 L of liquid at 0 °C, 1295 kg/m³: half of it.
    const suction = { mostPa: 300_000, fell: true, guessed: false, gauge: 'alone' as const };
    const denied = { estimates: { joined: { sinceMs: undefined, apartPa: 30_000 } } };
    expect(kept({ suction }, denied).sdKg).toBeCloseTo(0.0777, 6);
    expect(kept({ suction }).sdKg).toBeLessThan(0.002);
    expect(kept({ suction: { ...suction, gauge: 'heard' } }, denied).sdKg).toBeCloseTo(0.0777, 6);
    expect(kept({ suction: { ...suction, gauge: 'none' } }, denied).sdKg).toBeLessThan(0.002);
    expect(kept({}, denied).sdKg).toBeLessThan(0.002);
    expect(kept({ suction: { ...suction, gauge: 'heard' } }).sdKg).toBeLessThan(0.002);
    expect(kept({ suction: { ...suction, gauge: 'denied' } }).sdKg).toBeCloseTo(0.0777, 6);
  });
});
