// Weighing the tank: how long it must be quiet, what the mean is made of, and when the scale is given up.

import { describe, expect, test } from 'vitest';
import type { WeighingInProgress } from '../../../controller/stages/data-common.ts';
import { stepWeighing, whenWeighed } from '../../../controller/stages/weighing.ts';
import { almostWeighed, type Given, NOW_MS, shown } from '../support/stage-input.ts';
import { codesOf, countsOf, onOf } from '../support/weighings.ts';

const begun = (more: Partial<WeighingInProgress> = {}): WeighingInProgress => ({
  sinceMs: NOW_MS - 5_000,
  quietSinceMs: NOW_MS - 5_000,
  samples: 10,
  sum: 10 * countsOf(8),
  hosePaSum: 0,
  lastAtMs: NOW_MS - 100,
  ...more,
});
const stepped = (before: WeighingInProgress | undefined, given: Given = {}) =>
  stepWeighing(before, shown(given));

describe('A weighing', () => {
  test('begins now, with nothing summed', () =>
    expect(stepped(undefined)).toEqual({
      weighing: { sinceMs: NOW_MS, quietSinceMs: NOW_MS, samples: 0, sum: 0, hosePaSum: 0, lastAtMs: NOW_MS },
    }));

  test('takes readings once the scale has been quiet for three seconds, each of them once', () => {
    const quiet = (ms: number, given: Given = {}) =>
      stepped(begun({ quietSinceMs: NOW_MS - ms }), given).weighing;
    expect(quiet(2_999).samples).toBe(10);
    expect(quiet(3_000)).toMatchObject({ samples: 11, sum: 11 * countsOf(8), lastAtMs: NOW_MS });
    expect(quiet(5_000, { scale: { atMs: NOW_MS - 100 } }).samples).toBe(10);
    expect(quiet(5_000, { scale: { atMs: NOW_MS - 99 } }).samples).toBe(11);
  });

  test('begins anew when somebody touches the platform', () =>
    expect(stepped(begun(), { scale: { trust: 'disturbed', atMs: NOW_MS - 7 } }).weighing).toEqual({
      sinceMs: NOW_MS - 5_000,
      quietSinceMs: NOW_MS,
      samples: 0,
      sum: 0,
      hosePaSum: 0,
      lastAtMs: NOW_MS - 7,
    }));

  test('is done after six seconds of readings', () => {
    const summed = (ms: number) => stepped(begun({ quietSinceMs: NOW_MS - ms })).weighed;
    expect(summed(8_999)).toBeUndefined();
    expect(summed(9_000)).toBeDefined();
  });

  test('is given up after two minutes', () => {
    const old = (ms: number) => stepped(begun({ sinceMs: NOW_MS - ms }));
    expect(old(120_000).failed).toBeUndefined();
    expect(old(120_001).failed).toBe(true);
  });
});

describe('What a weighing states', () => {
  const weighed = (samples: number, given: Given = {}) =>
    stepped({ ...almostWeighed(), samples, sum: samples * countsOf(8) }, given).weighed!;

  test('is the mean of its readings', () =>
    expect(weighed(3, { scale: { counts: countsOf(8.4) } }).counts).toBeCloseTo(countsOf(8.1), 3));

  test('goes with the hoses as they pressed while it was made, not as they press at its end', () => {
    // Under a running engine they swing by bars within its seconds.
    const swung = { ...almostWeighed(), samples: 9, hosePaSum: 9 * 300_000 };
    const seen = { highSidePa: 201_325, lowSidePa: 201_325 };
    expect(stepped(swung, { seen }).weighed!.hoseGaugePa).toBeCloseTo(280_000, 0);
  });

  test('is the surer the more readings it has, and never surer than 0.2 g', () => {
    // 0.4 g of noise, one and a half times as much because medians overlap, by the root of four.
    expect(weighed(3).meanSdKg).toBeCloseTo(0.0003, 9);
    expect(weighed(59).meanSdKg).toBe(0.0002);
  });

  test('keeps with it all that may have moved the scale', () => {
    const scale = { offsetKg: 0.01, bumps: 2, undecidedVarianceKg2: 1e-6 };
    const seen = { highSidePa: 301_325, lowSidePa: 201_325, ambientK: 290 };
    const estimates = {
      joined: { sinceMs: undefined, apartPa: 30_000 },
      cellWarmerK: 0.4,
      drift: { ...shown().estimates.drift, kgPerS: 1e-7 },
    };
    expect(weighed(9, { scale, seen, estimates })).toMatchObject({
      ...scale,
      hoseDoubtPa: 15_000,
      ambientK: 290,
      cellWarmerK: 0.4,
      driftKgPerS: 1e-7,
      atMs: NOW_MS,
    });
  });
});

describe('A stage that weighs', () => {
  const stage = (weighing: WeighingInProgress | undefined) =>
    whenWeighed({ weighing }, shown(), (data, _, { counts }) => ({
      data,
      wanted: shown().permitted,
      result: String(Math.round(counts)),
    }));

  test('keeps everything shut and remembers how far it is', () => {
    const step = stage(begun());
    expect(onOf(step.wanted)).toEqual([]);
    expect(step.data.weighing?.samples).toBe(11);
    expect(step.event).toBeUndefined();
  });

  test('goes on with what was weighed', () => expect(stage(almostWeighed()).result).toBe('2100000'));

  test('ends where the scale does not come to rest, and says so', () => {
    const lost = stage(begun({ sinceMs: NOW_MS - 130_000 }));
    expect(lost).toMatchObject({ event: 'scale-lost', notices: [{ with: { minutes: '2' } }] });
    expect(codesOf(lost)).toEqual(['scale-lost']);
    expect(onOf(lost.wanted)).toEqual([]);
  });
});
