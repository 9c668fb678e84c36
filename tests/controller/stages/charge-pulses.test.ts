// The last grams of a charge: how long the scale is waited for, what a pulse is sized by, and when they are given up.

import { describe, expect, test } from 'vitest';
import { withReading } from '../../../controller/estimates/masses.ts';
import { pulse, settle } from '../../../controller/stages/charge-pulses.ts';
import { aimedKg } from '../../../controller/stages/charge-target.ts';
import type { ChargeData } from '../../../controller/stages/data-charge.ts';
import { charging, type Given, scanOf } from '../support/charging.ts';
import { assisting } from '../support/charging-help.ts';
import { codesOf, onOf } from '../support/weighings.ts';

const VEHICLE = { vehiclePa: 500_000, topUpKg: 0.6, kgPerMs: 2e-5 };

/** At the end of a settling time, with four readings in the mean and the vehicle's pressure known. */
function settled(deliveredKg: number, data: Partial<ChargeData> = {}, given: Given = {}) {
  const charge = charging({
    step: 'settle',
    ...VEHICLE,
    settledKg: 4 * deliveredKg,
    settledSamples: 4,
    ...data,
  });
  return settle(charge, scanOf({ nowMs: 1_500, gaveKg: deliveredKg, ...given }));
}

describe('The scale is waited for', () => {
  test('for a second and a half after a pulse, of which the last 0.7 s count', () => {
    const at = (nowMs: number) => settled(0.5, { settledKg: 0, settledSamples: 0 }, { nowMs }).data;
    expect(at(799)).toMatchObject({ step: 'settle', settledSamples: 0 });
    expect(at(800)).toMatchObject({ step: 'settle', settledSamples: 1 });
    expect(at(800).settledKg).toBeCloseTo(0.5, 9);
    const end = (samples: number, nowMs = 1_500) =>
      settled(0.59, { settledKg: samples * 0.59, settledSamples: samples }, { nowMs }).data.step;
    expect(end(1)).toBe('settle');
    expect(end(2)).toBe('pulse');
    expect(end(2, 1_499)).toBe('settle');
  });

  test('for 25 s before the first pulse: then the hose shows the pressure of the vehicle', () => {
    const first = { vehiclePa: undefined, settledKg: 0, settledSamples: 0 };
    expect(settled(0.5, first, { nowMs: 24_299 }).data.settledSamples).toBe(0);
    expect(settled(0.5, first, { nowMs: 24_300 }).data.settledSamples).toBe(1);
    expect(settled(0.59, { vehiclePa: undefined, paused: true }, { nowMs: 24_999 }).data.step).toBe('settle');
    expect(settled(0.59, { vehiclePa: undefined, paused: true }, { nowMs: 25_000 }).data.step).toBe('pulse');
  });

  test('from when the valve was shut', () => {
    const begun = { settledKg: 0, settledSamples: 0, stepSinceMs: 4_000 };
    expect(settled(0.5, begun, { nowMs: 4_799 }).data.settledSamples).toBe(0);
    expect(settled(0.5, begun, { nowMs: 4_800 }).data.settledSamples).toBe(1);
  });

  test('with the high-side valve open alone', () => {
    for (const nowMs of [0, 900]) expect(onOf(settled(0.5, {}, { nowMs }).wanted)).toEqual(['highSideValve']);
  });

  test('once more when the force of the hoses has been learnt on the way', () => {
    // A gram for every bar by which the hose falls: 1e-8 kg/Pa.
    const readings = Array.from({ length: 30 }, (_, n) => 600_000 - 10_000 * n);
    const falling = readings.reduce((sums, pa) => withReading(sums, pa, 7.5 + 1e-8 * pa), charging().falling);
    const step = settled(
      0.5,
      { vehiclePa: undefined, falling },
      { nowMs: 25_000, scale: { counts: 2_050_000 } },
    );
    expect(step.data).toMatchObject({ step: 'settle', paused: true, settledKg: 0, settledSamples: 0 });
    expect(onOf(step.wanted)).toEqual(['highSideValve']);
    expect(step.accounts!.hoseForce.kgPerPa).toBeGreaterThan(0);
  });

  test('two minutes while it is not trusted, and the mean begins anew', () => {
    const scale = { trust: 'disturbed' } as const;
    const waits = settled(0.5, {}, { nowMs: 120_000, scale });
    expect(waits.data).toMatchObject({ step: 'settle', settledKg: 0, settledSamples: 0 });
    expect(onOf(waits.wanted)).toEqual(['highSideValve']);
    const data = charging({ ...VEHICLE, step: 'settle' });
    expect(settle(data, scanOf({ nowMs: 900, scale })).data).toBe(data);
    expect(settled(0.5, {}, { nowMs: 120_001, scale }).data).toMatchObject({
      step: 'blow-down',
      result: 'scale-lost',
    });
  });

  test('NOT where it was moved too often', () => {
    expect(settled(0.5, {}, { nowMs: 100, scale: { bumps: 4 } }).data.result).toBe('scale-lost');
    expect(settled(0.5, {}, { nowMs: 100, scale: { bumps: 3 } }).data.step).toBe('settle');
  });
});

describe('A pulse', () => {
  test('is as long as what is missing takes, between 150 and 300 ms', () => {
    const msFor = (grams: number) => settled(0.6 - grams / 1000).data.pulseMs;
    expect(msFor(4.4)).toBe(220);
    expect(msFor(2.5)).toBe(150);
    expect(msFor(8)).toBe(300);
    const step = settled(0.5956);
    expect(onOf(step.wanted)).toEqual(['highSideValve', 'chargeValve']);
    expect(step.wanted.chargeValve).toEqual({ on: true, offAfterMs: 220 });
    expect(step.data).toMatchObject({ step: 'pulse', stepSinceMs: 1_500, pulses: 1 });
    expect(step.data.deliveredAtShutKg).toBeCloseTo(0.5956, 9);
  });

  test('is sized by what the last one brought: two fifths of it are learnt, and never less than nothing', () => {
    const learns = (broughtG: number, pulseMs = 200) =>
      settled(0.55, { pulseMs, pulses: 1, deliveredAtShutKg: 0.55 - broughtG / 1000 }).data.kgPerMs;
    expect(learns(6)).toBeCloseTo(2e-5 + 0.4 * 1e-5, 12);
    expect(learns(-6)).toBeCloseTo(0.6 * 2e-5, 12);
    expect(learns(6, 0)).toBe(2e-5);
  });

  test('is NOT given where it would do no better: the charge has its grams', () => {
    // Half a shortest pulse is 1.5 g.
    const done = settled(0.59851);
    expect(done.data).toMatchObject({ step: 'blow-down', result: 'charged' });
    expect(done.accounts!.targetKg).toBe(0.6);
    expect(settled(0.59849).data.step).toBe('pulse');
  });

  test('is NOT given where more than 90 g are missing before the first: the valve opens again', () => {
    const far = settled(0.5099);
    expect(far.data).toMatchObject({ step: 'full', stepSinceMs: 1_500, vehiclePa: undefined, pulseMs: 0 });
    expect(far.data.mostKg).toBeCloseTo(0.5099, 9);
    expect(onOf(far.wanted)).toEqual(['highSideValve']);
    expect(far.accounts!.targetKg).toBe(0.6);
    expect(settled(0.5101).data.step).toBe('pulse');
    expect(settled(0.5, { pulses: 1 }).data.step).toBe('pulse');
  });

  test('counts on from what was given when the pulses were last looked at', () => {
    const mark = (pulses: number) => settled(0.55, { pulses, pulsedKg: 0.5 }).data.pulsedKg;
    expect(mark(0)).toBeCloseTo(0.55, 9);
    expect(mark(1)).toBe(0.5);
    expect(mark(10)).toBeCloseTo(0.55, 9);
    expect(mark(11)).toBe(0.5);
  });
});

describe('Pulses that bring too little', () => {
  const seen = { tankPa: 600_000, highSidePa: 595_000, lowSidePa: 590_000 };
  const tenth = (broughtG: number, pulses = 10, given: Given = {}) =>
    settled(0.55, { pulses, pulsedKg: 0.55 - broughtG / 1000 }, { seen, ...given });

  test('are helped: less than 2 g in ten', () => {
    const step = tenth(1.9);
    expect(step.data.step).toBe('cushion');
    expect(codesOf(step)).toEqual(['charge-waits-cooling']);
    expect(step.accounts!.targetKg).toBe(0.6);
    expect(tenth(2.1).data.step).toBe('pulse');
    expect(tenth(1.9, 9).data.step).toBe('pulse');
    expect(tenth(1.9, 20).data.step).toBe('cushion');
  });

  test('are NOT looked at before the first, however little has come', () => {
    const first = settled(0.001, { part: 'partial', topUpKg: undefined, pulses: 0 }, { seen });
    expect(first.data.step).toBe('pulse');
  });

  test('go on where nothing helps', () =>
    expect(tenth(1.9, 10, { seen: { ...seen, tankPa: undefined } }).data.step).toBe('pulse'));

  test('are given up after sixty: short where more than 15 g are missing', () => {
    const sixtieth = (missingG: number, pulses = 60) => {
      const deliveredKg = 0.6 - missingG / 1000;
      return settled(deliveredKg, { pulses, pulsedKg: deliveredKg - 0.1 });
    };
    expect(sixtieth(15.1).data).toMatchObject({ step: 'blow-down', result: 'stalled' });
    expect(sixtieth(14.9).data).toMatchObject({ step: 'blow-down', result: 'charged' });
    expect(sixtieth(15.1).accounts!.targetKg).toBe(0.6);
    expect(sixtieth(15.1, 59).data.step).toBe('pulse');
  });
});

describe('What is aimed at', () => {
  const free = { topUpKg: undefined };

  test('is reckoned with the pressure that the vehicle shows, its sensor as zeroed against the vacuum', () => {
    const given = { seen: { highSidePa: 520_000 }, accounts: { highSideZeroPa: 4_000 }, nowMs: 25_000 };
    const step = settled(0.58, { ...free, vehiclePa: undefined, paused: true, drawsBack: true }, given);
    expect(step.data.vehiclePa).toBe(516_000);
    const input = scanOf(given);
    expect(step.data.targetKg).toBeCloseTo(aimedKg(input, true, 0, 516_000), 9);
    expect(step.accounts!.targetKg).toBe(step.data.targetKg);
  });

  test('is 20 g more after a help, where that is drawn back', () => {
    const plain = settled(0.58, { ...free, drawsBack: true }).data.targetKg;
    const helped = settled(0.58, { ...free, drawsBack: true, assist: assisting({ helped: true, fromKg: 0 }) })
      .data.targetKg;
    expect(helped - plain).toBeCloseTo(0.02, 9);
  });

  test('is 13 % of the nominal charge for a search', () =>
    expect(settled(0.06, { ...free, part: 'partial' }).data.targetKg).toBeCloseTo(0.078, 9));

  test('is not known better by a high side that has no value', () => {
    const step = settled(
      0.58,
      { ...free, vehiclePa: undefined, paused: true },
      { nowMs: 25_000, seen: { highSidePa: undefined } },
    );
    expect(step.data.vehiclePa).toBeUndefined();
    expect(step.data.step).toBe('pulse');
  });
});

describe('While a pulse is under way', () => {
  const given = (nowMs: number, scale: Given['scale'] = {}) =>
    pulse(charging({ step: 'pulse', pulseMs: 220, stepSinceMs: 1_000 }), scanOf({ nowMs, scale }));

  test('the same countdown stands until the valve has surely shut', () => {
    expect(given(1_419).wanted.chargeValve).toEqual({ on: true, offAfterMs: 220 });
    expect(given(1_419).data.step).toBe('pulse');
    expect(onOf(given(1_420).wanted)).toEqual(['highSideValve']);
    expect(given(1_420).data).toMatchObject({ step: 'settle', stepSinceMs: 1_420, pulseMs: 220 });
  });

  test('a scale that is disturbed ends it', () =>
    expect(codesOf(given(1_100, { trust: 'disturbed' }))).toEqual(['scale-disturbed']));
});
