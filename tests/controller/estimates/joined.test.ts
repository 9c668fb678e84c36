// The two side sensors, held against each other while both hoses are joined.

import { describe, expect, test } from 'vitest';
import { type Joined, NEVER_JOINED, watchJoined, watchLeap } from '../../../controller/estimates/joined.ts';
import { gainOf, type Weighing } from '../../../controller/estimates/masses.ts';
import { phantomPa } from '../../../controller/estimates/pressures.ts';
import type { Seen } from '../../../controller/estimates/seen.ts';
import { commandsOf, OFF, ON, type Output } from '../../../controller/signals.ts';
import { EQUIPMENT } from '../support/machine.ts';
import { TANK_KG, weighingOf } from '../support/weighings.ts';

const on = (...outputs: readonly Output[]) => commandsOf((output) => (outputs.includes(output) ? ON : OFF));
const JOINED = on('highSideValve', 'lowSideValve');

const watched = (
  seconds: number,
  sides: { readonly highSidePa?: number; readonly lowSidePa?: number },
  permitted = JOINED,
  from: Joined = NEVER_JOINED,
): Joined => {
  let watch = from;
  for (let s = 0; s <= seconds; s++)
    watch = watchJoined(
      watch,
      permitted,
      { highSidePa: undefined, lowSidePa: undefined, ...sides },
      EQUIPMENT,
      1000 * s,
    );
  return watch;
};
const STUCK = { highSidePa: 559_000, lowSidePa: 28_000 };

test('the mean of the hoses has not moved where a sensor of the two has fallen silent, or is heard again', () => {
  const sides = (highSidePa: number | undefined, lowSidePa: number | undefined): Seen =>
    ({ highSidePa, lowSidePa }) as Seen;
  expect(phantomPa(sides(950e3, 200e3), sides(950e3, undefined))).toBe(375e3);
  expect(phantomPa(sides(950e3, undefined), sides(950e3, 200e3))).toBe(-375e3);
  expect(phantomPa(sides(950e3, 200e3), sides(undefined, 200e3))).toBe(-375e3);
  // Pressure that comes in is none, and a side beyond its span with it.
  expect(phantomPa(sides(100e3, 100e3), sides(1600e3, undefined))).toBe(0);
  expect(phantomPa(sides(950e3, 200e3), sides(940e3, 210e3))).toBe(0);
  expect(phantomPa(undefined, sides(950e3, undefined))).toBe(0);
});

describe('Joined hoses', () => {
  test('that stand apart for longer than they need to even out show a sensor that is not to be believed', () => {
    expect(watched(30, STUCK).apartPa).toBe(531_000);
    expect(watched(10, STUCK).apartPa).toBe(0);
  });
  test('may differ by what the sensors are off by', () => {
    expect(watched(30, { highSidePa: 44_000, lowSidePa: 28_000 }).apartPa).toBe(0);
  });
  test('tell nothing while anything flows, one of them is shut, or a sensor is silent', () => {
    expect(watched(30, STUCK, on('highSideValve', 'lowSideValve', 'recoveryValve')).apartPa).toBe(0);
    expect(watched(30, STUCK, on('highSideValve')).apartPa).toBe(0);
    expect(watched(30, { highSidePa: 559_000 }).apartPa).toBe(0);
  });
  test('keep in doubt what is weighed after them, until they agree again', () => {
    const apart = watched(30, STUCK);
    const later = watched(30, STUCK, on('recoveryValve'), apart);
    expect(later.apartPa).toBe(531_000);
    expect(watched(30, { highSidePa: 30_000, lowSidePa: 28_000 }, JOINED, later).apartPa).toBe(0);
  });
  test('cost a gain the force of what one of them may really have', () => {
    const weighing = (hoseDoubtPa: number): Weighing => weighingOf(TANK_KG, { hoseDoubtPa });
    const sdKg = (before: number, after: number): number =>
      gainOf(weighing(before), weighing(after), EQUIPMENT, { kgPerPa: 7e-8, sdKgPerPa: 0 }).sdKg;
    expect(sdKg(0, 265_000)).toBeGreaterThan(0.018);
    // Stuck at both weighings it is off by the same.
    expect(sdKg(265_000, 265_000)).toBe(sdKg(0, 0));
  });
});

describe('Sides that leap with both hoses shut', () => {
  const leapt = (highPa: number, lowPa: number, permitted = on(), watch = NEVER_JOINED): number =>
    watchLeap(
      watch,
      permitted,
      { highSidePa: 500_000, lowSidePa: 300_000 },
      { highSidePa: 500_000 + highPa, lowSidePa: 300_000 + lowPa },
    ).apartPa;

  test('one up and one down by more than 50 kPa from one reading to the next, are not to be believed', () => {
    expect(leapt(-275_000, 50_001)).toBe(275_000);
    expect(leapt(60_000, -90_000)).toBe(90_000);
    expect(leapt(-50_000, 90_000)).toBe(0);
    expect(leapt(-90_000, 50_000)).toBe(0);
    expect(leapt(-60_000, 90_000, on(), { ...NEVER_JOINED, apartPa: 200_000 })).toBe(200_000);
  });

  test('both the same way show a coupler that is opened, and with a hose open a flow', () => {
    expect(leapt(275_000, 90_000)).toBe(0);
    expect(leapt(-275_000, 90_000, on('highSideValve'))).toBe(0);
    expect(leapt(-275_000, 90_000, on('lowSideValve'))).toBe(0);
  });

  test('or one alone, unread before or now, tell nothing', () => {
    const now = { highSidePa: 225_000, lowSidePa: 390_000 };
    const leaps = (before: Partial<typeof now> | undefined, sides: Partial<typeof now> = now): number =>
      watchLeap(NEVER_JOINED, on(), before && { highSidePa: undefined, lowSidePa: undefined, ...before }, {
        highSidePa: undefined,
        lowSidePa: undefined,
        ...sides,
      }).apartPa;
    expect(leaps({ highSidePa: 500_000, lowSidePa: 300_000 })).toBe(275_000);
    expect(leaps(undefined)).toBe(0);
    expect(leaps({ highSidePa: 500_000 })).toBe(0);
    expect(leaps({ lowSidePa: 300_000 })).toBe(0);
    expect(leaps({ highSidePa: 500_000, lowSidePa: 300_000 }, { lowSidePa: 390_000 })).toBe(0);
    expect(leaps({ highSidePa: 500_000, lowSidePa: 300_000 }, { highSidePa: 225_000 })).toBe(0);
    expect(watchLeap(NEVER_JOINED, undefined, { highSidePa: 500_000, lowSidePa: 300_000 }, now)).toBe(
      NEVER_JOINED,
    );
  });
});
