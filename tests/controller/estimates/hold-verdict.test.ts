// The verdict of a hold at its limits: a rise given by its figures, at each limit exactly and just beyond.
import { describe, expect, test } from 'vitest';
import {
  agrees,
  type Circumstances,
  causeOf,
  gasSeen,
  isGross,
  isHigh,
  isSaturated,
  isSharp,
  isVacuumLost,
  mayBeLeak,
  type Rise,
  riseOf,
  verdictOf,
} from '../../../controller/estimates/hold-verdict.ts';
import { TRIPLE_POINT_PA, waterVapourPa } from '../../../controller/estimates/water.ts';
import { HOLD } from '../../../controller/targets/vacuum.ts';
import { rise } from '../support/rises.ts';

const AT: Circumstances = {
  limits: HOLD,
  final: true,
  opened: false,
  barometerPa: 101_325,
  gas: 'unknown',
  saturated: false,
};
const verdict = (over: Partial<Rise>, at: Partial<Circumstances> = {}) =>
  verdictOf(rise(over), { ...AT, ...at });

describe('A rise is judged', () => {
  test('tight where it leaves room for no slope that proves anything, though it be watched longer', () => {
    const calm = { mostPaPerS: 0.02, slopePaPerS: 0.01 };
    expect(verdict(calm)).toBe('tight');
    expect(verdict(calm, { final: false })).toBe('tight');
    expect(verdict({ ...calm, mostPaPerS: 0.0201 }, { final: false })).toBe('inconclusive');
    expect(verdict({ ...calm, plateauPa: 1_000 })).toBe('outgassing');
  });

  test('by its noise where its slope is within three deviations', () => {
    const noisy = { slopePaPerS: 0.1, slopeSdPaPerS: 0.034 };
    expect(verdict({ ...noisy, mostPaPerS: 0.33 })).toBe('tight');
    expect(verdict({ ...noisy, mostPaPerS: 0.331 })).toBe('inconclusive');
    expect(verdict({ ...noisy, mostPaPerS: 0.33, plateauPa: 1_000 })).toBe('outgassing');
    // At three deviations exactly it is a slope.
    expect(verdict({ slopePaPerS: 0.75, slopeSdPaPerS: 0.25, mostPaPerS: 1.5 })).toBe('outgassing');
  });

  test('tight up to 10 kg a year that may hide in it, and given off beyond', () => {
    const slow = { slopePaPerS: 0.03, slopeSdPaPerS: 0.001 };
    expect(verdict({ ...slow, mostPaPerS: 0.035 })).toBe('tight');
    expect(verdict({ ...slow, mostPaPerS: 0.0351 })).toBe('outgassing');
    expect(verdict({ ...slow, mostPaPerS: 0.035, plateauPa: 1_000 })).toBe('outgassing');
  });

  test('a leak where it is straight, or faster than any oil, unless it is water', () => {
    expect(verdict({ course: 'straight' })).toBe('leak');
    expect(verdict({ course: 'straight' }, { gas: 'water' })).toBe('outgassing');
    expect(verdict({ course: 'straight', mostPaPerS: 0.03, slopePaPerS: 0.025 }, { gas: 'water' })).toBe(
      'tight',
    );
    expect(verdict({})).toBe('outgassing');
    expect(verdict({ slopePaPerS: 3, meanSlopePaPerS: 3, mostPaPerS: 3.1 })).toBe('leak');
    expect(verdict({ slopePaPerS: 2.99, meanSlopePaPerS: 2.99, mostPaPerS: 3.1 })).toBe('outgassing');
  });

  test('by its speed where nobody can tell whether it tires', () => {
    const unsure = (slopePaPerS: number, opened: boolean) =>
      verdict({ course: 'unsure', slopePaPerS, mostPaPerS: slopePaPerS + 0.1 }, { opened });
    expect(unsure(1, false)).toBe('outgassing');
    expect(unsure(1.01, false)).toBe('leak');
    expect(unsure(0.33, true)).toBe('outgassing');
    expect(unsure(0.331, true)).toBe('leak');
    expect(verdict({ slopePaPerS: 1.5, mostPaPerS: 1.6 })).toBe('outgassing');
  });

  test('a leak where the vacuum is gone, and inconclusive where there was none to watch', () => {
    expect(verdict({ endPa: 101_000, mostPaPerS: 0 }, { final: false })).toBe('leak');
    expect(verdictOf(undefined, AT)).toBe('inconclusive');
  });
});

describe('A pressure', () => {
  test('is high from a kilopascal on, or where water may stand at it, unless the sensors see another gas', () => {
    expect(isHigh(rise({ plateauPa: 1_000 }), AT)).toBe(true);
    expect(isHigh(rise({ plateauPa: 999 }), AT)).toBe(false);
    expect(isHigh(rise(), { ...AT, saturated: true })).toBe(true);
    expect(isHigh(rise(), { ...AT, saturated: true, gas: 'water' })).toBe(true);
    expect(isHigh(rise(), { ...AT, saturated: true, gas: 'other' })).toBe(false);
  });

  test('that has come within 50 mbar of the barometer, or more than half of the way there, is lost', () => {
    const lost = (endPa: number, plateauPa: number) => isVacuumLost(rise({ endPa, plateauPa }), AT);
    expect(lost(96_325, 0)).toBe(true);
    expect(lost(96_324, 0)).toBe(false);
    expect(lost(50_001, 100_000)).toBe(true);
    expect(lost(50_000, 100_000)).toBe(false);
    expect(lost(50_001, 96_000)).toBe(false);
  });

  test('may be that of water from four fifths of its vapour pressure to a fifth above what a thermal sensor shows', () => {
    const vapourPa = waterVapourPa(283.15);
    expect(isSaturated(0.801 * vapourPa, 283.15)).toBe(true);
    expect(isSaturated(0.8 * vapourPa, 283.15)).toBe(false);
    expect(isSaturated(1.2 * 1.8 * vapourPa - 0.01, 283.15)).toBe(true);
    expect(isSaturated(1.2 * 1.8 * vapourPa + 0.01, 283.15)).toBe(false);
  });
});

describe('Two sensors tell the gas by their rises', () => {
  const seen = (thermal: number, absolute: number, opened: boolean, sd = 0.001) =>
    gasSeen(rise({ slopePaPerS: thermal }), rise({ slopePaPerS: absolute, slopeSdPaPerS: sd }), opened);

  test('water reads 1.8 in a thermal one, a refrigerant 1.3: from 1.56 on it is water, from 1.75 where nothing was open', () => {
    expect(seen(1.56, 1, true)).toBe('water');
    expect(seen(1.559, 1, true)).toBe('other');
    expect(seen(1.75, 1, false)).toBe('water');
    expect(seen(1.749, 1, false)).toBe('other');
    expect(seen(0.874, 0.5, false)).toBe('other');
    expect(seen(0.876, 0.5, false)).toBe('water');
  });

  test('where the absolute one shows ten deviations, and both were there', () => {
    expect(seen(2, 1, true, 0.1)).toBe('water');
    expect(seen(2, 1, true, 0.101)).toBe('unknown');
    expect(gasSeen(undefined, rise(), true)).toBe('unknown');
    expect(gasSeen(rise(), undefined, true)).toBe('unknown');
  });
});

describe('From one hold to the next', () => {
  test('a slope agrees that has kept its share, three deviations of a difference allowed for', () => {
    const least = 0.9 * 2 - 3 * Math.SQRT2 * 0.01;
    const of = (slopePaPerS: number) => agrees(rise({ slopePaPerS, slopeSdPaPerS: 0.01 }), 2, 0.9);
    expect(of(least + 1e-9)).toBe(true);
    expect(of(least - 1e-9)).toBe(false);
  });

  test('it is sharp when that is less than a fiftieth of it', () => {
    const sharp = (share: number) =>
      isSharp(rise({ slopePaPerS: 2, slopeSdPaPerS: (share * 0.04) / (3 * Math.SQRT2) }));
    expect(sharp(0.999)).toBe(true);
    expect(sharp(1.001)).toBe(false);
  });

  test('it may be a leak though it tires, where it is sharp, holds on by 85 per cent and is not water', () => {
    expect(mayBeLeak(rise({ keeps: 0.851 }), 'unknown')).toBe(true);
    expect(mayBeLeak(rise({ keeps: 0.85 }), 'unknown')).toBe(false);
    expect(mayBeLeak(rise({ keeps: 0.9 }), 'water')).toBe(false);
    expect(mayBeLeak(rise({ keeps: 0.9, slopeSdPaPerS: 0.1 }), 'unknown')).toBe(false);
  });

  test('gross is 3 Pa/s that has kept 85 per cent of its mean', () => {
    const gross = (slopePaPerS: number, meanSlopePaPerS: number) =>
      isGross(rise({ slopePaPerS, meanSlopePaPerS }), HOLD);
    expect(gross(3, 3)).toBe(true);
    expect(gross(2.999, 3)).toBe(false);
    expect(gross(3.4, 4)).toBe(true);
    expect(gross(3.399, 4)).toBe(false);
  });
});

describe('What gives off the gas', () => {
  const cause = (
    over: Partial<Circumstances>,
    ambientK: number | undefined = 293,
    endPa = 800,
    thermal = true,
  ) => causeOf(rise({ endPa }), { ...AT, ...over }, ambientK, thermal);

  test('is water where the sensors see it, or where it stands at saturation or was open and they see nothing', () => {
    expect(cause({ gas: 'water' })).toBe('water');
    expect(cause({ saturated: true })).toBe('water');
    expect(cause({ opened: true })).toBe('water');
    expect(cause({})).toBe('oil');
    expect(cause({ gas: 'other', saturated: true, opened: true })).toBe('oil');
  });

  test('is ice below freezing, or within a tenth of the melting pressure by the thermal sensor', () => {
    expect(cause({ opened: true }, 273.64)).toBe('ice');
    expect(cause({ opened: true }, 273.65)).toBe('water');
    expect(causeOf(rise({ endPa: 800 }), { ...AT, opened: true }, undefined, true)).toBe('water');
    const melts = (share: number, thermal = true) =>
      cause({ opened: true }, 293, share * TRIPLE_POINT_PA * (thermal ? 1.8 : 1), thermal);
    expect(melts(0.901)).toBe('ice');
    expect(melts(0.899)).toBe('water');
    expect(melts(1.099)).toBe('ice');
    expect(melts(1.101)).toBe('water');
    expect(melts(1, false)).toBe('water');
    expect(cause({}, 263)).toBe('oil');
  });
});

describe('The rise of a hold', () => {
  /** Without noise, but for a flicker that no line through an even number of samples sees. */
  const seen = (pressureAt: (s: number) => number, resolutionPa = 0.1, seconds = 600) =>
    riseOf({
      samplesPa: Array.from({ length: seconds }, (_, s) => pressureAt(s) + (s % 2 === 0 ? 0.05 : -0.05)),
      intervalS: 1,
      resolutionPa,
    })!;

  test('is that of its later half, with the mean of all of it beside', () => {
    const bent = seen((s) => 300 + (s < 300 ? 2 * s : 600 + 0.5 * (s - 300)));
    expect(bent.slopePaPerS).toBeCloseTo(0.5, 3);
    // A straight line through a corner of 2 and 0.5 in its middle has their mean.
    expect(bent.meanSlopePaPerS).toBeCloseTo(1.25, 2);
    expect(bent.endPa).toBeCloseTo(300 + 600 + 0.5 * 299, 0);
  });

  test('of nothing but noise is that of all of it: twice as many samples are surer by 2.8', () => {
    const whole = seen(() => 300);
    const half = seen(() => 300, 0.1, 300);
    expect(half.slopeSdPaPerS / whole.slopeSdPaPerS).toBeCloseTo(2 ** 1.5, 1);
    // A straight rise is that of its later half.
    expect(seen((s) => 300 + s).slopeSdPaPerS / whole.slopeSdPaPerS).toBeCloseTo(2 ** 1.5, 1);
  });

  test('leaves room for three deviations more, and for no fall', () => {
    const steady = seen((s) => 300 + 0.5 * s);
    expect(steady.mostPaPerS).toBeCloseTo(steady.slopePaPerS + 3 * steady.slopeSdPaPerS, 12);
    const falls = seen((s) => 900 - 0.5 * s);
    expect(falls.mostPaPerS).toBeCloseTo(3 * falls.slopeSdPaPerS, 12);
  });

  test('is straight, or tires by more than one and a half per cent between a sixth and a half and its last third', () => {
    /** Twice the pressure of the second half: the early window ends there, the late one begins a sixth later. */
    const late = (share: number) => seen((s) => 300 + 2 * (s <= 300 ? s : 300 + share * (s - 300)));
    expect(late(1).course).toBe('straight');
    expect(late(0.99)).toMatchObject({ course: 'straight', keeps: expect.closeTo(0.99, 3) });
    expect(late(0.98)).toMatchObject({ course: 'tiring', keeps: expect.closeTo(0.98, 3) });
  });

  test('is unsure where a coarse sensor cannot see half a per cent, and where there was none', () => {
    const coarse = seen((s) => 300 + s, 50);
    expect(coarse.course).toBe('unsure');
    expect(coarse.keeps).toBeCloseTo(1, 2);
    // Steps of 50 Pa, 200 s in each window: 1.8 per cent of a slope of 1 Pa/s, 2.5 of two; three times that and 1.5.
    const tires = (share: number) => seen((s) => 300 + (s <= 300 ? s : 300 + share * (s - 300)), 50).course;
    expect(tires(0.915)).toBe('unsure');
    expect(tires(0.905)).toBe('tiring');
    expect(tires(0.5)).toBe('tiring');
    expect(seen(() => 300)).toMatchObject({ course: 'unsure', keeps: 0 });
  });

  test('settles at its plateau where it was seen to within half the hold, else where it has come to', () => {
    const settling = (tauS: number) => seen((s) => 2_000 - 1_500 * Math.exp(-s / tauS));
    expect(settling(150).plateauPa).toBeCloseTo(2_000, 0);
    const slow = settling(330);
    expect(slow.plateauPa).toBe(slow.endPa);
    // The same in samples of two seconds, a hold of twenty minutes.
    const samplesPa = Array.from({ length: 600 }, (_, i) => 2_000 - 1_500 * Math.exp(-(2 * i) / 450));
    expect(riseOf({ samplesPa, intervalS: 2, resolutionPa: 0.1 })!.plateauPa).toBeCloseTo(2_000, 0);
  });

  test('is nothing below thirty samples', () => {
    const of = (seconds: number) =>
      riseOf({
        samplesPa: Array.from({ length: seconds }, (_, s) => 300 + s),
        intervalS: 1,
        resolutionPa: 1,
      });
    expect(of(29)).toBeUndefined();
    expect(of(30)).toBeDefined();
  });
});
