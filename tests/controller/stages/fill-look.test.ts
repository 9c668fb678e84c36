// What the hose of a supply cylinder must show before anything is drawn from it.

import { describe, expect, test } from 'vitest';
import { saturationPa } from '../../../controller/estimates/saturation.ts';
import { SAFE_COMMANDS } from '../../../controller/signals.ts';
import { enterFill, stepFill } from '../../../controller/stages/fill.ts';
import { type Given, scanOf } from '../support/charging.ts';
import { R134A } from '../support/machine.ts';
import { codesOf } from '../support/weighings.ts';

const ticket = { service: 'fill-tank', fillKg: 2 } as const;
/** A high side that tells 30 kPa above the atmosphere for sure: three deviations of 7.5 kPa. */
const LEAST_PA = 101_325 + 30_000 + 22_500;

describe('The hose of the cylinder', () => {
  const look = (seen: NonNullable<Given['seen']>, nowMs = 15_000) =>
    stepFill(
      { ...enterFill(0), step: 'look', stepSinceMs: 6_000 },
      scanOf({ ticket, nowMs, seen: { highSidePa: 571_710, ambientK: 293.15, ...seen } }),
    );
  const next = { data: { step: 'weigh-connected', stepSinceMs: 15_000 }, wanted: SAFE_COMMANDS };

  test('is looked at for five seconds', () => {
    expect(look({}, 10_999).data.step).toBe('look');
    expect(look({}, 11_000).data.step).toBe('weigh-connected');
    expect(look({})).toMatchObject(next);
    expect(codesOf(look({}))).toEqual([]);
  });

  test('is refused where its pressure stays unknown for four more', () => {
    const unread = look({ highSidePa: undefined });
    expect(unread).toMatchObject({ event: 'cylinder-unfit', wanted: SAFE_COMMANDS, data: { step: 'look' } });
    expect(codesOf(unread)).toEqual(['cylinder-pressure-unknown']);
    const waits = look({ highSidePa: undefined }, 14_999);
    expect(codesOf(waits)).toEqual([]);
    expect(waits).toMatchObject({ data: { step: 'look' }, wanted: SAFE_COMMANDS });
  });

  test('is refused where it surely stands no higher than 30 kPa above the atmosphere', () => {
    expect(look({ highSidePa: LEAST_PA }).notices).toEqual([
      { code: 'cylinder-without-pressure', with: { pressure: '154' } },
    ]);
    expect(codesOf(look({ highSidePa: LEAST_PA + 1 }))).toEqual(['cylinder-below-saturation']);
  });

  test('is refused in a room below 10 °C, and in one whose temperature nobody knows', () => {
    expect(look({ ambientK: 283.14, highSidePa: 414_610 }).notices).toEqual([
      { code: 'too-cold-to-fill', with: { temperature: '10' } },
    ]);
    expect(look({ ambientK: 283.15, highSidePa: 414_610 })).toMatchObject(next);
    expect(look({ ambientK: undefined }).notices).toEqual([
      { code: 'too-cold-to-fill', with: { temperature: 'an unknown number of' } },
    ]);
  });

  test('is refused beyond doubt above saturation: 40 kPa, and what gauge and thermometer are off by', () => {
    const limitPa = saturationPa(R134A, 293.15 + 0.9) + 40_000 + 22_500;
    expect(look({ highSidePa: limitPa - 1 })).toMatchObject(next);
    expect(look({ highSidePa: limitPa + 1 }).notices).toEqual([
      { code: 'cylinder-above-saturation', with: { excess: '63' } },
    ]);
  });

  test('is told where it stands lower than that of a cylinder 10 K colder', () => {
    const limitPa = 414_610 - 22_500;
    expect(codesOf(look({ highSidePa: limitPa + 1 }))).toEqual([]);
    const low = look({ highSidePa: limitPa - 1 });
    expect(low).toMatchObject(next);
    expect(low.notices).toEqual([{ code: 'cylinder-below-saturation', with: { shortage: '180' } }]);
  });
});
