// The wait of a charge for its tank to stand above the vehicle: when it has done its work, and when it is given up.

import { describe, expect, test } from 'vitest';
import { saturationPa } from '../../../controller/estimates/saturation.ts';
import { SAFE_COMMANDS } from '../../../controller/signals.ts';
import { afterWait, stepHelp } from '../../../controller/stages/charge-assist.ts';
import type { ChargeAssist, ChargeData } from '../../../controller/stages/data-charge.ts';
import { want } from '../../../controller/stages/stage.ts';
import { charging, type Given, scanOf, weighing } from '../support/charging.ts';
import { assisting, HEATER } from '../support/charging-help.ts';
import { R134A } from '../support/machine.ts';
import { codesOf, onOf } from '../support/weighings.ts';

const MINUTE_MS = 60_000;
const HEATING = { ...SAFE_COMMANDS, tankHeater: { on: true } };

/** A minute into the wait, tank and vehicle as even as when it began. */
function wait(assist: Partial<ChargeAssist>, given: Given = {}, data: Partial<ChargeData> = {}) {
  const { seen, ...rest } = given;
  const charge = charging({ step: 'heat', mostKg: 0.3, ...data });
  return stepHelp(
    charge,
    assisting({ markGapPa: 0, markPa: 600_000, ...assist }),
    scanOf({
      nowMs: MINUTE_MS,
      equipment: HEATER,
      permitted: HEATING,
      ...rest,
      seen: { tankPa: 600_000, highSidePa: 600_000, tankTemperatureK: 295, ambientK: 295, ...seen },
    }),
  );
}

const ended = (step: ReturnType<typeof wait>) =>
  step.data.step === 'weigh-again' ? (step.data.assist!.helped ? 'helped' : 'in vain') : step.data.step;

describe('A vehicle that cools', () => {
  test('is waited for with everything off until the tank leads by 15 kPa, the sensors evened out', () => {
    expect(ended(wait({}, { seen: { tankPa: 615_000 } }))).toBe('helped');
    const waits = wait({}, { seen: { tankPa: 614_999 } });
    expect(ended(waits)).toBe('heat');
    expect(waits.wanted).toBe(SAFE_COMMANDS);
    expect(ended(wait({ evenPa: 5_000 }, { seen: { tankPa: 619_999 } }))).toBe('heat');
    expect(ended(wait({ evenPa: 5_000 }, { seen: { tankPa: 620_000 } }))).toBe('helped');
  });

  test('is weighed when it is done, with every valve shut', () => {
    const done = wait({}, { seen: { tankPa: 615_000 } }, { stepSinceMs: 5 });
    expect(done.wanted).toBe(SAFE_COMMANDS);
    expect(done.data).toMatchObject({ step: 'weigh-again', stepSinceMs: MINUTE_MS, weighing: undefined });
  });

  test('is given up where a sensor has no value any more', () => {
    expect(ended(wait({}, { seen: { tankPa: undefined } }))).toBe('in vain');
    expect(ended(wait({}, { seen: { highSidePa: undefined } }))).toBe('in vain');
  });

  test('is given up after an hour of waiting in all', () => {
    const atMs = (ms: number) => ended(wait({ spentMs: 50 * MINUTE_MS, markAtMs: ms }, { nowMs: ms }));
    expect(atMs(10 * MINUTE_MS)).toBe('heat');
    expect(atMs(10 * MINUTE_MS + 1)).toBe('in vain');
    expect(ended(wait({ sinceMs: MINUTE_MS, markAtMs: 61 * MINUTE_MS }, { nowMs: 61 * MINUTE_MS }))).toBe(
      'heat',
    );
  });

  test('is given up where the lead has not grown by 4 kPa in six minutes', () => {
    const grown = (byPa: number, ms = 6 * MINUTE_MS) =>
      wait({ markGapPa: 2_000 }, { nowMs: ms, seen: { tankPa: 602_000 + byPa } });
    expect(ended(grown(3_999))).toBe('in vain');
    expect(ended(grown(3_999, 6 * MINUTE_MS - 1))).toBe('heat');
    const goesOn = grown(4_000);
    expect(ended(goesOn)).toBe('heat');
    expect(goesOn.data.assist).toMatchObject({ markGapPa: 6_000, markPa: 606_000, markAtMs: 6 * MINUTE_MS });
  });

  test('is measured from the first look on', () => {
    const step = wait({ markGapPa: undefined }, { nowMs: 7 * MINUTE_MS, seen: { tankPa: 603_000 } });
    expect(step.data.assist).toMatchObject({ markGapPa: 3_000, markAtMs: 0 });
    expect(ended(step)).toBe('heat');
  });
});

describe('A tank that is heated', () => {
  const heats = { heats: true };

  test('has its heater on until it leads by 25 kPa and is 2 K warmer than the vehicle', () => {
    expect(wait(heats).wanted).toEqual(want('tankHeater'));
    const warmPa = saturationPa(R134A, 297);
    const warm = (tankPa: number, gapPa = 25_000) =>
      ended(wait(heats, { seen: { tankPa, highSidePa: tankPa - gapPa } }));
    expect(warm(warmPa + 1)).toBe('helped');
    expect(warm(warmPa - 1)).toBe('heat');
    expect(warm(warmPa + 1, 24_999)).toBe('heat');
  });

  test('must lead by as much more, and be as much warmer, with each further round', () => {
    const third = { ...heats, rounds: 3 };
    const warmPa = saturationPa(R134A, 301);
    const warm = (tankPa: number, gapPa = 75_000) =>
      ended(wait(third, { seen: { tankPa, highSidePa: tankPa - gapPa } }));
    expect(warm(warmPa + 1)).toBe('helped');
    expect(warm(warmPa - 1)).toBe('heat');
    expect(warm(warmPa + 1, 74_999)).toBe('heat');
  });

  test('is believed as the high side is, which was zeroed against the vacuum; before anything is given as it reads', () => {
    const warmPa = saturationPa(R134A, 297);
    const given = (tankPa: number): Given => ({
      accounts: { highSideZeroPa: 3_000 },
      seen: { tankPa, highSidePa: tankPa - 40_000 },
    });
    const off = { ...heats, evenPa: 4_000 };
    expect(ended(wait(off, given(warmPa + 7_001)))).toBe('helped');
    expect(ended(wait(off, given(warmPa + 6_999)))).toBe('heat');
    expect(ended(wait(off, given(warmPa + 1), { mostKg: 0 }))).toBe('helped');
  });

  test('in a room without a thermometer counts against 20 °C', () => {
    const warmPa = saturationPa(R134A, 295.15);
    const seen = (tankPa: number) => ({ tankPa, highSidePa: tankPa - 30_000, ambientK: undefined });
    expect(ended(wait(heats, { seen: seen(warmPa + 1) }))).toBe('helped');
    expect(ended(wait(heats, { seen: seen(warmPa - 1) }))).toBe('heat');
  });

  test('is left to cool its vehicle where it is at its limit, or an interlock holds the heater back for five seconds', () => {
    const cools = (given: Given, data: Partial<ChargeData> = {}) => {
      const step = wait(heats, given, data);
      expect(onOf(step.wanted)).toEqual(step.data.assist?.heats === false ? [] : ['tankHeater']);
      return step.data.assist?.heats === false ? step.data.assist : undefined;
    };
    expect(cools({ seen: { tankTemperatureK: 317.16, tankPa: 607_000 } })).toMatchObject({
      markGapPa: 7_000,
      markAtMs: MINUTE_MS,
    });
    expect(cools({ permitted: SAFE_COMMANDS }, { stepSinceMs: MINUTE_MS - 5_001 })).toBeDefined();
    expect(cools({ permitted: SAFE_COMMANDS }, { stepSinceMs: MINUTE_MS - 5_000 })).toBeUndefined();
    expect(cools({})).toBeUndefined();
  });

  test('that has not risen by 8 kPa in six minutes has no heater that works, and that is told', () => {
    const risen = (byPa: number, nowMs = 6 * MINUTE_MS, seen = {}) =>
      wait(heats, { nowMs, seen: { tankPa: 600_000 + byPa, ...seen } });
    expect(risen(7_999).notices).toEqual([{ code: 'tank-heater-no-effect', with: { minutes: '6' } }]);
    expect(risen(7_999).data.assist).toMatchObject({
      heats: false,
      markGapPa: 7_999,
      markAtMs: 6 * MINUTE_MS,
    });
    expect(risen(7_999).wanted).toBe(SAFE_COMMANDS);
    expect(codesOf(risen(7_999, 6 * MINUTE_MS - 1))).toEqual([]);
    const goesOn = risen(8_000);
    expect(codesOf(goesOn)).toEqual([]);
    expect(ended(goesOn)).toBe('heat');
    expect(goesOn.data.assist).toMatchObject({ heats: true, markPa: 608_000, markGapPa: 8_000 });
  });

  test('and stands in a warmer room has that to thank for a part of it', () => {
    // A tenth of the 20 K between 20 and 40 °C, by linear pressure some 34 kPa; R-134a gains 17 kPa/K there.
    const roomPa = saturationPa(R134A, 295.15) - saturationPa(R134A, 293.15);
    const risen = (byPa: number, seen = {}) =>
      codesOf(
        wait(heats, {
          nowMs: 6 * MINUTE_MS,
          seen: { tankPa: 600_000 + byPa, tankTemperatureK: 293.15, ambientK: 313.15, ...seen },
        }),
      );
    expect(risen(8_000 + roomPa - 1)).toEqual(['tank-heater-no-effect']);
    expect(risen(8_000 + roomPa + 1)).toEqual([]);
    for (const seen of [{ ambientK: 290 }, { ambientK: undefined }, { tankTemperatureK: 313.15 }]) {
      expect(risen(8_000, seen)).toEqual([]);
      expect(risen(7_999, seen)).toEqual(['tank-heater-no-effect']);
    }
  });
});

describe('After the wait', () => {
  const still = weighing({ counts: 2_070_000 });
  const counts = (weighed: { readonly counts: number } | undefined) => weighed?.counts;
  function waited(
    shiftKg: number,
    assist: Partial<ChargeAssist> = {},
    data: Partial<ChargeData> = {},
    accounts = {},
  ) {
    const before = { weighed: weighing(), weighedBeforeCharge: weighing(), ...accounts };
    const again = weighing({ counts: 2_070_000 + shiftKg * 100_000 });
    return afterWait(
      charging({ mostKg: 0.3, ...data }),
      assisting({ still, sinceMs: 20_000, spentMs: 5_000, ...assist }),
      scanOf({ nowMs: 80_000, accounts: before }),
      again,
    );
  }

  test('it counts among the time that was waited', () => expect(waited(0).data.assist!.spentMs).toBe(65_000));

  test('what the scale has drifted by is taken out of every weighing from before it', () => {
    const { data, accounts } = waited(0.0119);
    expect(counts(data.reference)).toBeCloseTo(2_101_190, 6);
    expect(counts(accounts.weighed)).toBeCloseTo(2_101_190, 6);
    expect(counts(accounts.weighedBeforeCharge)).toBeCloseTo(2_101_190, 6);
    const none = waited(0.0119, {}, { reference: undefined }, { weighed: undefined });
    expect(none.data.reference).toBeUndefined();
    expect(none.accounts.weighed).toBeUndefined();
  });

  test('12 g are no drift where liquid stands in the hoses, and 50 g are none before', () => {
    const moved = (shiftKg: number, mostKg: number) =>
      counts(waited(shiftKg, {}, { mostKg }).data.reference) !== 2_100_000;
    for (const way of [1, -1]) {
      expect(moved(way * 0.0119, 0.3)).toBe(true);
      expect(moved(way * 0.0121, 0.3)).toBe(false);
      expect(moved(way * 0.0499, 0)).toBe(true);
      expect(moved(way * 0.0501, 0)).toBe(false);
    }
  });

  test('nothing is moved where the tank was not weighed when it began', () => {
    const { data, accounts } = waited(0.01, { still: undefined });
    expect(counts(data.reference)).toBe(2_100_000);
    expect(counts(accounts.weighed)).toBe(2_100_000);
    expect(data.assist!.spentMs).toBe(65_000);
  });
});
