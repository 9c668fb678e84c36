// What was charged escapes: both sides fall together within seconds, with nothing open but the hose into the vehicle.
import { describe, expect, test } from 'vitest';
import { SAFE_COMMANDS } from '../../../controller/signals.ts';
import { escaped, watchEscape } from '../../../controller/stages/charge-escape.ts';
import type { ChargeData } from '../../../controller/stages/data-charge.ts';
import { charging, type Given, scanOf } from '../support/charging.ts';

const STOOD = { atMs: 10_000, highPa: 600_000, lowPa: 500_000 };
const FELL = { highSidePa: 574_999, lowSidePa: 474_999 };

function watched(data: Partial<ChargeData> = {}, { seen, ...given }: Given = {}) {
  const charge = charging({
    step: 'blow-down',
    stepSinceMs: 5_000,
    result: 'charged',
    stood: STOOD,
    ...data,
  });
  const after = watchEscape(charge, scanOf({ nowMs: 30_000, ...given, seen: { ...FELL, ...seen } }));
  return after === charge ? 'nothing' : after;
}

describe('A charge escapes', () => {
  test('where both sides fall by more than 25 kPa, and NOT where one does', () => {
    expect(watched()).toBe('escapes');
    expect(watched({}, { seen: { highSidePa: 575_000 } })).toBe('nothing');
    expect(watched({}, { seen: { lowSidePa: 475_000 } })).toBe('nothing');
  });

  test('within twenty seconds: then both are looked at anew', () => {
    const anew = { stood: { atMs: 30_001, highPa: FELL.highSidePa, lowPa: FELL.lowSidePa } };
    expect(watched({}, { nowMs: 30_001 })).toMatchObject(anew);
    expect(watched({ stood: undefined }, { nowMs: 30_001 })).toMatchObject(anew);
  });

  test('NOT while what was given last surges on, nor in another step', () => {
    expect(watched({ stepSinceMs: 28_001 })).toBe('nothing');
    expect(watched({ stepSinceMs: 28_000 })).toBe('escapes');
    expect(watched({ step: 'settle' })).toBe('nothing');
  });

  test('NOT out of a search, a charge that fell short, or beside an engine', () => {
    expect(watched({ part: 'partial' })).toBe('nothing');
    expect(watched({ result: 'stalled' })).toBe('nothing');
    expect(watched({}, { engine: 'suspected' })).toBe('nothing');
  });

  test('NOT where both sides are not seen', () => {
    expect(watched({}, { seen: { highSidePa: undefined } })).toBe('nothing');
    expect(watched({}, { seen: { lowSidePa: undefined } })).toBe('nothing');
    expect(watched({}, { ticket: { ports: 1 } })).toBe('nothing');
    expect(watched({ stood: undefined }, { seen: { highSidePa: undefined } })).toBe('nothing');
    expect(watched({ stood: undefined }, { seen: { lowSidePa: undefined } })).toBe('nothing');
  });
});

test('Every valve is shut at once, what both sides did is told, and nobody knows any more what the vehicle holds', () => {
  const step = escaped(charging({ step: 'blow-down', stood: STOOD }), scanOf({ nowMs: 30_000, seen: FELL }));
  expect(step.wanted).toBe(SAFE_COMMANDS);
  expect(step.data).toMatchObject({ step: 'weigh-after', result: 'valve-open', stepSinceMs: 30_000 });
  expect(step.accounts!.lostTrack).toBe(true);
  expect(step.accounts!.emptyYetSampled).toBe(false);
  expect(step.notices).toEqual([
    { code: 'charge-escapes', with: { highFrom: '600', high: '575', lowFrom: '500', low: '475' } },
  ]);
});
