// How a charge ends, and what of it begins anew with each of its steps.

import { describe, expect, test } from 'vitest';
import {
  at,
  blowDown,
  disturbed,
  flowsAnew,
  given,
  movedTooOften,
} from '../../../controller/stages/charge-steps.ts';
import type { ChargeData } from '../../../controller/stages/data-charge.ts';
import { charging, type Given, scanOf, weighing } from '../support/charging.ts';
import { codesOf, onOf } from '../support/weighings.ts';

/** Short of its 600 g by so much, with everything read and even. */
function shortBy(grams: number, data: Partial<ChargeData> = {}, given: Given = {}) {
  const seen = { tankPa: 600_000, highSidePa: 600_000, lowSidePa: 600_000 };
  return blowDown(charging(data), scanOf({ seen, gaveKg: 0.6 - grams / 1000, ...given }), 'stalled');
}

describe('A charge that stalls short of its target', () => {
  test('falls short, and what it has and should have is told', () => {
    const step = shortBy(100);
    expect(step.data).toMatchObject({ step: 'blow-down', result: 'stalled' });
    expect(onOf(step.wanted)).toEqual(['highSideValve']);
    expect(step.notices).toEqual([{ code: 'charge-fell-short', with: { charged: '500', target: '600' } }]);
  });

  test('is a charge where no more is missing than was to be drawn back: four fifths of 35 g', () => {
    expect(shortBy(27.9, { drawsBack: true }).data.result).toBe('charged');
    expect(shortBy(27.9, { drawsBack: true }).notices).toEqual([]);
    expect(shortBy(28.1, { drawsBack: true }).data.result).toBe('stalled');
  });

  test('after a search, which leaves the hoses fuller, four fifths of 60 g', () => {
    const accounts = { leakCheck: { admittedKg: 0.078 } };
    expect(shortBy(47.9, { drawsBack: true }, { accounts }).data.result).toBe('charged');
    expect(shortBy(48.1, { drawsBack: true }, { accounts }).data.result).toBe('stalled');
  });

  test('has nothing to spare where nothing is drawn back, or a shortage is being made good', () => {
    expect(shortBy(0.1).data.result).toBe('stalled');
    expect(shortBy(0.1, { drawsBack: true, topUpKg: 0.7 }).data.result).toBe('stalled');
  });

  test('for a search can do without three hundredths of the nominal charge', () => {
    const part = (grams: number) => shortBy(grams, { part: 'partial', drawsBack: true });
    expect(part(17.9).data.result).toBe('charged');
    expect(part(18.1).data.result).toBe('stalled');
    expect(codesOf(part(18.1))).toEqual(['partial-charge-short']);
  });

  test('is given up with its cause where one is seen', () => {
    expect(codesOf(shortBy(100, {}, { seen: { tankPa: undefined } }))).toEqual([
      'charge-stalled-blind',
      'charge-fell-short',
    ]);
  });
});

describe('A charge that ends otherwise', () => {
  const ends = (why: NonNullable<ChargeData['result']>) =>
    blowDown(charging({ drawsBack: true }), scanOf({ gaveKg: 0.59, seen: { tankPa: undefined } }), why);

  test('by a shut coupler says so before it says how short it is', () => {
    const { data, notices } = ends('no-response');
    expect(data.result).toBe('no-response');
    expect(notices).toEqual([
      { code: 'charge-stalled-coupler', with: { charged: '590' } },
      { code: 'charge-fell-short', with: { charged: '590', target: '600' } },
    ]);
  });

  test('by a lost scale is NOT taken for a charge, and nothing is said of a stall', () => {
    expect(ends('scale-lost').data.result).toBe('scale-lost');
    expect(codesOf(ends('scale-lost'))).toEqual(['charge-fell-short']);
  });

  test('with its grams says nothing', () => expect(ends('charged').notices).toEqual([]));
});

describe('A scale that is disturbed', () => {
  test('shuts the charge valve, forgets the pulse, and is told once', () => {
    const first = disturbed(charging({ pulseMs: 200, told: ['charge-stalled-warm'] }), scanOf());
    expect(first.data).toMatchObject({
      step: 'settle',
      pulseMs: 0,
      told: ['charge-stalled-warm', 'scale-disturbed'],
    });
    expect(onOf(first.wanted)).toEqual(['highSideValve']);
    expect(codesOf(first)).toEqual(['scale-disturbed']);
    const second = disturbed(first.data, scanOf());
    expect(second.notices).toEqual([]);
    expect(second.data.told).toEqual(first.data.told);
  });
});

describe('What was given', () => {
  test('is what the tank has lost since it was weighed, and nothing before that', () => {
    expect(given(charging(), scanOf({ gaveKg: 0.25 }))).toBeCloseTo(0.25, 9);
    expect(given(charging({ reference: undefined }), scanOf({ gaveKg: 0.25 }))).toBe(0);
  });

  test('is no longer known after the fourth bump since then', () => {
    const bumped = (bumps: number, reference = weighing({ bumps: 2 })) =>
      movedTooOften(charging({ reference }), scanOf({ scale: { bumps } }));
    expect(bumped(5)).toBe(false);
    expect(bumped(6)).toBe(true);
    expect(movedTooOften(charging({ reference: undefined }), scanOf({ scale: { bumps: 9 } }))).toBe(false);
  });
});

test('A step begins with no stall, no countdown and no mean of the step before', () => {
  const busy = charging({
    stallSinceMs: 1,
    stalledMs: 9,
    slowSinceMs: 2,
    shutDueMs: 3,
    settledKg: 1,
    settledSamples: 4,
    pulses: 5,
    peakFlowKgPerS: 0.02,
  });
  expect(at(busy, 'settle', 700)).toEqual(
    charging({ step: 'settle', stepSinceMs: 700, pulses: 5, peakFlowKgPerS: 0.02 }),
  );
  expect(flowsAnew(charging({ ...busy, pulseMs: 6, pulsedKg: 7 }))).toMatchObject({
    pulses: 0,
    peakFlowKgPerS: 0,
    pulseMs: 0,
    pulsedKg: 0,
    told: [],
  });
});
