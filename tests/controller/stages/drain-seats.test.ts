// A pulse into the closed manifold, and the hoses behind their shut valves: who follows it does not shut.
import { describe, expect, test } from 'vitest';
import { NOTHING_PASSED, openSeat, passedOn } from '../../../controller/stages/drain-seats.ts';

const KPA = 1_000;
const BEFORE = { manifoldPa: 30 * KPA, highSidePa: 28 * KPA, lowSidePa: 32 * KPA };

/** As after a pulse that raised the manifold by 50 kPa, and the hoses by so much. */
const pulsed = (highKpa: number, lowKpa: number, manifoldKpa = 50) => ({
  manifoldPa: BEFORE.manifoldPa + manifoldKpa * KPA,
  highSidePa: BEFORE.highSidePa + highKpa * KPA,
  lowSidePa: BEFORE.lowSidePa + lowKpa * KPA,
});

const twice = (now: Parameters<typeof passedOn>[2], before: Parameters<typeof passedOn>[1] = BEFORE) =>
  openSeat(passedOn(passedOn(NOTHING_PASSED, before, now), before, now));

describe('A hose valve told to be shut', () => {
  test('shuts where its hose stays as it was', () => expect(twice(pulsed(0, 0))).toBeUndefined());

  test('does not shut where its hose comes up nearly as far as the manifold, in two pulses', () => {
    expect(twice(pulsed(46, 2))).toBe('high-side');
    expect(twice(pulsed(2, 46))).toBe('low-side');
    expect(twice(pulsed(46, 46))).toBe('high-side and the low-side');
  });

  test('is not accused by one pulse, nor by one of each side', () => {
    const high = passedOn(NOTHING_PASSED, BEFORE, pulsed(46, 0));
    expect(openSeat(high)).toBeUndefined();
    expect(openSeat(passedOn(high, BEFORE, pulsed(0, 46)))).toBeUndefined();
  });

  test('is not accused of the part that a lifted seat lets through', () => {
    expect(twice(pulsed(30, 30))).toBeUndefined();
    expect(twice(pulsed(30.1, 0))).toBe('high-side');
  });

  test('is not judged by a pulse that hardly raised the manifold', () => {
    expect(twice(pulsed(19, 19, 19.9))).toBeUndefined();
    expect(twice(pulsed(19, 0, 20))).toBe('high-side');
  });

  test('is not judged by what nobody read', () => {
    expect(twice({ ...pulsed(46, 46), manifoldPa: undefined })).toBeUndefined();
    expect(twice(pulsed(46, 46), { ...BEFORE, manifoldPa: undefined })).toBeUndefined();
    expect(twice({ ...pulsed(46, 46), highSidePa: undefined })).toBe('low-side');
    expect(twice(pulsed(46, 46), { ...BEFORE, lowSidePa: undefined })).toBe('high-side');
  });
});
