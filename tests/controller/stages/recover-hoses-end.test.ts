// Recover hoses: what was weighed decides what was charged, and the hoses are handed over.

import { describe, expect, test } from 'vitest';
import { startCount } from '../../../controller/estimates/condenser.ts';
import { NOTHING_KEPT } from '../../../controller/estimates/kept.ts';
import type { RecoverHosesData } from '../../../controller/stages/data-hoses.ts';
import { enterRecoverHoses, stepRecoverHoses } from '../../../controller/stages/recover-hoses.ts';
import { almostWeighed, entered, type Given, NOW_MS, says, shown, weighing } from '../support/stage-input.ts';
import { codesOf, countsOf } from '../support/weighings.ts';

type More = Partial<RecoverHosesData>;
const stepped = (step: RecoverHosesData['step'], waitedMs: number, more: More = {}, given: Given = {}) =>
  stepRecoverHoses({ ...enterRecoverHoses(NOW_MS - waitedMs), step, ...more }, shown(given));
const ROOM = { highSidePa: 101_325, lowSidePa: 101_325 };
const ML = 1e-6;

describe('The weighing after the draws', () => {
  /** 10 g were drawn by displacement, and 4 g have come into the tank. */
  const weighed = (more: More = {}, given: Given = {}) =>
    stepped(
      'weigh',
      9_000,
      {
        weighing: almostWeighed(8.004),
        draws: 1,
        count: { ...startCount(NOW_MS), drawnKg: 0.01, totalKg: 0.01, drawnSdKg: 0.0005, hoseGaugePa: 0 },
        ...more,
      },
      {
        seen: ROOM,
        ...given,
        scale: { counts: countsOf(8.004) },
        accounts: { weighed: weighing(8), ...given.accounts },
      },
    );
  const grams = (kg: number | undefined): number => (kg ?? Number.NaN) * 1_000;

  test('books what came out of the hoses', () => {
    const step = weighed();
    expect(step.data).toMatchObject({ step: 'read-oil', stepSinceMs: NOW_MS });
    expect(step.ledger).toMatchObject([{ movement: 'hoses-to-tank', countsBefore: countsOf(8) }]);
    expect(grams(step.ledger![0]!.massKg)).toBeCloseTo(4, 6);
    expect(step.accounts!.weighed?.counts).toBeCloseTo(countsOf(8.004), 3);
    expect(weighed({}, { accounts: { weighed: undefined } }).ledger![0]!.massKg).toBeCloseTo(0, 9);
  });

  test('counts what the condenser has kept of it, and what came before', () => {
    expect(grams(weighed().accounts!.kept.kg)).toBeCloseTo(6, 1);
    expect(grams(weighed().accounts!.hoseRecoveredKg)).toBeCloseTo(10, 1);
    const more = { hoseRecoveredKg: 0.1, kept: { ...NOTHING_KEPT, kg: 0.003 } };
    expect(grams(weighed({}, { accounts: more }).accounts!.hoseRecoveredKg)).toBeCloseTo(110, 1);
  });

  test('keeps nothing in the condenser that was never drawn, nor of a slow fill', () => {
    expect(weighed({ draws: 0 }).accounts!.kept).toEqual(NOTHING_KEPT);
    expect(grams(weighed({ draws: 0 }).accounts!.hoseRecoveredKg)).toBeCloseTo(4, 6);
    const fill = { ticket: { service: 'fill-tank', nominalChargeKg: 0 } } as const;
    expect(weighed({}, fill).accounts!.kept).toEqual(NOTHING_KEPT);
  });

  test('states the net charge, less the vapour of the hoses, and tells one that is off', () => {
    const accounts = { weighedBeforeCharge: weighing(8.604), keptBeforeCharge: NOTHING_KEPT, chargedKg: 0.6 };
    const step = weighed({}, { accounts });
    expect(grams(step.accounts!.netChargeKg)).toBeCloseTo(594, 1);
    expect(step.notices).toEqual([]);
    // 50 kPa in 126 mL, an ideal gas of 102 g/mol at 20 °C: 0.26 g.
    const vapour = weighed({ restToPa: 50_000 }, { accounts }).accounts!.netChargeKg!;
    expect(Math.abs(grams(step.accounts!.netChargeKg) - grams(vapour) - 0.264)).toBeLessThan(0.01);
    const short = weighed({}, { accounts: { ...accounts, weighedBeforeCharge: weighing(8.59) } });
    expect(codesOf(short)).toEqual(['net-charge-off']);
  });
});

describe('The catch bottle that nobody has read yet', () => {
  const drained = (minutesAgo: number, given: Given = {}) =>
    stepped(
      'read-oil',
      0,
      {},
      {
        ...given,
        accounts: { oil: { emptied: 0, drainedAtMs: NOW_MS - minutesAgo * 60_000 } },
      },
    );

  test('is waited for until its foam has settled, and asked for', () => {
    expect(drained(9).data.step).toBe('read-oil');
    expect(drained(9).prompt).toBeUndefined();
    expect(drained(10)).toMatchObject({
      prompt: 'read-catch-bottle',
      data: { step: 'read-oil' },
      notices: [],
    });
    expect(codesOf(drained(10, entered(-1)))).toEqual(['entry-refused']);
  });

  test('tells once it is read what is missing in the vehicle', () => {
    const reading = drained(10, entered(70 * ML));
    expect(reading.data).toMatchObject({ step: 'hand-over', stepSinceMs: NOW_MS });
    expect(reading.accounts?.oil.drainedM3).toBe(70 * ML);
    expect(codesOf(reading)).toEqual(['oil-flooding', 'oil-not-replaced']);
  });

  test('holds nothing up where nothing was drained', () => {
    const none = stepped('read-oil', 0);
    expect(none.data).toMatchObject({ step: 'hand-over', stepSinceMs: NOW_MS });
    expect(codesOf(none)).toEqual([]);
  });
});

describe('The hoses', () => {
  test('are handed over as safe', () => {
    const end = stepped('hand-over', 0, {}, { seen: ROOM });
    expect(end).toMatchObject({ event: 'hoses-recovered', accounts: { hosesSafe: true } });
    expect(codesOf(end)).toEqual(['hoses-safe']);
  });

  test('are looked at again where pressure has come back meanwhile', () => {
    const back = stepped('hand-over', 0, {}, { seen: { highSidePa: 300_000 } });
    expect(back.data).toMatchObject({ step: 'look', stepSinceMs: NOW_MS });
    expect(back.event).toBeUndefined();
  });

  test('are recovered only once the couplers are closed, with the engine at rest', () => {
    expect(stepped('close', 0).prompt).toBe('close-couplers');
    expect(stepped('stop-engine', 0).prompt).toBe('stop-engine');
    expect(stepped('stop-engine', 0, {}, says('stop-engine')).data.step).toBe('standstill');
    expect(stepped('standstill', 0).data.step).toBe('close');
  });
});
