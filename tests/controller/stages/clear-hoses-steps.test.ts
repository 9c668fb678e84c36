// Clear hoses scan by scan: the limits by which a coupler is found open, a hose dry, and a tank pouring.

import { describe, expect, test } from 'vitest';
import type { HoseForce } from '../../../controller/estimates/masses.ts';
import { enterClearHoses, stepClearHoses } from '../../../controller/stages/clear-hoses.ts';
import type { ClearHosesData, JoinedLook } from '../../../controller/stages/data-hoses.ts';
import { type Given, NOW_MS, says, shown } from '../support/stage-input.ts';
import { codesOf, countsOf, onOf } from '../support/weighings.ts';

type More = Partial<ClearHosesData>;
const stepped = (step: ClearHosesData['step'], waitedMs: number, more: More = {}, given: Given = {}) =>
  stepClearHoses(
    { ...enterClearHoses(NOW_MS - waitedMs), step, asks: 1, joins: 1, ...more },
    shown({ engine: 'running', ...given }),
  );
const sides = (highSidePa: number | undefined, lowSidePa: number | undefined) => ({
  seen: { highSidePa, lowSidePa },
});

/** Scale counts of a tank that has lost so much of its 8 kg. */
const lost = (g: number) => ({ counts: countsOf(8 - g / 1_000) });
const lookedAt = (g: number, agoMs: number, hosePa = 0): JoinedLook => ({
  kg: 8 - g / 1_000,
  hosePa,
  atMs: NOW_MS - agoMs,
});
const NO_FORCE: HoseForce = { kgPerPa: 0, sdKgPerPa: 0 };
/** Hoses at the pressure of the room push nothing. */
const ROOM = sides(101_325, 101_325);

describe('Before the hoses are joined', () => {
  test('an engine that has stopped, or only seems to run, ends it', () => {
    const stopped = stepped('close', 0, {}, { engine: 'off' });
    expect(stopped).toMatchObject({ event: 'hoses-not-cleared', result: 'engine-stopped' });
    expect(codesOf(stopped)).toEqual(['hoses-not-cleared']);
    expect(stepped('watch', 0, {}, { engine: 'suspected' }).result).toBe('engine-stopped');
  });

  test('the coupler is asked for, and every word counts as one', () => {
    const asked = stepped('close', 0);
    expect(asked).toMatchObject({ prompt: 'close-high-coupler', data: { step: 'close', asks: 1 } });
    const closed = stepped('close', 0, {}, says('close-high-coupler')).data;
    expect(closed).toMatchObject({ step: 'look', stepSinceMs: NOW_MS, asks: 2 });
  });

  test('a side without a value ends it, but NOT while the question stands', () => {
    const blind = stepped('look', 0, {}, sides(undefined, 300_000));
    expect(blind).toMatchObject({ event: 'hoses-not-cleared', result: 'pressure-unknown' });
    expect(stepped('look', 0, {}, sides(300_000, undefined)).result).toBe('pressure-unknown');
    expect(stepped('close', 0, {}, sides(undefined, undefined)).event).toBeUndefined();
  });

  test('both sides are looked at for two seconds', () => {
    const old = { looks: [lookedAt(0, 9_000)] };
    expect(stepped('look', 1_999, old, sides(900_000, 300_000)).data.step).toBe('look');
    const joined = stepped('look', 2_000, old, sides(900_000, 300_000));
    expect(joined.data).toMatchObject({ step: 'join', joins: 2, startHighPa: 900_000, startLowPa: 300_000 });
    expect(joined.data.looks).toEqual([]);
    expect(onOf(joined.wanted)).toEqual(['highSideValve', 'lowSideValve']);
  });
});

describe('The joined hoses', () => {
  const START = { startHighPa: 900_000, startLowPa: 300_000 };
  const join = (joinedMs: number, highPa: number, more: More = {}, given: Given = {}, lowPa = 300_000) =>
    stepped('join', joinedMs, { ...START, ...more }, { ...sides(highPa, lowPa), ...given });

  test('must fall by six tenths of what parted the sides within 20 seconds, or the coupler is open', () => {
    expect(join(19_999, 900_000).data.step).toBe('join');
    const open = join(20_000, 540_001);
    expect(open.data).toMatchObject({ step: 'close', joins: 0, stepSinceMs: NOW_MS });
    expect(open.notices).toEqual([{ code: 'high-coupler-open', with: { pressure: '540' } }]);
    expect(join(20_000, 540_000).data.step).toBe('join');
  });

  test('tell nothing of a coupler where the sides were hardly apart: 60 kPa and the doubt of two gauges', () => {
    // Three deviations of 7.5 and 2.5 kPa together are 23.7 kPa.
    expect(join(20_000, 384_000, { startHighPa: 384_000 }).data.step).toBe('close');
    expect(join(20_000, 383_000, { startHighPa: 383_000 }).data.step).toBe('join');
  });

  test('that stay up are asked about once more, and then recovered as they are', () => {
    expect(join(20_000, 900_000, { asks: 1 }).event).toBeUndefined();
    expect(join(20_000, 900_000, { asks: 2 })).toMatchObject({
      event: 'hoses-not-cleared',
      result: 'coupler-open',
    });
  });

  test('are dry when the high one is down with the low one, after 45 seconds', () => {
    // 25 kPa and the doubt of two gauges: 48.7 kPa.
    expect(join(44_999, 340_000).data.step).toBe('join');
    expect(onOf(join(44_999, 340_000).wanted)).toEqual(['highSideValve', 'lowSideValve']);
    const dry = join(45_000, 348_000);
    expect(dry.data).toMatchObject({ step: 'watch', watchFromPa: 348_000, stepSinceMs: NOW_MS });
    expect(onOf(dry.wanted)).toEqual(['highSideValve']);
    expect(join(45_000, 349_000).data.step).toBe('join');
  });

  test('are left after three minutes, dry or not', () => {
    expect(join(179_999, 400_000).data.step).toBe('join');
    expect(join(180_000, 400_000).data.step).toBe('watch');
  });

  test('are laid to the tank where the scale shows that it feeds them: more than 8 g', () => {
    const fed = (g: number) =>
      join(
        20_000,
        900_000,
        { looks: [lookedAt(0, 100, 498_675)] },
        {
          accounts: { hoseForce: NO_FORCE },
          scale: lost(g),
        },
      ).data.step;
    expect(fed(8.1)).toBe('poured');
    expect(fed(7.9)).toBe('close');
  });
});

describe('The scale while the hoses are joined', () => {
  const looking = (looks: readonly JoinedLook[], g: number, given: Given = {}) =>
    stepped(
      'join',
      2_000,
      { looks },
      { accounts: { hoseForce: NO_FORCE }, scale: lost(g), ...ROOM, ...given },
    );

  test('is looked at every 0.4 s, and three looks are kept', () => {
    expect(looking([], 0).data.looks).toHaveLength(1);
    expect(looking([], 0).data.looks[0]).toMatchObject({ atMs: NOW_MS, hosePa: 0 });
    expect(looking([lookedAt(0, 399)], 0).data.looks).toHaveLength(1);
    expect(looking([lookedAt(0, 400)], 0).data.looks).toHaveLength(2);
    const three = [lookedAt(0, 1_200), lookedAt(0, 800), lookedAt(0, 400)];
    expect(looking(three, 0).data.looks.map(({ atMs }) => NOW_MS - atMs)).toEqual([800, 400, 0]);
  });

  test('begins anew where it says nothing or is stuck, and NOT where somebody leans on it', () => {
    const one = [lookedAt(0, 400)];
    expect(looking(one, 0, { scale: { trust: 'stuck' } }).data.looks).toEqual([]);
    expect(looking(one, 0, { scale: { trust: 'not-read' } }).data.looks).toEqual([]);
    expect(looking(one, 0, { seen: { ...ROOM.seen, scaleCounts: undefined } }).data.looks).toEqual([]);
    expect(looking(one, 0, { scale: { trust: 'disturbed' } }).data.looks).toHaveLength(2);
  });

  test('takes out what the hoses push', () => {
    const pushed = { hoseForce: { kgPerPa: 1e-8, sdKgPerPa: 0 } };
    const looks = looking([], 0, { accounts: pushed, ...sides(201_325, 301_325) }).data.looks;
    expect(looks[0]!.hosePa).toBeCloseTo(150_000, 6);
    expect(looks[0]!.kg).toBeCloseTo(8 - 0.0015, 9);
  });

  test('shows a tank that pours by even falls of 3 to 16 g, more than 8 g in all', () => {
    const pours = (...g: readonly [number, number, number]) =>
      looking([lookedAt(g[0], 800), lookedAt(g[1], 400)], g[2]).data.step === 'poured';
    expect(pours(0, 10, 20)).toBe(true);
    expect(pours(0, 3.1, 8.1)).toBe(true);
    expect(pours(0, 2.9, 12)).toBe(false);
    expect(pours(0, 12, 14.9)).toBe(false);
    expect(pours(0, 15.9, 31.8)).toBe(true);
    expect(pours(0, 16.1, 26)).toBe(false);
    expect(pours(0, 10, 26.1)).toBe(false);
    expect(pours(0, 3.9, 7.9)).toBe(false);
    expect(pours(0, -10, -20)).toBe(false);
  });

  test('shows nothing in two looks', () => expect(looking([lookedAt(0, 400)], 10).data.step).toBe('join'));

  test('allows for the force of hoses that have fallen: three deviations of it', () => {
    // 100 kPa less at 0.01 g a kPa, three times: 3 g of the 11 may be the hoses.
    const looks = [lookedAt(0, 800, 200_000), lookedAt(5, 400, 200_000)];
    const force = { hoseForce: { kgPerPa: 0, sdKgPerPa: 1e-8 } };
    const fallen = (g: number) =>
      looking(looks, g, { accounts: force, ...sides(201_325, 201_325) }).data.step;
    expect(fallen(10.9)).toBe('join');
    expect(fallen(11.1)).toBe('poured');
  });
});

describe('A tank that seems to have poured', () => {
  const shut = (waitedMs: number, g: number, more: More = {}, scale: Given['scale'] = {}) =>
    stepped(
      'poured',
      waitedMs,
      { looks: [lookedAt(0, waitedMs)], ...more },
      {
        accounts: { hoseForce: NO_FORCE },
        scale: { ...lost(g), ...scale },
        ...ROOM,
      },
    );

  test('is shut in for ten seconds, and a minute while somebody leans on the scale', () => {
    expect(shut(9_999, 20)).toMatchObject({ data: { step: 'poured' } });
    expect(shut(9_999, 20).event).toBeUndefined();
    expect(onOf(shut(9_999, 20).wanted)).toEqual([]);
    expect(shut(10_000, 20)).toMatchObject({
      event: 'tank-poured',
      notices: [{ code: 'tank-poured', with: { grams: '20' } }],
    });
    expect(shut(59_999, 20, {}, { trust: 'disturbed' }).event).toBeUndefined();
    expect(shut(60_000, 20, {}, { trust: 'disturbed' }).event).toBe('tank-poured');
  });

  test('has lost 8 g or more; what comes back was a hand, and the hoses are joined again, three times in all', () => {
    expect(shut(10_000, 8.1).event).toBe('tank-poured');
    expect(shut(10_000, 7.9, { joins: 2 }).data).toMatchObject({ step: 'look', stepSinceMs: NOW_MS });
    expect(shut(10_000, 7.9, { joins: 2 }).event).toBeUndefined();
    expect(shut(10_000, 7.9, { joins: 3 }).event).toBe('hoses-not-cleared');
    expect(shut(10_000, 20, { looks: [] }).event).toBeUndefined();
    expect(shut(60_000, 20, {}, { trust: 'stuck' }).event).toBeUndefined();
  });
});

describe('The high hose cut off from the low side', () => {
  const watched = (waitedMs: number, highPa: number) =>
    stepped('watch', waitedMs, { watchFromPa: 200_000 }, sides(highPa, 200_000));

  test('is cleared when it has risen by no more than 60 kPa in 20 seconds', () => {
    expect(watched(19_999, 260_000).data.step).toBe('watch');
    expect(onOf(watched(19_999, 260_000).wanted)).toEqual(['highSideValve']);
    const cleared = watched(20_000, 260_000);
    expect(cleared).toMatchObject({ event: 'hoses-cleared', accounts: { hosesCleared: true } });
    expect(onOf(cleared.wanted)).toEqual([]);
    const risen = watched(1_000, 260_001);
    expect(risen.data).toMatchObject({ step: 'tell', stepSinceMs: NOW_MS });
    expect(onOf(risen.wanted)).toEqual([]);
  });

  /** R-134a at 20 °C: 571.7 kPa (Tillner-Roth and Baehr 1994); told from 80 kPa and three deviations of 7.5 kPa beyond. */
  const BEYOND_PA = 571_710 + 80_000 + 22_500;
  const told = (waitedMs: number, highPa: number, more: More = {}, given: Given = {}) =>
    stepped('tell', waitedMs, more, { ...given, seen: { ...sides(highPa, 200_000).seen, ...given.seen } });

  test('that rises beyond saturation has an open coupler', () => {
    expect(told(0, BEYOND_PA + 100).data.step).toBe('close');
    expect(told(0, BEYOND_PA - 100).data.step).toBe('tell');
    // Without a thermometer in the room the tank's counts, and without both 20 °C.
    expect(told(0, BEYOND_PA + 100, {}, { seen: { ambientK: 303.15 } }).data.step).toBe('tell');
    const unknown = { ambientK: undefined };
    expect(told(0, BEYOND_PA + 100, {}, { seen: { ...unknown, tankTemperatureK: 303.15 } }).data.step).toBe(
      'tell',
    );
    const blind = { seen: { ...unknown, tankTemperatureK: undefined } };
    expect(told(0, BEYOND_PA + 100, {}, blind).data.step).toBe('close');
    expect(told(0, BEYOND_PA - 100, {}, blind).data.step).toBe('tell');
  });

  test('below saturation holds liquid: joined again after 15 seconds, and left with a word the third time', () => {
    expect(told(14_999, 400_000).data.step).toBe('tell');
    expect(told(15_000, 400_000, { joins: 2 }).data).toMatchObject({ step: 'look', stepSinceMs: NOW_MS });
    const left = told(15_000, 400_000, { joins: 3 });
    expect(left).toMatchObject({
      event: 'hoses-cleared',
      result: 'liquid-left',
      accounts: { hosesCleared: true },
    });
    expect(codesOf(left)).toEqual(['hoses-not-dry']);
  });

  test('is laid to the tank where the scale shows that it poured', () => {
    const poured = (g: number) =>
      told(
        0,
        BEYOND_PA + 100,
        { looks: [lookedAt(0, 30_000, 336_000)] },
        {
          accounts: { hoseForce: NO_FORCE },
          scale: lost(g),
        },
      ).data.step;
    expect(poured(8.1)).toBe('poured');
    expect(poured(7.9)).toBe('close');
  });
});
