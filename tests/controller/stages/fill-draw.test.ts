// The tank is filled from a cylinder: opening by opening, and every way in which it ends.

import { describe, expect, test } from 'vitest';
import { SAFE_COMMANDS } from '../../../controller/signals.ts';
import type { FillData } from '../../../controller/stages/data-tank.ts';
import { enterFill, stepFill, usualFillMs } from '../../../controller/stages/fill.ts';
import { want } from '../../../controller/stages/stage.ts';
import { type Given, scanOf, weighing } from '../support/charging.ts';
import { codesOf, onOf } from '../support/weighings.ts';

const ticket = { service: 'fill-tank', fillKg: 2 } as const;
const RUNNING = { ...SAFE_COMMANDS, compressor: { on: true }, recoveryValve: { on: true } };
const DRAWS = want('recoveryValve', 'compressor');
const HOUR_MS = 3_600_000;
/** A high side that tells 30 kPa above the atmosphere for sure: three deviations of 7.5 kPa. */
const LEAST_PA = 101_325 + 30_000 + 22_500;
/** What the full hose holds: R-134a at 20 °C, 1225.3 kg/m³ (Tillner-Roth and Baehr). */
const HOSE_KG = 33e-6 * 1_225.3;

const filling = (over: Partial<FillData>): FillData => ({ ...enterFill(0), targetKg: 2, ...over });

/** The compressor runs, and the machine has been drawn dry twelve seconds after an opening of 0.1 s. */
const DRY: Partial<FillData> = {
  step: 'draw',
  stepSinceMs: 80_000,
  compressorSinceMs: 80_000,
  openMs: 100,
  openedAtMs: 88_000,
  openings: 5,
  drawnSinceMs: 80_000,
};
function drawn(data: Partial<FillData> = {}, { seen, accounts, ...given }: Given = {}) {
  return stepFill(
    filling({ ...DRY, ...data }),
    scanOf({
      ticket,
      nowMs: 100_000,
      permitted: RUNNING,
      ...given,
      seen: { highSidePa: 571_710, manifoldPa: 5_000, ...seen },
      accounts: { weighed: weighing(), weighedFirst: weighing(), ...accounts },
    }),
  );
}

describe('The compressor', () => {
  const rests = (data: Partial<FillData> = {}, given: Given = {}) =>
    drawn(
      { compressorSinceMs: undefined, openings: 0, ...data },
      { permitted: SAFE_COMMANDS, compressorRested: true, ...given },
    );

  test('starts once it has rested, without the fan where the tank is the warmer', () => {
    expect(rests({}, { compressorRested: false }).wanted).toBe(SAFE_COMMANDS);
    expect(rests().wanted).toEqual(DRAWS);
    const warm = rests({}, { seen: { tankTemperatureK: 300 } });
    expect(warm.data.fanStopped).toBe(true);
    expect(onOf(warm.wanted)).toContain('fanStop');
  });

  test('that does not come on within three minutes ends it, and so does one that stops', () => {
    expect(rests({ stepSinceMs: 100_000 - 180_000 }).data.step).toBe('draw');
    expect(rests({ stepSinceMs: 100_000 - 180_001 }).data).toMatchObject({ step: 'rest', why: 'held-back' });
    const stopped = drawn({}, { permitted: SAFE_COMMANDS });
    expect(stopped.data).toMatchObject({ step: 'rest', why: 'held-back', stepSinceMs: 100_000 });
    expect(stopped.wanted).toBe(SAFE_COMMANDS);
    expect(stopped.notices).toEqual([{ code: 'fill-held-back', with: { filled: '0.00', wanted: '2.00' } }]);
  });

  test('draws the machine dry before the first opening', () => {
    const started = drawn({ compressorSinceMs: undefined, openings: 0, openMs: 80, openedAtMs: 0 });
    expect(started.data).toMatchObject({ compressorSinceMs: 100_000, openedAtMs: 100_000, openings: 0 });
    expect(started.wanted).toEqual(DRAWS);
  });
});

describe('An opening', () => {
  test('is of the high-side valve alone, for its time, by the countdown of the rig', () => {
    const opened = drawn({ openedAtMs: 99_901 });
    expect(onOf(opened.wanted)).toEqual(
      expect.arrayContaining(['highSideValve', 'recoveryValve', 'compressor']),
    );
    expect(opened.wanted.highSideValve).toEqual({ on: true, offAfterMs: 100 });
    expect(drawn({ openedAtMs: 99_900 }).wanted).toEqual(DRAWS);
    expect(drawn({ openedAtMs: 99_901, openings: 0 }).wanted).toEqual(DRAWS);
  });

  test('is followed by the next once the machine is dry again, and 0.7 s have passed', () => {
    expect(drawn({ openedAtMs: 99_201 })).toMatchObject({ data: { openings: 5 }, wanted: DRAWS });
    const next = drawn({ openedAtMs: 99_200, openedKg: 0.25 }, { gaveKg: -0.3 });
    expect(next.data).toMatchObject({ step: 'draw', openings: 6, openedAtMs: 100_000 });
    expect(next.data.openedKg).toBeCloseTo(0.3, 9);
    expect(onOf(next.wanted)).toContain('highSideValve');
    expect(drawn({}, { seen: { manifoldPa: 90_000 } })).toMatchObject({
      data: { openings: 5 },
      wanted: DRAWS,
    });
    expect(drawn({}, { seen: { manifoldPa: undefined } }).data.openings).toBe(5);
  });

  test('is longer where drawing dry took less than ten seconds, and shorter where it took more than 25', () => {
    const openMs = (tookMs: number, before: number) =>
      drawn({ openedAtMs: 100_000 - tookMs, openMs: before }).data.openMs;
    expect(openMs(9_999, 100)).toBe(125);
    expect(openMs(10_000, 100)).toBe(100);
    expect(openMs(25_000, 100)).toBe(100);
    expect(openMs(25_001, 100)).toBe(80);
    expect(openMs(9_000, 450)).toBe(500);
    expect(openMs(26_000, 45)).toBe(40);
    const first = drawn({ openings: 0, openMs: 80, openedAtMs: 99_000 });
    expect(first.data).toMatchObject({ openMs: 80, openings: 1 });
  });

  test('is NOT given to a machine that is not dry within three minutes', () => {
    const since = (ms: number) =>
      drawn({ openedAtMs: 200_000 - ms, stepSinceMs: 0 }, { nowMs: 200_000, seen: { manifoldPa: 90_000 } });
    expect(since(180_000).data.step).toBe('draw');
    const stalled = since(180_001);
    expect(stalled.data).toMatchObject({ step: 'rest', why: 'stalled' });
    expect(stalled.notices).toEqual([{ code: 'fill-stalled', with: { minutes: '3', pressure: '90' } }]);
    const blind = drawn({ openedAtMs: 19_000 }, { nowMs: 200_000, seen: { manifoldPa: undefined } });
    expect(blind.notices![0]!.with).toMatchObject({ pressure: 'an unknown number of' });
  });

  test('after which more than 100 g come runs on: the tank is weighed at once', () => {
    const ran = (kg: number, given: Given = {}) =>
      drawn({ openedKg: 0.25, openedAtMs: 99_950 }, { gaveKg: -0.25 - kg, ...given });
    expect(ran(0.0999).data.step).toBe('draw');
    const on = ran(0.1011);
    expect(on.data).toMatchObject({ step: 'weigh-after', why: 'valve-open' });
    expect(on.notices).toEqual([{ code: 'fill-runs-on', with: { came: '101' } }]);
    expect(ran(0.2, { scale: { trust: 'disturbed' } }).data.step).toBe('draw');
  });
});

describe('A scale that is touched', () => {
  const disturbed = { trust: 'disturbed' } as const;

  test('is waited for while the compressor may draw, and then with everything off', () => {
    const floorPa = scanOf({ ticket }).plan.recover.floorPa;
    expect(drawn({}, { scale: disturbed, seen: { manifoldPa: floorPa + 1 } })).toMatchObject({
      data: { openings: 5 },
      wanted: DRAWS,
    });
    const steady = drawn({}, { scale: disturbed, seen: { manifoldPa: floorPa } });
    expect(steady).toMatchObject({ data: { step: 'steady' }, wanted: SAFE_COMMANDS });
  });

  const steady = (given: Given, sinceMs = 0) =>
    stepFill(filling({ ...DRY, step: 'steady', sinceMs }), scanOf({ ticket, nowMs: 100_000, ...given }));

  test('goes on once it can be read, with a compressor that starts anew', () => {
    expect(steady({ scale: disturbed })).toMatchObject({ data: { step: 'steady' }, wanted: SAFE_COMMANDS });
    expect(steady({}).data).toMatchObject({
      step: 'draw',
      stepSinceMs: 100_000,
      compressorSinceMs: undefined,
      openings: 5,
    });
    expect(steady({}).wanted).toBe(SAFE_COMMANDS);
  });

  test('ends the fill after a working day', () => {
    expect(steady({ nowMs: 8 * HOUR_MS, scale: disturbed }).data.step).toBe('steady');
    expect(steady({ nowMs: 8 * HOUR_MS + 60_000, scale: disturbed }, 60_000).data.step).toBe('steady');
    const late = steady({ nowMs: 8 * HOUR_MS + 60_001 }, 60_000);
    expect(late.data.why).toBe('out-of-time');
    expect(late.notices![0]).toMatchObject({
      code: 'fill-out-of-time',
      with: { minutes: '480', wanted: '2.00' },
    });
  });
});

describe('After an hour of drawing', () => {
  test('the scale is looked at while nothing moves', () => {
    expect(drawn({ drawnSinceMs: 100_000 - HOUR_MS }).data.step).toBe('draw');
    expect(drawn({ drawnSinceMs: 100_000 - HOUR_MS - 1 })).toMatchObject({
      data: { step: 'pause' },
      wanted: SAFE_COMMANDS,
    });
  });

  test('for six minutes; one that drifts ends the fill', () => {
    const pause = (ms: number, kgPerS = 0) => {
      const { drift } = scanOf().estimates;
      const data = filling({ ...DRY, step: 'pause', stepSinceMs: 1_000_000 - ms });
      return stepFill(data, scanOf({ ticket, nowMs: 1_000_000, estimates: { drift: { ...drift, kgPerS } } }));
    };
    expect(pause(359_999)).toMatchObject({ data: { step: 'pause' }, wanted: SAFE_COMMANDS });
    expect(pause(360_000).data).toMatchObject({
      step: 'draw',
      drawnSinceMs: 1_000_000,
      compressorSinceMs: undefined,
    });
    const drifts = pause(360_000, 1e-6);
    expect(drifts.data).toMatchObject({ step: 'weigh-after', why: 'scale-drifts' });
    expect(codesOf(drifts)).toEqual(['fill-scale-drifts']);
  });
});

describe('The fill ends', () => {
  const ends = (data: Partial<FillData>, given: Given = {}) => {
    const step = drawn(data, given);
    return step.data.step === 'rest' ? { why: step.data.why, notices: step.notices } : undefined;
  };

  test('with what was asked for, what the hose still holds counted', () => {
    const late = { openedKg: 1.95 };
    expect(ends(late, { gaveKg: -(2 - HOSE_KG - 1e-4) })).toBeUndefined();
    expect(ends(late, { gaveKg: -(2 - HOSE_KG + 1e-4) })).toEqual({ why: 'filled', notices: [] });
    // A hose of 10 °C, where nobody knows the room: liquid of 1261 kg/m³.
    expect(
      drawn(late, { gaveKg: -(2 - 33e-6 * 1_261 - 1e-4), seen: { ambientK: undefined } }).data.why,
    ).toBeUndefined();
  });

  test('with the cylinder, at 30 kPa above the atmosphere', () => {
    expect(ends({}, { seen: { highSidePa: LEAST_PA + 1 } })).toBeUndefined();
    expect(ends({ openedKg: 1.15 }, { seen: { highSidePa: LEAST_PA }, gaveKg: -1.2 })).toEqual({
      why: 'cylinder-empty',
      notices: [{ code: 'cylinder-empty', with: { pressure: '154', filled: '1.20', wanted: '2.00' } }],
    });
    expect(ends({}, { seen: { highSidePa: undefined } })!.why).toBe('held-back');
  });

  test('with air that comes out of it: 40 kPa more above saturation than at first', () => {
    const excess = (morePa: number, first: number | undefined = 2_000) =>
      ends({}, { seen: { tankPa: 571_710 + 2_000 + morePa }, accounts: { tankExcessFirstPa: first } });
    expect(excess(39_990)).toBeUndefined();
    expect(excess(40_010)).toEqual({
      why: 'air',
      notices: [{ code: 'air-in-cylinder', with: { excess: '40' } }],
    });
    expect(ends({}, { seen: { tankPa: 700_000 } })).toBeUndefined();
    expect(ends({}, { seen: { tankPa: undefined }, accounts: { tankExcessFirstPa: 0 } })).toBeUndefined();
  });

  test('after a working day', () => {
    const late = (nowMs: number) =>
      ends({ openedAtMs: nowMs - 12_000, drawnSinceMs: nowMs - 12_000 }, { nowMs })?.why;
    expect(late(8 * HOUR_MS)).toBeUndefined();
    expect(late(8 * HOUR_MS + 1)).toBe('out-of-time');
  });
});

test('A usual fill takes three quarters of an hour a kilogram, and six minutes of rest in each hour and at its end', () => {
  const { plan } = scanOf({ ticket });
  expect(usualFillMs(0.65, plan)).toBeCloseTo(HOUR_MS / 2 + 360_000, 3);
  expect(usualFillMs(1.95, plan)).toBeCloseTo(1.5 * HOUR_MS + 720_000, 3);
});
