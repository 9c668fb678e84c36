// A charge whose flow has ended: what is foreseen of it, when it is helped, and by what.

import { describe, expect, test } from 'vitest';
import { SAFE_COMMANDS } from '../../../controller/signals.ts';
import {
  asHoseFilled,
  foresee,
  helpAfterMs,
  helpFor,
  moreForHelp,
  stepHelp,
} from '../../../controller/stages/charge-assist.ts';
import type { ChargeData } from '../../../controller/stages/data-charge.ts';
import { charging, type Given, scanOf, weighing } from '../support/charging.ts';
import { assisting, HEATER } from '../support/charging-help.ts';
import { codesOf, onOf } from '../support/weighings.ts';

describe('Before anything is given', () => {
  /** R-134a at 10 °C (Tillner-Roth and Baehr): what fills a vehicle of 40 °C is vapour, and stays it. */
  const cold = { tankPa: 414_610, tankTemperatureK: 283.15, ambientK: 313.15 };
  const seesAhead = (given: Given = {}) =>
    foresee(
      charging({ told: ['x'] }),
      weighing(),
      scanOf({ nowMs: 4_000, ...given, seen: { ...cold, ...given.seen } }),
    );

  test('it is told that a warm vehicle will not take its charge, and how much it will', () => {
    const { data, notices } = seesAhead();
    expect(data).toMatchObject({ step: 'weigh', told: ['x', 'charge-will-stall'], assist: undefined });
    expect(notices).toEqual([
      {
        code: 'charge-will-stall',
        // 2.6 L of vapour, 20.23 kg/m³ at 10 °C, a tenth thinner in the warmer vehicle.
        with: { grams: '48', charge: '600', tank: '10', vehicle: '40' },
      },
    ]);
  });

  test('the tank is warmed first where it has a heater, until the vehicle takes it', () => {
    const { data, notices } = seesAhead({ equipment: HEATER });
    expect(data).toMatchObject({ step: 'heat', stepSinceMs: 4_000, told: ['x'] });
    expect(data.assist).toEqual(
      assisting({
        sinceMs: 4_000,
        fromKg: 0,
        heats: true,
        still: weighing(),
        markPa: 414_610,
        markAtMs: 4_000,
      }),
    );
    expect(codesOf({ notices })).toEqual(['tank-heated-first']);
  });

  test('but NOT within a kelvin of its limit, nor without its thermometer', () => {
    const limit = (tankTemperatureK: number | undefined) =>
      codesOf(seesAhead({ equipment: HEATER, seen: { tankTemperatureK } }));
    expect(limit(317.15)).toEqual(['tank-heated-first']);
    expect(limit(317.16)).toEqual(['charge-will-stall']);
    expect(limit(undefined)).toEqual(['charge-will-stall']);
  });

  test('nothing is told where all of it runs in, or nobody can know', () => {
    for (const seen of [{ ambientK: 284 }, { tankPa: undefined }, { ambientK: undefined }]) {
      const { data, notices } = seesAhead({ seen });
      expect(notices).toEqual([]);
      expect(data.told).toEqual(['x']);
    }
  });

  test('what a search has let in is as warm as the vehicle and cools it no more', () => {
    // Cooled by the first vapour alone the metal comes down to the tank; with that vapour in it already it does not.
    const seen = { ambientK: 285 };
    expect(codesOf(seesAhead({ seen }))).toEqual([]);
    expect(codesOf(seesAhead({ seen, accounts: { leakCheck: { admittedKg: 0.05 } } }))).toEqual([
      'charge-will-stall',
    ]);
    expect(codesOf(seesAhead({ seen, accounts: { leakCheck: {} } }))).toEqual([]);
  });
});

describe('A flow that stands is helped', () => {
  const waitsMs = (mostKg: number, given: Given = {}) =>
    helpAfterMs(charging({ mostKg }), 0.3, scanOf(given));

  test('after five minutes, or three quarters of one where the tank has a heater', () => {
    expect(waitsMs(0.3)).toBe(300_000);
    expect(waitsMs(0.3, { equipment: HEATER })).toBe(45_000);
  });

  test('at once where 4 g have run back; with one port after the time that tells a shut coupler', () => {
    expect(waitsMs(0.30401)).toBe(10_000);
    expect(waitsMs(0.30399)).toBe(300_000);
    expect(waitsMs(0.31, { ticket: { ports: 1 } })).toBe(30_000);
  });

  const help = (data: Partial<ChargeData> = {}, given: Given = {}) =>
    helpFor(
      charging({ ...data }),
      0.3,
      scanOf({
        nowMs: 9_000,
        ...given,
        seen: { tankPa: 600_000, highSidePa: 590_000, lowSidePa: 580_000, ...given.seen },
      }),
    );

  test('by a wait in which the vehicle cools, its liquid let out of the manifold first', () => {
    const step = help();
    expect(step!.data).toMatchObject({ step: 'cushion', stepSinceMs: 9_000 });
    expect(step!.data.assist).toEqual(
      assisting({ sinceMs: 9_000, fromKg: 0.3, evenPa: 10_000, markPa: 600_000, markAtMs: 9_000 }),
    );
    expect(onOf(step!.wanted)).toEqual(['highSideValve']);
    expect(step!.notices).toEqual([{ code: 'charge-waits-cooling', with: { charged: '300' } }]);
  });

  test('by the heater where there is one, unless it has shown no effect or the tank is warm enough', () => {
    const codes = (data: Partial<ChargeData>, seen = {}) => codesOf(help(data, { equipment: HEATER, seen })!);
    expect(codes({})).toEqual(['charge-waits-heating']);
    expect(codes({ assist: assisting({ heats: true }) })).toEqual(['charge-waits-heating']);
    expect(codes({ assist: assisting({ heats: false }) })).toEqual(['charge-waits-cooling']);
    expect(codes({}, { tankTemperatureK: 318 })).toEqual(['charge-waits-cooling']);
  });

  test('so often, and so long: the rounds and the time before are counted on', () => {
    const assist = assisting({ rounds: 2, spentMs: 70_000, heats: true });
    expect(help({ assist })!.data.assist).toMatchObject({ rounds: 3, spentMs: 70_000 });
    expect(help({ assist: assisting({ rounds: 5 }) })).toBeDefined();
    expect(help({ assist: assisting({ rounds: 6 }) })).toBeUndefined();
    expect(help({ assist: assisting({ spentMs: 3_599_999 }) })).toBeDefined();
    expect(help({ assist: assisting({ spentMs: 3_600_000 }) })).toBeUndefined();
  });

  test('NOT where the tank is shut or empty, nor without the sensors to see it by', () => {
    expect(help({ told: ['charge-stalled-supply'] })).toBeUndefined();
    expect(help({ told: ['charge-stalled-dip-tube'] })).toBeUndefined();
    expect(help({ told: ['charge-stalled-warm'] })).toBeDefined();
    expect(help({}, { seen: { tankPa: undefined } })).toBeUndefined();
    expect(help({}, { seen: { highSidePa: undefined } })).toBeUndefined();
  });

  test('by the engine after two waits that only cooled, or where no wait is left', () => {
    const ticket = { engine: 'can-run' } as const;
    const step = (over = {}) => help({ assist: assisting(over) }, { ticket })!.data.step;
    expect(step({ rounds: 1 })).toBe('cushion');
    expect(step({ rounds: 2 })).toBe('clear-manifold');
    expect(step({ rounds: 2, heats: true })).toBe('cushion');
    expect(step({ rounds: 6, heats: true })).toBe('clear-manifold');
    expect(help({}, { ticket })!.data.step).toBe('cushion');
    expect(help({ assist: assisting({ rounds: 2 }) }, {})!.data.step).toBe('cushion');
  });

  test('by waiting for an engine that runs to be stopped, which is told, and NOT by heat', () => {
    const step = help({}, { equipment: HEATER, seen: { highSidePa: 900_000, lowSidePa: 200_000 } })!;
    expect(codesOf(step)).toEqual(['charge-stalled-engine']);
    expect(step.data.told).toEqual(['charge-stalled-engine']);
    expect(step.data.assist!.heats).toBe(false);
    expect(onOf(step.wanted)).toEqual(['highSideValve']);
  });
});

describe('The wait begins', () => {
  const assist = assisting({ markAtMs: 1 });

  test('with ten seconds in which the liquid gets room, then with every valve shut', () => {
    const step = (nowMs: number) => stepHelp(charging({ step: 'cushion' }), assist, scanOf({ nowMs }));
    expect(onOf(step(9_999).wanted)).toEqual(['highSideValve']);
    expect(step(9_999).data.step).toBe('cushion');
    expect(step(10_000)).toMatchObject({ data: { step: 'weigh-still' }, wanted: SAFE_COMMANDS });
    const later = stepHelp(
      charging({ step: 'cushion', stepSinceMs: 5_000 }),
      assist,
      scanOf({ nowMs: 14_999 }),
    );
    expect(later.data.step).toBe('cushion');
  });

  test('once the tank has been weighed', () => {
    const sums = { samples: 9, sum: 9 * 2_070_000, hosePaSum: 0 };
    const inProgress = { sinceMs: 0, quietSinceMs: 0, ...sums, lastAtMs: 29_900 };
    const data = charging({ step: 'weigh-still', weighing: inProgress });
    const step = stepHelp(data, assist, scanOf({ nowMs: 30_000, gaveKg: 0.3 }));
    expect(step.data).toMatchObject({ step: 'heat', stepSinceMs: 30_000 });
    expect(step.data.assist).toMatchObject({ markAtMs: 30_000, still: { counts: 2_070_000, atMs: 30_000 } });
    expect(step.wanted).toBe(SAFE_COMMANDS);
    const again = stepHelp({ ...data, weighing: undefined }, assist, scanOf({ nowMs: 30_000 }));
    expect(again.data.step).toBe('weigh-still');
  });
});

describe('After a help', () => {
  const vehiclePa = 414_610;
  const warm = { tankTemperatureK: 303.15 };
  const tankK = (
    data: Partial<ChargeData>,
    deliveredKg: number,
    pa: number | undefined = vehiclePa,
    seen = {},
  ) =>
    asHoseFilled(charging(data), deliveredKg, pa, scanOf({ seen: { ...warm, ...seen } })).seen
      .tankTemperatureK;
  const helped = { assist: assisting({ helped: true, fromKg: 0.2 }) };
  /** R-134a at 10 °C: 1261 kg/m³ in 93 mL of hose and manifold (Tillner-Roth and Baehr). */
  const FULL_KG = 93e-6 * 1_261;

  test('the hose counts as filled as cold as the vehicle, until as much as it holds has followed', () => {
    expect(tankK(helped, 0.2 + FULL_KG - 1e-4)).toBeCloseTo(283.15, 3);
    expect(tankK(helped, 0.2 + FULL_KG + 1e-4)).toBe(303.15);
    expect(tankK(helped, 0.21, vehiclePa, { tankTemperatureK: 280 })).toBe(280);
  });

  test('but NOT where nothing helped, nothing had been given before, or a figure is missing', () => {
    expect(tankK({}, 0.21)).toBe(303.15);
    expect(tankK({ assist: assisting({ helped: false }) }, 0.21)).toBe(303.15);
    expect(tankK({ assist: assisting({ helped: true, fromKg: 0 }) }, 0.05)).toBe(303.15);
    expect(tankK(helped, 0.21, vehiclePa, { tankTemperatureK: undefined })).toBeUndefined();
    const unknown = asHoseFilled(charging(helped), 0.21, undefined, scanOf({ seen: warm }));
    expect(unknown.seen.tankTemperatureK).toBe(303.15);
  });

  test('20 g more are given where what is too much is drawn back', () => {
    expect(moreForHelp(charging({ ...helped, drawsBack: true }))).toBe(0.02);
    expect(moreForHelp(charging({ ...helped, drawsBack: false }))).toBe(0);
    expect(moreForHelp(charging({ drawsBack: true }))).toBe(0);
    expect(moreForHelp(charging({ drawsBack: true, assist: assisting() }))).toBe(0);
  });
});
