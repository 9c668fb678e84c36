// The weighings of a fill: whether the tank suits it, what the hose presses with, and what is booked at its end.

import { describe, expect, test } from 'vitest';
import { hoseGaugePa } from '../../../controller/estimates/pressures.ts';
import { SAFE_COMMANDS } from '../../../controller/signals.ts';
import type { FillData, FillEnd } from '../../../controller/stages/data-tank.ts';
import { enterFill, stepFill } from '../../../controller/stages/fill.ts';
import { type Given, scanOf, weighing } from '../support/charging.ts';
import { codesOf } from '../support/weighings.ts';

const ticket = { service: 'fill-tank', fillKg: 2 } as const;

/** A weighing whose last reading comes in this scan, at half a minute. */
function weighed(step: FillData['step'], counts: number, data: Partial<FillData> = {}, given: Given = {}) {
  const input = scanOf({ ticket, nowMs: 30_000, ...given, scale: { counts, ...given.scale } });
  const sums = { samples: 9, sum: 9 * counts, hosePaSum: 9 * hoseGaugePa(input.seen) };
  const weighing = { sinceMs: 0, quietSinceMs: 0, ...sums, lastAtMs: 29_900 };
  return stepFill({ ...enterFill(0), targetKg: 2, step, weighing, ...data }, input);
}

describe('Before the cylinder is joined', () => {
  test('the tank is weighed, and from there everything counts', () => {
    const { data, accounts, notices, event, wanted } = weighed('weigh', 2_100_000, { targetKg: 0 });
    expect(data).toMatchObject({ step: 'connect', stepSinceMs: 30_000, targetKg: 2, weighing: undefined });
    expect(accounts!.weighed).toBe(accounts!.weighedFirst);
    expect(accounts!.weighedFirst!.counts).toBeCloseTo(2_100_000, 6);
    expect(accounts!.tankExcessFirstPa).toBeCloseTo(0, 3);
    expect([notices, event]).toEqual([undefined, undefined]);
    expect(wanted).toBe(SAFE_COMMANDS);
  });

  test('a tank with nothing asked for is filled to a quarter of a kilogram below its limit', () => {
    const open = { ticket: { service: 'fill-tank' } } as const;
    expect(weighed('weigh', 2_100_000, {}, open).data.targetKg).toBeCloseTo(17.28 - 0.25 - 8, 9);
    // What leans on the platform is no refrigerant.
    const leant = { ...open, scale: { offsetKg: 0.5 } };
    expect(weighed('weigh', 2_100_000, {}, leant).data.targetKg).toBeCloseTo(17.28 - 0.25 - 7.5, 9);
  });

  test('a tank without room is not filled', () => {
    const full = weighed('weigh', 2_900_000);
    expect(full.event).toBe('tank-unfit');
    expect(codesOf(full)).toEqual(['tank-without-room']);
  });

  test('the operator joins it, and the hose is looked at', () => {
    const asks = stepFill({ ...enterFill(0), step: 'connect' }, scanOf({ ticket, nowMs: 500 }));
    expect(asks).toMatchObject({ prompt: 'connect-hoses', wanted: SAFE_COMMANDS, data: { step: 'connect' } });
    const answers = [{ type: 'confirmed', prompt: 'connect-hoses' }] as const;
    const joined = stepFill({ ...enterFill(0), step: 'connect' }, scanOf({ ticket, nowMs: 500, answers }));
    expect(joined).toMatchObject({ data: { step: 'look', stepSinceMs: 500 }, wanted: SAFE_COMMANDS });
    expect(joined.prompt).toBeUndefined();
  });
});

test('Weighed once more with the cylinder open, the scale shows what the hose presses with', () => {
  // 10 g by 5 bar: 2e-8 kg/Pa.
  const seen = { highSidePa: 601_325, lowSidePa: 601_325 };
  const accounts = { weighed: weighing(), hoseForce: { kgPerPa: 0, sdKgPerPa: 1 } };
  const step = weighed('weigh-connected', 2_101_000, {}, { seen, accounts });
  expect(step.accounts!.hoseForce.kgPerPa).toBeCloseTo(2e-8, 11);
  expect(step.data).toMatchObject({ step: 'draw', openMs: 80, drawnSinceMs: 30_000, stepSinceMs: 30_000 });
  expect(step.wanted).toBe(SAFE_COMMANDS);
  expect(step.notices).toEqual([
    { code: 'fill-takes-time', with: { rate: '1.3', minutes: '104', wanted: '2.00' } },
  ]);
  const first = weighed('weigh-connected', 2_101_000, {}, { seen, accounts: { weighed: undefined } });
  expect(first.accounts!.hoseForce.kgPerPa).toBe(0);
});

test('After it everything rests for six minutes', () => {
  const rest = (nowMs: number) =>
    stepFill({ ...enterFill(0), step: 'rest', stepSinceMs: 4_000 }, scanOf({ ticket, nowMs }));
  expect(rest(363_999)).toMatchObject({ data: { step: 'rest' }, wanted: SAFE_COMMANDS });
  expect(rest(364_000)).toMatchObject({
    data: { step: 'weigh-after', stepSinceMs: 364_000 },
    wanted: SAFE_COMMANDS,
  });
});

describe('At its end', () => {
  const ended = (
    why: FillEnd | undefined,
    data: Partial<FillData> = {},
    accounts: NonNullable<Given['accounts']> = {},
  ) =>
    weighed(
      'weigh-after',
      2_290_000,
      { why, openings: 3, ...data },
      { accounts: { weighed: weighing(), weighedFirst: weighing(), ...accounts } },
    );

  test('what the tank has gained is booked as out of the cylinder', () => {
    const step = ended('filled');
    expect(step).toMatchObject({ event: 'tank-filled', result: 'filled', wanted: SAFE_COMMANDS });
    expect(step.ledger![0]).toMatchObject({ movement: 'cylinder-to-tank', atMs: 30_000 });
    expect(step.ledger![0]!.massKg).toBeCloseTo(1.9, 6);
    expect(step.accounts!.fill!.kg).toBeCloseTo(1.9, 6);
    expect(step.accounts!.weighed!.counts).toBeCloseTo(2_290_000, 6);
    expect(ended('filled', {}, { weighed: undefined }).ledger![0]!.massKg).toBe(0);
  });

  test('every end has its event, and is what the visit is remembered by', () => {
    expect(ended('cylinder-empty').event).toBe('cylinder-emptied');
    for (const why of ['air', 'stalled', 'valve-open', 'held-back', 'scale-drifts', 'out-of-time'] as const)
      expect(ended(why)).toMatchObject({ event: 'fill-fell-short', result: why });
    expect(ended(undefined).result).toBe('held-back');
  });

  test('nobody knows what liquid has run on into the machine, where a valve did not shut or it was never dry', () => {
    expect(ended('valve-open').accounts!.lostTrack).toBe(true);
    expect(ended('stalled').accounts!.lostTrack).toBe(true);
    expect(ended('filled').accounts!.lostTrack).toBe(false);
    expect(ended('filled', {}, { lostTrack: true }).accounts!.lostTrack).toBe(true);
  });

  test('the coil keeps a little, unless nothing was let in', () => {
    expect(ended('filled').accounts!.kept.kg).toBe(0.008);
    expect(ended('filled', { openings: 0 }).accounts!.kept.kg).toBe(0);
    expect(ended('valve-open', { openings: 0 }).accounts!.lostTrack).toBe(false);
  });
});

test('A fill begins with a weighing', () =>
  expect(enterFill(7)).toMatchObject({
    stage: 'fill',
    step: 'weigh',
    sinceMs: 7,
    stepSinceMs: 7,
    openings: 0,
  }));
