// Whether the compressor has drawn what its displacement says, and what that leaves in the coil.
import { describe, expect, test } from 'vitest';
import { type DrawCount, startCount } from '../../../controller/estimates/condenser.ts';
import {
  drewNothing,
  type GaugeWord,
  type Suction,
  shareDrawn,
  watchSuction,
} from '../../../controller/estimates/draw-proof.ts';
import {
  type Kept,
  keptAfterRun,
  keptChangeSdKg,
  keptOf,
  NOTHING_KEPT,
} from '../../../controller/estimates/kept.ts';
import { EQUIPMENT } from '../support/machine.ts';

const READ = { suctionPa: 300_000, suctionSdShare: 0, running: true };
const SUCTION: Suction = { mostPa: 300_000, fell: false, guessed: false, gauge: 'none' };

describe('The suction of a run', () => {
  test('has fallen when it is a tenth below the highest since the compressor came on', () => {
    const fell = (suctionPa: number) => watchSuction(SUCTION, { ...READ, suctionPa })!.fell;
    expect(fell(270_000)).toBe(false);
    expect(fell(269_999)).toBe(true);
  });

  test('counts from its highest while it runs, and from now while it stands', () => {
    const most = (suctionPa: number, running = true) =>
      watchSuction(SUCTION, { ...READ, suctionPa, running })!.mostPa;
    expect(most(310_000)).toBe(310_000);
    expect(most(290_000)).toBe(300_000);
    expect(most(200_000, false)).toBe(200_000);
    expect(watchSuction(SUCTION, { ...READ, suctionPa: 200_000, running: false })!.fell).toBe(false);
    expect(watchSuction(undefined, READ)).toEqual(SUCTION);
  });

  test('is not known without a sensor: what was known stands', () => {
    expect(watchSuction(SUCTION, { ...READ, suctionPa: undefined })).toBe(SUCTION);
    expect(watchSuction(undefined, { ...READ, suctionPa: undefined })).toBeUndefined();
  });

  test('was a guess from the first doubt on: in the pressure itself, or in which side is drawn on', () => {
    expect(watchSuction(SUCTION, { ...READ, suctionSdShare: 0.1 })!.guessed).toBe(true);
    expect(watchSuction(SUCTION, { ...READ, suctionApart: true })!.guessed).toBe(true);
    expect(watchSuction({ ...SUCTION, guessed: true }, READ)!.guessed).toBe(true);
    expect(watchSuction(SUCTION, READ)!.guessed).toBe(false);
  });

  const word = (gauge: GaugeWord, more: Partial<Parameters<typeof watchSuction>[1]> = {}): GaugeWord =>
    watchSuction({ ...SUCTION, gauge }, { ...READ, ...more })!.gauge;

  test("is a gauge's word alone while the compressor runs and nothing else tells of it", () => {
    expect(word('none', { suctionByGauge: true })).toBe('alone');
    expect(word('none', { suctionByGauge: true, running: false })).toBe('none');
    expect(word('heard', { suctionByGauge: true })).toBe('alone');
    expect(word('none', { suctionDenied: true })).toBe('none');
  });

  test('is denied for good where the absolute sensor says something else the moment it can, and not later', () => {
    expect(word('alone', { suctionDenied: true })).toBe('denied');
    expect(word('alone', { suctionDenied: true, running: false })).toBe('alone');
    expect(word('alone', { suctionDenied: true, suctionByGauge: true })).toBe('alone');
    expect(word('alone')).toBe('heard');
    expect(word('heard', { suctionDenied: true })).toBe('heard');
    expect(word('denied')).toBe('denied');
    expect(word('denied', { suctionByGauge: true })).toBe('denied');
  });

  test('that has fallen stays so, and goes on learning of doubts', () => {
    const fallen = { ...SUCTION, fell: true };
    expect(watchSuction(fallen, { ...READ, suctionPa: 400_000 })).toBe(fallen);
    expect(watchSuction(fallen, { ...READ, suctionSdShare: 0.1 })).toEqual({ ...fallen, guessed: true });
    expect(watchSuction(fallen, { ...READ, suctionByGauge: true })).toEqual({ ...fallen, gauge: 'alone' });
  });
});

/** A run of 100 g by displacement, none of it pushed out. */
const run = (over: Partial<DrawCount> = {}): DrawCount => ({
  ...startCount(0),
  totalKg: 0.1,
  drawnKg: 0.1,
  suction: SUCTION,
  ...over,
});

describe('A run that drew nothing', () => {
  test('never had its suction fall, and less than a fifth of its displacement has come', () => {
    expect(drewNothing(run(), 0.0199, 0)).toBe(true);
    expect(drewNothing(run(), 0.0201, 0)).toBe(false);
    expect(drewNothing(run({ suction: { ...SUCTION, fell: true } }), 0, 0)).toBe(false);
    expect(drewNothing(run({ suction: undefined }), 0, 0)).toBe(false);
    expect(drewNothing(run({ fromShownKg: 0.05 }), 0.0699, 0)).toBe(true);
    expect(drewNothing(run({ fromShownKg: 0.05 }), 0.0701, 0)).toBe(false);
  });

  test('allows for two deviations of the scale, and proves nothing with less than 3 g', () => {
    expect(drewNothing(run(), 0.0299, 0.015)).toBe(true);
    expect(drewNothing(run(), 0.03, 0.015)).toBe(false);
    expect(drewNothing(run({ totalKg: 0.003 }), 0, 0)).toBe(false);
    expect(drewNothing(run({ totalKg: 0.0031 }), 0, 0)).toBe(true);
  });
});

describe('A worn compressor', () => {
  const KNOWN = { kg: 0.01, share: 0.7 };
  /** Pushed empty after 100 g, of which the scale shows so much, the 10 g of before beside. */
  const share = (shownKg: number, over: Partial<DrawCount> = {}) =>
    shareDrawn(run({ pushedEmpty: true, totalKg: 0.1, drawnKg: 0, shownKg, ...over }), KNOWN);

  test('brings less than four fifths of its displacement; a sound one all of it', () => {
    expect(share(0.0899)).toBeCloseTo(0.799, 9);
    expect(share(0.0901)).toBe(1);
    expect(share(0.06)).toBeCloseTo(0.5, 9);
    expect(share(0.005)).toBe(0);
    expect(share(0.16, { fromShownKg: 0.1 })).toBeCloseTo(0.5, 9);
  });

  test('is known as before where the coil was not pushed empty, or too little had come', () => {
    expect(share(0.06, { pushedEmpty: false })).toBe(0.7);
    expect(share(0.03, { totalKg: 0.06 })).toBeCloseTo(1 / 3, 9);
    expect(share(0.03, { totalKg: 0.0599 })).toBe(0.7);
    expect(share(0.06, { totalKg: 0.15, drawnKg: 0.05 })).toBeCloseTo(0.5, 9);
  });

  test('or where its suction was a guess', () => {
    expect(share(0.06, { suction: { ...SUCTION, guessed: true } })).toBe(0.7);
    expect(share(0.06, { suction: undefined })).toBe(0.7);
  });
});

describe('What stays in the coil', () => {
  const BEFORE: Kept = { kg: 0.01, sdKg: 0.002, pushes: 3, share: 1 };
  /** Full of cold liquid: 0.12 L at 1295 kg/m³. */
  const MOST_KG = 0.1554;

  test('is what was there and came and did not arrive, up to a coil full', () => {
    expect(keptOf(BEFORE, 0.03, 0.025, 0.001, EQUIPMENT)).toEqual({
      kg: expect.closeTo(0.015, 12),
      sdKg: expect.closeTo(Math.hypot(0.002, 0.001), 12),
      pushes: 3,
      share: 1,
    });
    expect(keptOf(BEFORE, 1, 0, 0, EQUIPMENT).kg).toBeCloseTo(MOST_KG, 12);
    expect(keptOf(BEFORE, 0.03, -0.5, 0, EQUIPMENT).kg).toBeCloseTo(0.04, 12);
  });

  test('is nothing where more has arrived than was there: liquid has come and swept it out', () => {
    const swept = keptOf({ ...BEFORE, share: 0.7 }, 0.03, 0.0401, 0.001, EQUIPMENT);
    expect(swept).toEqual({
      kg: 0,
      sdKg: expect.closeTo(Math.hypot(0.0005, 0.001), 12),
      pushes: 4,
      share: 0.7,
    });
    expect(keptOf({ ...BEFORE, kg: 0.5 }, 0.25, 0.75, 0, EQUIPMENT)).toMatchObject({ kg: 0, pushes: 3 });
  });

  test('after a run that drew nothing is what it was, a little less surely', () => {
    const still = keptAfterRun(run(), { kg: 0, sdKg: 0.0004 }, BEFORE, EQUIPMENT);
    expect(still).toEqual({ ...BEFORE, sdKg: expect.closeTo(Math.hypot(0.002, 0.0004, 0.0003), 12) });
  });

  const DREW = { ...SUCTION, fell: true };

  test('after one that pushed it empty is what came since and did not arrive', () => {
    const pushed = run({ suction: DREW, pushedEmpty: true, drawnKg: 0.02, drawnSdKg: 0.001, shownKg: 0.1 });
    const kept = keptAfterRun(pushed, { kg: 0.115, sdKg: 0.0004 }, BEFORE, EQUIPMENT);
    expect(kept).toEqual({
      kg: expect.closeTo(0.005, 12),
      sdKg: expect.closeTo(Math.hypot(0.0005, 0.001, 0.0004, 0.0003), 12),
      pushes: 4,
      share: 1,
    });
  });

  test('of a worn compressor is its share of that, and a tenth of it less sure', () => {
    const worn = run({
      suction: DREW,
      pushedEmpty: true,
      totalKg: 0.12,
      drawnKg: 0.02,
      drawnSdKg: 0.001,
      shownKg: 0.06,
    });
    // 60 g shown of 100, 10 of which were there before: half.
    const kept = keptAfterRun(worn, { kg: 0.06, sdKg: 0.0004 }, BEFORE, EQUIPMENT);
    expect(kept.share).toBeCloseTo(0.5, 12);
    expect(kept.kg).toBeCloseTo(0.01, 12);
    const drawnSdKg = 0.5 * 0.001 + 0.1 * 0.01;
    expect(kept.sdKg).toBeCloseTo(Math.hypot(0.0005, drawnSdKg, 0.0004, 0.0003), 12);
  });

  test('of a trickle is weighed between nothing and all of it with what the scale shows', () => {
    const trickle = run({ suction: DREW, totalKg: 0.004, drawnKg: 0.004, drawnSdKg: 0.0001, shownKg: 0.05 });
    // Half of it has 2 g, and the coil's own 2 g beside; the scale is off by 4 g: as much weight to either.
    const sdKg = Math.sqrt(0.004 ** 2 - 0.0003 ** 2);
    const kept = keptAfterRun(trickle, { kg: 0.053, sdKg }, BEFORE, EQUIPMENT);
    expect(kept.kg).toBeCloseTo(0.01 + 0.004 - (0.002 + 0.5 * (0.003 - 0.002)), 12);
    expect(kept.sdKg).toBeCloseTo(Math.hypot(0.002, 0.0001, Math.sqrt(0.5) * 0.004), 12);
    expect(kept.pushes).toBe(3);
  });

  test('changes between two weighings by what is new in it, or by both where it was pushed out', () => {
    const later = { ...BEFORE, sdKg: 0.0025 };
    expect(keptChangeSdKg(BEFORE, later)).toBeCloseTo(0.0015, 12);
    expect(keptChangeSdKg(later, BEFORE)).toBe(0);
    expect(keptChangeSdKg(BEFORE, { ...later, pushes: 4 })).toBeCloseTo(Math.hypot(0.002, 0.0025), 12);
    expect(NOTHING_KEPT).toMatchObject({ kg: 0, pushes: 0, share: 1 });
  });
});
