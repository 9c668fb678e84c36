// What the record states as recovered, and how sure it says that is.
import { describe, expect, test } from 'vitest';
import { inDoubtOf, recovered, residueKg } from '../../../controller/stages/recovered.ts';
import type { Accounts } from '../../../controller/state.ts';
import { type Given, NOW_MS, shown, weighing } from '../support/stage-input.ts';

/** 300 g more lie in the tank than at first; nothing stands under pressure. */
function booked(moreKg: number, accounts: Partial<Accounts> = {}, given: Given = {}): Accounts {
  const input = shown({ ...given, accounts: { weighedFirst: weighing(8), ...accounts } });
  return recovered(input.accounts, moreKg, weighing(8.3, { atMs: NOW_MS }), input);
}
const grams = (kg: number | undefined): number => (kg ?? Number.NaN) * 1_000;

/**
 * In g²: the scale 0.1125 (means 0.08, span 0.0081, creep 0.0144, warmth 0.01), the coil 0.25, less half of what both share;
 * the machine 0.25.
 */
const STATED_G = 2 * Math.sqrt(0.1125 + 0.25 - 0.5 * Math.sqrt(0.1125 * 0.25) + 0.25);

describe('What has been recovered', () => {
  test('adds up, from the first weighing on', () => {
    expect(grams(booked(0.3).recoveredKg)).toBeCloseTo(300, 6);
    expect(grams(booked(0.1, { recoveredKg: 0.2 }).recoveredKg)).toBeCloseTo(300, 6);
    expect(booked(0.3).recoveredOverMs).toBe(600_000);
    expect(booked(0.3).weighed).toEqual(weighing(8.3, { atMs: NOW_MS }));
    expect(booked(0.3, { weighedFirst: undefined }).recoveredOverMs).toBe(0);
  });

  test('is as sure as scale, coil and machine are, and the errors of scale and coil partly cancel', () => {
    expect(grams(booked(0.3).recoveredUncertaintyKg)).toBeCloseTo(STATED_G, 6);
  });

  test('that went back beyond any doubt is doubted by as much', () => {
    expect(grams(booked(-0.0014).recoveredUncertaintyKg)).toBeCloseTo(STATED_G, 6);
    expect(grams(booked(-0.002).recoveredUncertaintyKg)).toBeCloseTo(STATED_G + 2, 6);
  });

  test('counts what hoses and machine hold under pressure, once', () => {
    const pressed = { seen: { highSidePa: 300_000, lowSidePa: 300_000, manifoldPa: undefined } };
    // Vapour of 14.8 kg/m³ less 2 that a finished draw leaves, in 126 mL and half of the separator's 0.4 L: 4.2 g.
    const under = grams(booked(0.3, {}, pressed).underPressureKg);
    expect(under).toBeGreaterThan(4);
    expect(under).toBeLessThan(4.4);
    expect(grams(booked(0.3, {}, pressed).recoveredKg)).toBeCloseTo(300 + under, 6);
    expect(grams(booked(0.3, { underPressureKg: 0.004 }).recoveredKg)).toBeCloseTo(296, 6);
    expect(booked(0.3, {}, pressed).recoveredUncertaintyKg).toBeGreaterThan(
      booked(0.3).recoveredUncertaintyKg!,
    );
  });
});

describe('A zero that is found to run away', () => {
  /** Stated to 1 g over ten minutes; 1 mg a second over them is 0.5 g, one deviation. */
  const stated: Accounts = {
    ...shown().accounts,
    recoveredKg: 0.3,
    recoveredUncertaintyKg: 0.001,
    recoveredOverMs: 600_000,
  };
  const DRIFT_G2 = (0.835 * 0.6) ** 2;
  const doubted = (knownKgPerS: number, kgPerS: number, accounts = stated) =>
    inDoubtOf(accounts, knownKgPerS, kgPerS);

  test('puts what was booked before in as much doubt as what comes', () => {
    expect(grams(doubted(0, 1e-6).recoveredUncertaintyKg)).toBeCloseTo(Math.sqrt(1 + 4 * DRIFT_G2), 6);
    expect(grams(doubted(5e-7, 1e-6).recoveredUncertaintyKg)).toBeCloseTo(Math.sqrt(1 + 3 * DRIFT_G2), 6);
  });

  test('no faster than it was known to changes nothing', () => {
    expect(doubted(1e-6, 1e-6)).toBe(stated);
    expect(doubted(1e-6, 5e-7)).toBe(stated);
  });

  test('doubts nothing that was never stated', () =>
    expect(
      doubted(0, 1e-6, { ...stated, recoveredUncertaintyKg: undefined }).recoveredUncertaintyKg,
    ).toBeUndefined());

  test('doubts the recovery before a leak check as well', () => {
    const { cycles, recoveredKg, recoveredUncertaintyKg, recoveredOverMs } = stated;
    const recoveryBefore = { cycles, recoveredKg, recoveredUncertaintyKg, recoveredOverMs };
    const both = doubted(0, 1e-6, { ...stated, recoveryBefore });
    expect(grams(both.recoveryBefore?.recoveredUncertaintyKg)).toBeCloseTo(Math.sqrt(1 + 4 * DRIFT_G2), 6);
    expect(grams(both.recoveredUncertaintyKg)).toBeCloseTo(Math.sqrt(1 + 4 * DRIFT_G2), 6);
  });
});

test('The oil of a vehicle keeps 0.9 g of more than 50 g, and next to nothing of less', () => {
  expect(residueKg({ recoveredKg: 0.0501 })).toBe(0.0009);
  expect(residueKg({ recoveredKg: 0.05 })).toBe(0);
  expect(residueKg({ recoveredKg: undefined })).toBe(0);
});
