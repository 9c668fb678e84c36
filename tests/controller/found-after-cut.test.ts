// What the scale shows after a cut: refrigerant that what was open can have brought, or something on the platform.

import { describe, expect, test } from 'vitest';
import { foundAfterCut } from '../../controller/found-after-cut.ts';
import { type Moment, momentOf } from './support/moment.ts';
import { weighingOf } from './support/weighings.ts';

/** 8 kg when the journal was last written, a quarter of an hour after the start; everything shut since long before. */
const SHUT: Moment = {
  values: { highSidePressurePa: 101_325, lowSidePressurePa: 101_325 },
  scale: { counts: 2_100_000 },
  memory: { lastScanMs: 900_000, compressorOffSinceMs: 100_000 },
};
const found = (moment: Moment, nowKg: number, opening: readonly string[] = []) =>
  foundAfterCut(momentOf({ ...SHUT, ...moment }), opening, undefined, weighingOf(nowKg, { atMs: 960_000 }));
/** Of which changes it is said that what was open explains them, kg. */
const explains = (moment: Moment, opening: readonly string[] = []) =>
  [-0.51, -0.49, -0.011, -0.009, 0.009, 0.011, 0.49, 0.51].filter(
    (kg) => found(moment, 8 + kg, opening)!.isExplained,
  );
const NOTHING = [-0.009, 0.009];
const INTO = [-0.009, 0.009, 0.011, 0.49];
const OUT = [-0.49, -0.011, -0.009, 0.009];

describe('What the tank shows more or less', () => {
  test('is the difference of two looks, what leant on it before left out', () => {
    const { massKg, sdKg } = found({}, 8.2)!;
    expect(massKg).toBeCloseTo(0.2, 6);
    // A look of twice 0.4 g, a mean of 0.2 g, a bump of 2 g that nobody saw, and 0.1 g of hidden warmth.
    expect(sdKg).toBeCloseTo(Math.hypot(0.0008, 0.0002, 0.002, 0.0001), 5);
    const leaning = { scale: { counts: 2_400_000, offsetKg: 3, bumps: 5, undecidedVarianceKg2: 1e-4 } };
    expect(found(leaning, 11.2)).toEqual({
      massKg: expect.closeTo(0.2, 6),
      sdKg: expect.closeTo(sdKg, 9),
      isExplained: false,
    });
  });

  test('with everything shut is explained up to the doubt of both looks', () => {
    expect(explains({})).toEqual(NOTHING);
    // A room that may have warmed by ten degrees: three times 10 g.
    const warmed = weighingOf(8.029, { ambientK: 303.15 });
    expect(foundAfterCut(momentOf(SHUT), [], undefined, warmed)!.isExplained).toBe(true);
    expect(foundAfterCut(momentOf(SHUT), [], undefined, { ...warmed, ambientK: 293.15 })!.isExplained).toBe(
      false,
    );
  });

  test('may have come through a path that was open, or still arrived of one', () => {
    expect(explains({ scale: { ...SHUT.scale, path: 'into-tank' } })).toEqual(INTO);
    expect(explains({ scale: { ...SHUT.scale, underWay: 'into-tank' } })).toEqual(INTO);
    expect(explains({ scale: { ...SHUT.scale, path: 'out-of-tank' } })).toEqual(OUT);
    expect(explains({ scale: { ...SHUT.scale, underWay: 'out-of-tank' } })).toEqual(OUT);
  });

  test.each(['recoveryValve', 'compressor'])('may have come by what was about to be opened: %s', (output) =>
    expect(explains({}, ['vacuumPump', output])).toEqual(INTO),
  );

  test.each(['chargeValve', 'airPurgeValve'])('or have gone by it: %s', (output) =>
    expect(explains({}, ['vacuumPump', output])).toEqual(OUT),
  );

  test('NOT by what leads to no tank', () =>
    expect(explains({}, ['vacuumValve', 'highSideValve'])).toEqual(NOTHING));

  test('may drip out of the condenser for five minutes after its compressor', () => {
    const stood = (ms: number | undefined) =>
      explains({
        memory: { lastScanMs: 900_000, compressorOffSinceMs: ms === undefined ? undefined : 900_000 - ms },
      });
    expect(stood(299_999)).toEqual(INTO);
    expect(stood(300_000)).toEqual(NOTHING);
    expect(stood(undefined)).toEqual(INTO);
  });
});

describe('Where one of the looks is not to be had', () => {
  test('nothing is found', () => {
    expect(foundAfterCut(momentOf(SHUT), [], undefined, undefined)).toBeUndefined();
    expect(found({ scale: { ...SHUT.scale, trust: 'disturbed' } }, 8.2)).toBeUndefined();
    expect(found({ state: { seen: undefined } }, 8.2)).toBeUndefined();
  });

  test('a weighing may stand in the place of the journal', () => {
    const known = weighingOf(8.1, { offsetKg: 0.01, bumps: 3 });
    const blind = momentOf({ ...SHUT, state: { seen: undefined } });
    expect(foundAfterCut(blind, [], known, weighingOf(8.3))!.massKg).toBeCloseTo(0.2, 6);
    expect(foundAfterCut(momentOf(SHUT), [], known, weighingOf(8.3))!.massKg).toBeCloseTo(0.2, 6);
  });
});

test('Hoses that pressed at the last look and do no more are reckoned with, and make it less sure', () => {
  const hoseForce = { kgPerPa: 2e-8, sdKgPerPa: 4e-9 };
  const pressed = {
    accounts: { hoseForce },
    values: { highSidePressurePa: 601_325, lowSidePressurePa: 601_325 },
    estimates: { joined: { sinceMs: undefined, apartPa: 100_000 } },
  };
  const { massKg, sdKg } = found(pressed, 8)!;
  expect(massKg).toBeCloseTo(0.01, 9);
  // 5 bar of which each is known to 0.4 g, and half of 1 bar in which the sides do not agree.
  expect(sdKg).toBeCloseTo(Math.hypot(0.002, 0.001, 0.0008, 0.0002, 0.002), 4);
});

test('A cell that was warm and a zero that ran away make the last look less sure', () => {
  const sdKg = (estimates: Moment['estimates']) => found({ estimates: estimates! }, 8)!.sdKg;
  const calm = sdKg({});
  expect(sdKg({ cellWarmerK: 5 })).toBeCloseTo(Math.hypot(calm, 0.005), 4);
  // A milligram a second over the minute since, and five sixths of that.
  expect(sdKg({ drift: { kgPerS: 1e-4, from: undefined } })).toBeCloseTo(Math.hypot(calm, 0.005), 4);
});
