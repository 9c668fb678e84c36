// A coil that may give up its liquid at once: how much that can be, and what a level on the scale is taken for.
import { describe, expect, test } from 'vitest';
import {
  coilAtStart,
  coilOf,
  coilSince,
  doubt,
  doubting,
  mostArrivedKg,
  type Run,
  sureOfSurge,
  surgeKg,
  underBumpSdKg,
} from '../../../controller/estimates/coil-surge.ts';
import { startCount } from '../../../controller/estimates/condenser.ts';
import { NOTHING_KEPT } from '../../../controller/estimates/kept.ts';
import {
  type Coil,
  openScale,
  type ScaleInput,
  type ScaleState,
} from '../../../controller/estimates/scale-state.ts';

const COUNT = { ...startCount(0), drawnKg: 0.05, totalKg: 0.07, drawnSdKg: 0.003, shownKg: 0.01 };
const KEPT = { ...NOTHING_KEPT, kg: 0.02, sdKg: 0.004 };
/** 50 g drawn since the coil was counted, of which 30 g are on the scale: 40 g in all, 10 g of them before. */
const RUN: Run = { count: COUNT, startKg: 8, lastKg: 8.04, leftKg: 0 };

describe('The coil of a draw', () => {
  const held = (run: Partial<Run> = {}, mostKg = 0.15) => coilOf({ ...RUN, ...run }, KEPT, mostKg);

  test('holds what was there, and what was drawn and has not come', () => {
    expect(held()).toEqual({
      heldKg: expect.closeTo(0.04, 9),
      sdKg: expect.closeTo(0.005, 9),
      drawnKg: 0.07,
      fills: true,
    });
    expect(held({ leftKg: 0.03 })!.heldKg).toBeCloseTo(0.05, 9);
    expect(held({ leftKg: 0.01 })!.heldKg).toBeCloseTo(0.04, 9);
  });

  test('holds nothing of before once it was pushed empty, and then passes on what comes', () => {
    expect(held({ count: { ...COUNT, pushedEmpty: true } })).toMatchObject({
      heldKg: expect.closeTo(0.02, 9),
      sdKg: 0.003,
      fills: false,
    });
  });

  test('holds no more than it has room for, and no less than nothing', () => {
    expect(held({}, 0.03)!.heldKg).toBe(0.03);
    expect(held({ lastKg: 8.09 })!.heldKg).toBe(0);
  });

  test('is not known where more has come than displacement can tell: three deviations and 15 g', () => {
    expect(held({ lastKg: 8.08 + 0.0299 })).toBeDefined();
    expect(held({ lastKg: 8.08 + 0.0301 })).toBeUndefined();
  });

  test('is not known without a count or a weight', () => {
    for (const name of ['count', 'startKg', 'lastKg']) expect(held({ [name]: undefined })).toBeUndefined();
  });
});

const COIL: Coil = { heldKg: 0.04, sdKg: 0.002, drawnKg: 0.07, fills: true };
const input = (coil: Coil | undefined): ScaleInput => ({
  counts: undefined,
  atMs: undefined,
  path: 'into-tank',
  settling: false,
  drawsSinceMs: 0,
  coil,
  hoseGaugePa: 0,
  hoseForceKgPerPa: 0,
  hoseForceSdKgPerPa: 0,
});
const state = (over: Partial<ScaleState> = {}): ScaleState => ({
  ...openScale(),
  trust: 'trusted',
  disturbedFromKg: 8,
  massKg: 8.01,
  coilGivesKg: 0.04,
  coilSdKg: 0.002,
  coilDrawnKg: 0.07,
  coilFills: true,
  ...over,
});

describe('While the platform is disturbed', () => {
  test('the coil may give what it held, and what is drawn since', () => {
    expect(coilAtStart(input(COIL))).toEqual({
      coilGivesKg: 0.04,
      coilSdKg: 0.002,
      coilDrawnKg: 0.07,
      coilFills: true,
    });
    expect(coilAtStart(input(undefined))).toEqual({
      coilGivesKg: undefined,
      coilSdKg: 0,
      coilDrawnKg: 0,
      coilFills: false,
    });
    const since = coilSince(state({ coilFills: false }), input({ ...COIL, drawnKg: 0.09 }));
    expect(since).toEqual({
      coilGivesKg: expect.closeTo(0.06, 9),
      coilSdKg: 0.002,
      coilDrawnKg: 0.09,
      coilFills: true,
    });
  });

  test('another run that counts anew takes nothing off it, and a coil that once filled may still', () => {
    const anew = coilSince(state(), input({ ...COIL, drawnKg: 0.01, fills: false }));
    expect(anew).toEqual({ coilGivesKg: 0.04, coilSdKg: 0.002, coilDrawnKg: 0.01, coilFills: true });
    expect(coilSince(state({ coilFills: false }), input({ ...COIL, fills: false })).coilFills).toBe(false);
  });

  test('nothing is added where it is not known', () => {
    const kept = { coilGivesKg: 0.04, coilSdKg: 0.002, coilDrawnKg: 0.07, coilFills: true };
    expect(coilSince(state(), input(undefined))).toEqual(kept);
    expect(coilSince(state({ coilGivesKg: undefined }), input({ ...COIL, drawnKg: 0.2 }))).toEqual({
      ...kept,
      coilGivesKg: undefined,
    });
  });

  test('the tank can have all that, with three deviations, and a surge is what of it was not reckoned', () => {
    expect(mostArrivedKg(state())).toBeCloseTo(8.046, 9);
    expect(surgeKg(state())).toBeCloseTo(0.036, 9);
    expect(surgeKg(state({ massKg: 7.9 }))).toBeCloseTo(0.046, 9);
    expect(surgeKg(state({ massKg: 8.1 }))).toBe(0);
    expect(mostArrivedKg(state({ coilGivesKg: undefined }))).toBe(Number.POSITIVE_INFINITY);
    expect(surgeKg(state({ coilGivesKg: undefined }))).toBe(0);
  });

  test('half of what a filling coil may have given or kept is in doubt beneath a bump', () => {
    expect(underBumpSdKg(state())).toBeCloseTo(0.018, 9);
    expect(underBumpSdKg(state({ massKg: 8.05 }))).toBeCloseTo(0.025, 9);
    expect(underBumpSdKg(state({ coilFills: false }))).toBe(0);
  });
});

describe('A level that a coil may have given', () => {
  const doubted = (levelKg: number, over: Partial<ScaleState> = {}) =>
    doubting(openScale(), state({ undecidedVarianceKg2: 1e-6, ...over }), levelKg);

  test('is in doubt by half of what it has beyond the reckoning', () => {
    const found = doubted(8.03);
    expect(found.doubtedKg).toBeCloseTo(0.02, 9);
    expect(found.doubtedVarianceKg2).toBeCloseTo(1e-4, 9);
    expect(found.undecidedVarianceKg2).toBeCloseTo(1.01e-4, 9);
    expect(found.doubtedKnocked).toBe(false);
    expect(doubt(state({ undecidedVarianceKg2: 2e-6 }), 0.5, 0.001)).toEqual({
      doubtedKg: 0.5,
      doubtedVarianceKg2: expect.closeTo(1e-6, 12),
      undecidedVarianceKg2: expect.closeTo(3e-6, 12),
    });
  });

  test('is hardly in doubt where whoever knocked has let go, and the coil is empty now', () => {
    const sd = (levelKg: number, mostKg: number, gives = 0.04) =>
      Math.sqrt(doubted(levelKg, { disturbedMostKg: mostKg, coilGivesKg: gives }).doubtedVarianceKg2);
    expect(sd(8.03, 0.0401)).toBeCloseTo(0.002, 9);
    expect(sd(8.03, 0.0399)).toBeCloseTo(0.01, 9);
    expect(doubted(8.03, { disturbedMostKg: 0.0401 }).doubtedKnocked).toBe(true);
    // 12 g may be left in it, and three deviations.
    expect(sd(8.03, 0.1, 0.0479)).toBeCloseTo(0.002, 9);
    expect(sd(8.03, 0.1, 0.0481)).toBeCloseTo(0.01, 9);
    expect(sd(8.012, 0.1)).toBeCloseTo(0.001, 9);
  });
});

describe('What was taken for a surge', () => {
  const KNOCKED = { doubtedKnocked: true, doubtedVarianceKg2: 1e-4, undecidedVarianceKg2: 1.5e-4 };
  const sure = (over: Partial<ScaleState> = {}, coil: Partial<Coil> | undefined = {}) => {
    const before = state({ ...KNOCKED, ...over });
    const after = sureOfSurge(
      before,
      input(coil === undefined ? undefined : { ...COIL, heldKg: 0.012, ...coil }),
    );
    return after === before ? 'as before' : after;
  };

  test('was one, where the coil then comes out as empty', () => {
    const found = sure();
    expect(found).toMatchObject({ trust: 'trusted', doubtedVarianceKg2: 0.002 ** 2 });
    expect(found).toMatchObject({ undecidedVarianceKg2: expect.closeTo(5.4e-5, 9) });
  });

  test('stays in doubt where it does not, or nobody knows', () => {
    expect(sure({}, { heldKg: 0.01201 })).toBe('as before');
    expect(sure({}, { fills: false })).toBe('as before');
    const before = state(KNOCKED);
    expect(sureOfSurge(before, input(undefined))).toBe(before);
  });

  test('and where nobody knocked, little is in doubt, or the scale is not trusted', () => {
    expect(sure({ doubtedKnocked: false })).toBe('as before');
    expect(sure({ doubtedVarianceKg2: 0.002 ** 2 })).toBe('as before');
    expect(sure({ trust: 'disturbed' })).toBe('as before');
  });
});
