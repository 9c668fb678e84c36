// What follows from a hold: each verdict with its twin, and what the record keeps of it.

import { describe, expect, test } from 'vitest';
import type { Rise } from '../../../controller/estimates/hold-verdict.ts';
import { leakKgPerYear } from '../../../controller/estimates/leak.ts';
import type { HoldData } from '../../../controller/stages/data-vacuum.ts';
import { enterHold } from '../../../controller/stages/hold.ts';
import { conclude, type Judged } from '../../../controller/stages/hold-conclusion.ts';
import { R134A } from '../support/machine.ts';
import { rise as riseOf } from '../support/rises.ts';
import type { Given } from '../support/stage-input.ts';
import { inputOf } from '../support/unseen-input.ts';
import { onOf } from '../support/weighings.ts';

const rise = (over: Partial<Rise> = {}): Rise => riseOf({ course: 'straight', keeps: 1, ...over });
const judged = (over: Partial<Judged> = {}): Judged => ({
  verdict: 'leak',
  gas: 'unknown',
  high: false,
  vacuumLost: false,
  rise: rise(),
  ...over,
});
const watched = (over: Partial<HoldData> = {}): HoldData => ({ ...enterHold(0), step: 'watch', ...over });

function concluded(of: Judged, given: Given = {}, data = watched()) {
  const step = conclude(data, inputOf(given), of);
  const [told, ...others] = step.notices ?? [];
  expect(others).toEqual([]);
  expect(onOf(step.wanted)).toEqual([]);
  return {
    ...step,
    told,
    codes: told?.code,
    hold: step.accounts!.hold!,
    suspected: step.accounts!.suspected,
  };
}
/** After so many evacuations, with such a slope suspected before. */
const evacuated = (evacuations: number, suspected?: number): Given => ({
  accounts: { evacuations, suspected },
});

describe('A hold that is no cause for anything', () => {
  test('tight: nothing is told, and nothing suspected any more', () => {
    const { event, result, told, suspected } = concluded(judged({ verdict: 'tight' }), evacuated(1, 0.5));
    expect({ event, result, told, suspected }).toEqual({
      event: 'held-tight',
      result: 'tight',
      told: undefined,
      suspected: undefined,
    });
  });

  test('unsteady: what would have been seen in any case is told, and it is no blind one', () => {
    const { event, told } = concluded(judged({ verdict: 'inconclusive' }));
    expect(event).toBe('hold-inconclusive');
    expect(told).toEqual({
      code: 'hold-inconclusive',
      with: { reason: 'the pressure was too unsteady', limit: expect.stringMatching(/^\d+\.\d$/) },
    });
    const { rise: _, ...unseen } = judged({ verdict: 'inconclusive' });
    expect(concluded(unseen)).toMatchObject({ event: 'hold-inconclusive', told: { code: 'hold-blind' } });
    expect(concluded(unseen).hold).toBeUndefined();
  });
});

describe('A vacuum that is gone', () => {
  test('is a leak at once, whatever the slope says', () => {
    const lost = judged({
      vacuumLost: true,
      rise: rise({ endPa: 99_700, plateauPa: 116_000, slopePaPerS: 0, slopeSdPaPerS: 9 }),
    });
    const { event, told, suspected, hold } = concluded(lost);
    expect(event).toBe('leak-found');
    expect(told).toEqual({
      code: 'vacuum-lost',
      with: { end: '99700', as: 'that of the air outside as nearly as this sensor tells' },
    });
    expect(suspected).toBeUndefined();
    expect(hold.plateauPa).toBe(99_700);
    // Of the least slope that counts, whatever the bend of the curve leaves of a line.
    expect(hold.detectionLimitKgPerYear).toBeLessThan(10);
  });

  test('is told as what it is where it has not yet come to that of the air', () => {
    const { told } = concluded(judged({ vacuumLost: true, rise: rise({ endPa: 61_000 }) }));
    expect(told).toEqual({
      code: 'vacuum-lost',
      with: { end: '61000', as: 'more than oil or water gives off' },
    });
  });
});

describe('A rise that looks like a leak', () => {
  test('is suspected first, and its slope kept for the next hold', () => {
    const { event, told, suspected } = concluded(judged(), evacuated(1));
    expect(event).toBe('leak-suspected');
    expect(told).toEqual({ code: 'leak-suspected', with: { slope: '0.500' } });
    expect(suspected).toBe(0.5);
  });

  test('is found when the next hold keeps 96 per cent of it, noise allowed for', () => {
    // Three deviations of a difference of two: 3 · √2 · 0.001 Pa/s.
    const least = 0.96 * 0.5 - 3 * Math.SQRT2 * 0.001;
    const of = (slopePaPerS: number, over: Partial<Rise> = {}) =>
      concluded(judged({ rise: rise({ slopePaPerS, ...over }) }), evacuated(2, 0.5)).event;
    expect(of(least + 1e-6)).toBe('leak-found');
    expect(of(least - 1e-6)).toBe('hold-inconclusive');
    expect(of(0.5, { course: 'unsure' })).toBe('leak-suspected');
    expect(of(least - 1e-6, { course: 'unsure' })).toBe('hold-inconclusive');
  });

  test('is told with what it means a year in a vehicle of 2.5 litres and the hoses of this machine', () => {
    const { told, result, hold } = concluded(judged(), evacuated(2, 0.5));
    // Hoses of 33 mL each and a manifold of 60 mL.
    const rate = leakKgPerYear(0.5, 2.5e-3 + 126e-6, R134A).toFixed(0);
    expect(told).toEqual({ code: 'leak-found', with: { slope: '0.500', rate } });
    expect(result).toBe('leak');
    expect(hold.verdict).toBe('leak');
  });

  test('that fell by more than a fifth is another thing, and suspected anew', () => {
    const of = (slopePaPerS: number, evacuations = 2) =>
      concluded(judged({ rise: rise({ slopePaPerS }) }), evacuated(evacuations, 1));
    expect(of(0.799).event).toBe('leak-suspected');
    expect(of(0.799).suspected).toBe(0.799);
    expect(of(0.8).event).toBe('hold-inconclusive');
    expect(of(0.8).told).toMatchObject({
      code: 'hold-inconclusive',
      with: { reason: 'the slope fell from one hold to the next, which a leak does not do' },
    });
    expect(of(0.8).result).toBe('outgassing');
  });

  test('first seen in the fourth hold or later is given up', () => {
    expect(concluded(judged(), evacuated(3)).event).toBe('leak-suspected');
    expect(concluded(judged(), evacuated(4)).event).toBe('hold-inconclusive');
  });

  test('so fast that no oil gives it off needs no straight course, and is given another hold', () => {
    const gross = (slopePaPerS: number, over: Partial<Rise> = {}) =>
      concluded(
        judged({ rise: rise({ slopePaPerS, meanSlopePaPerS: slopePaPerS, course: 'tiring', ...over }) }),
        evacuated(2, 3.4),
      ).event;
    expect(gross(3.4)).toBe('leak-found');
    expect(gross(3)).toBe('leak-suspected');
    expect(gross(2.99)).toBe('hold-inconclusive');
    expect(gross(3, { meanSlopePaPerS: 3.53 })).toBe('hold-inconclusive');
  });

  test('at the last hold is found by a coarse sensor only where it shows a good deal', () => {
    const coarse = { course: 'unsure', slopeSdPaPerS: 0.01 } as const;
    const least = 0.93 * 0.5 + Math.SQRT2 * 0.01;
    const of = (slopePaPerS: number, evacuations = 3) =>
      concluded(judged({ rise: rise({ slopePaPerS, ...coarse }) }), evacuated(evacuations, 0.5)).event;
    expect(of(least + 1e-6)).toBe('leak-found');
    expect(of(least - 1e-6)).toBe('hold-inconclusive');
    expect(of(least + 1e-6, 2)).toBe('leak-suspected');
  });

  test('is held to the last sharp slope, or to the first of those that are much the same', () => {
    const kept = (over: Partial<Rise>) =>
      concluded(judged({ rise: rise({ course: 'unsure', ...over }) }), evacuated(2, 0.5)).suspected;
    // A slope is sharp when 3 · √2 of its deviations are less than a fiftieth of it.
    expect(kept({ slopePaPerS: 0.49, slopeSdPaPerS: 0.002 })).toBe(0.49);
    expect(kept({ slopePaPerS: 0.49, slopeSdPaPerS: 0.01 })).toBe(0.5);
    expect(kept({ slopePaPerS: 0.4, slopeSdPaPerS: 0.05 })).toBe(0.5);
    expect(kept({ slopePaPerS: 0.39, slopeSdPaPerS: 0.05 })).toBe(0.39);
  });
});

describe('A system that gives off gas', () => {
  const WORST = 0.33;
  const gives = (slopePaPerS: number, over: Partial<Judged> = {}, given = evacuated(1)) =>
    concluded(judged({ verdict: 'outgassing', cause: 'oil', rise: rise({ slopePaPerS }), ...over }), given);
  const WET: Given = { ticket: { opened: true }, ...evacuated(1) };

  test('so little that it does no harm is accepted, with what may hide in it', () => {
    const { event, told, hold } = gives(WORST, { cause: 'water' }, WET);
    expect(event).toBe('outgassing-accepted');
    expect(told).toEqual({
      code: 'hold-outgassing-accepted',
      with: {
        slope: '0.330',
        limit: hold.detectionLimitKgPerYear.toFixed(1),
        as: expect.stringMatching(/moisture/),
        first: expect.stringMatching(/receiver-drier/),
      },
    });
    expect(gives(WORST).told).toMatchObject({
      with: { as: expect.stringMatching(/oil/), first: 'Nothing to do.' },
    });
    expect(gives(WORST + 0.001, { cause: 'water' }, WET).event).toBe('outgassed');
  });

  test('is accepted where it is oil that was never open: it holds what it will be charged with', () => {
    expect(gives(0.8).event).toBe('outgassing-accepted');
    expect(gives(0.8, { cause: 'water' }).event).toBe('outgassed');
    expect(gives(0.8, {}, WET).event).toBe('outgassed');
  });

  test('is evacuated again where it comes to a pressure that a dry system does not have', () => {
    const high = gives(0.1, { high: true });
    expect(high.event).toBe('outgassed');
    expect(high.told).toEqual({ code: 'hold-outgassed', with: { plateau: '600' } });
    expect(high.suspected).toBe(0.1);
    expect(gives(0.1, { high: true, cause: 'water' }).codes).toBe('hold-water');
    expect(gives(0.1, { high: true, cause: 'ice' }).codes).toBe('hold-ice');
  });

  test('after the third evacuation is accepted with a warning', () => {
    expect(gives(0.1, { high: true }, evacuated(2)).event).toBe('outgassed');
    const third = gives(0.1, { high: true }, evacuated(3));
    expect(third.event).toBe('outgassing-accepted');
    expect(third.told).toEqual({
      code: 'hold-outgassing-persists',
      with: { evacuations: '3', plateau: '600' },
    });
    expect(third.suspected).toBeUndefined();
  });

  test('that keeps its slope through an evacuation is a leak after all', () => {
    expect(gives(0.5, {}, evacuated(2, 0.5)).event).toBe('leak-found');
    expect(gives(0.5, {}, evacuated(2, 0.5)).result).toBe('leak');
    expect(gives(0.5, {}, evacuated(2, 0.6)).event).toBe('outgassing-accepted');
    expect(gives(0.5, {}, evacuated(2)).event).toBe('outgassing-accepted');
    expect(gives(WORST, {}, evacuated(2, WORST)).event).toBe('outgassing-accepted');
    // Water loses its slope by the half hour, whatever two holds show.
    expect(gives(0.5, { gas: 'water' }, evacuated(2, 0.5)).event).toBe('outgassing-accepted');
  });

  test('is remembered with what gives it off; a leak is not', () => {
    expect(gives(0.1, { cause: 'water' }).hold).toMatchObject({ verdict: 'outgassing', cause: 'water' });
    expect(concluded(judged({ cause: 'oil' }), evacuated(1)).hold).not.toHaveProperty('cause');
    const { cause: _, ...unknown } = judged({ verdict: 'outgassing' });
    expect(concluded(unknown).hold).not.toHaveProperty('cause');
  });
});

describe('What the record keeps of a hold', () => {
  const limit = (slopePaPerS: number): number => leakKgPerYear(slopePaPerS, 3.5e-3 + 126e-6, R134A);
  const TIGHT = judged({ verdict: 'tight', rise: rise({ slopePaPerS: 0.01, mostPaPerS: 0.05 }) });
  const of = (over: Judged, given: Given = {}, data?: HoldData) => concluded(over, given, data).hold;

  test('the largest leak that may hide in it, in a vehicle of 3.5 litres, and no less than nothing can be told from', () => {
    expect(of(TIGHT).detectionLimitKgPerYear).toBeCloseTo(limit(0.05), 9);
    const quiet = judged({ verdict: 'tight', rise: rise({ mostPaPerS: 0.001 }) });
    expect(of(quiet).detectionLimitKgPerYear).toBeCloseTo(limit(0.02), 9);
  });

  test('twice as much where water may be left in the cold and no thermal sensor sees it', () => {
    const at = (ambientK: number | undefined, thermalPa?: readonly number[]) =>
      of(TIGHT, { seen: { ambientK } }, watched({ thermalPa })).detectionLimitKgPerYear / limit(0.05);
    expect(at(283.15)).toBeCloseTo(1, 9);
    expect(at(283.14)).toBeCloseTo(2, 9);
    expect(at(undefined)).toBeCloseTo(2, 9);
    expect(at(283.14, [200])).toBeCloseTo(1, 9);
  });

  test('what noise leaves, where the leak itself was seen', () => {
    const leak = (slopeSdPaPerS: number) =>
      of(judged({ rise: rise({ slopeSdPaPerS }) }), evacuated(2, 0.5)).detectionLimitKgPerYear;
    expect(leak(0.01)).toBeCloseTo(limit(0.03), 9);
    expect(leak(0.001)).toBeCloseTo(limit(0.02), 9);
  });

  test('no better vacuum than the zero of the absolute sensor lets it claim', () => {
    const deep = judged({ verdict: 'tight', rise: rise({ plateauPa: 40 }) });
    expect(of(deep).plateauPa).toBe(100);
    expect(of(deep, {}, watched({ thermalPa: [40] })).plateauPa).toBe(40);
    expect(of(TIGHT)).toMatchObject({ verdict: 'tight', slopePaPerS: 0.01, plateauPa: 600 });
  });

  test('the zero of the high-side gauge, where the absolute sensor confirms a vacuum', () => {
    const zero = (seen: Given['seen'] & object) =>
      concluded(TIGHT, { seen, accounts: { highSideZeroPa: 77 } }).accounts!.highSideZeroPa;
    expect(zero({ highSidePa: 8_000, manifoldPa: 4_999 })).toBe(3_001);
    expect(zero({ highSidePa: 8_000, manifoldPa: 5_000 })).toBe(77);
    expect(zero({ highSidePa: 8_000 })).toBe(77);
    expect(zero({ manifoldPa: 300 })).toBe(77);
  });
});
