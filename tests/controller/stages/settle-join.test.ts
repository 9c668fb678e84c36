// Settle near the atmosphere: the vehicle joined to the absolute sensor, and the machine looked at alone.

import { describe, expect, test } from 'vitest';
import type { SettleData } from '../../../controller/stages/data-recovery.ts';
import { enterSettle, stepSettle } from '../../../controller/stages/settle.ts';
import { type Given, NOW_MS, shown } from '../support/stage-input.ts';
import { codesOf, onOf } from '../support/weighings.ts';

type More = Partial<SettleData>;
const stepped = (step: SettleData['step'], waitedMs: number, more: More = {}, given: Given = {}) =>
  stepSettle({ ...enterSettle(NOW_MS - waitedMs), step, ...more }, shown(given));
const charges = { service: 'evacuate-and-charge' } as const;
const BOTH = ['highSideValve', 'lowSideValve'];

describe('The joined vehicle', () => {
  const join = (manifoldPa: number | undefined, given: Given = {}, waitedMs = 3_000) =>
    stepped('join', waitedMs, {}, { ...given, seen: { manifoldPa, ...given.seen } });

  test('is looked at for three seconds', () => {
    expect(join(60_000, {}, 2_999).event).toBeUndefined();
    expect(onOf(join(60_000, {}, 2_999).wanted)).toEqual(BOTH);
    expect(onOf(join(60_000, { ticket: { ports: 1 } }, 2_999).wanted)).toEqual(['highSideValve']);
    expect(join(60_000).event).toBe('vehicle-found-empty');
    expect(onOf(join(60_000).wanted)).toEqual([]);
  });

  test('is empty at 1.05 bar or less, and on a mountain at 50 mbar above the barometer', () => {
    expect(join(105_000).notices).toEqual([{ code: 'vehicle-empty', with: { pressure: '105' } }]);
    expect(join(105_001)).toMatchObject({ data: { step: 'weigh-connected' }, notices: [] });
    // Gauges that tell another tale are not tested: the absolute sensor has decided.
    const gauges = { seen: { highSidePa: 400_000, lowSidePa: 400_000 } };
    expect(join(110_000, gauges).data.step).toBe('weigh-connected');
    const high = { seen: { barometerPa: 90_000 } };
    expect(join(95_000, high).event).toBe('vehicle-found-empty');
    expect(join(95_001, high).data.step).toBe('weigh-connected');
  });

  test('beyond the span of the sensor has pressure, whatever the gauges say', () => {
    const over: Given = {
      seen: { manifoldOverSpan: true, highSidePa: 170_000, lowSidePa: 165_000 },
      ticket: charges,
    };
    expect(join(undefined, over).notices).toEqual([
      { code: 'vehicle-pressurised', with: { pressure: '170' } },
    ]);
    const blind = { ...over, seen: { manifoldOverSpan: true, highSidePa: undefined, lowSidePa: undefined } };
    expect(join(undefined, blind).notices).toMatchObject([{ with: { pressure: '105' } }]);
  });

  test('with one port shows as well which side has answered', () => {
    const pulseTest = {
      highFromPa: 248_000,
      lowFromPa: 172_000,
      highLowestPa: 248_000,
      lowLowestPa: 172_000,
    };
    const answered = (lowPa: number, given: Given = {}) => {
      const over = { manifoldOverSpan: true, highSidePa: 790_000, lowSidePa: lowPa };
      const seen = { manifoldPa: undefined, ...over };
      const dipped = stepped('join', 300, { pulseTest }, { ...given, seen }).data.pulseTest;
      return stepped(
        'join',
        3_000,
        { pulseTest: dipped },
        { ...given, seen: { ...seen, lowSidePa: 172_000 } },
      );
    };
    const one: Given = { ticket: { ports: 1 } };
    expect(answered(134_000, one)).toMatchObject({
      result: 'sides-swapped',
      event: 'vehicle-found-pressurised',
    });
    expect(answered(171_000, one).result).toBeUndefined();
    expect(answered(171_000, one).data.step).toBe('weigh-connected');
  });

  test('without that sensor is given a minute, and has pressure where a gauge shows 0.4 bar beyond empty', () => {
    const gauge = (pa: number | undefined, waitedMs = 60_000) =>
      join(undefined, { seen: { highSidePa: pa, lowSidePa: pa }, ticket: charges }, waitedMs);
    expect(gauge(145_001, 59_999).event).toBeUndefined();
    expect(onOf(gauge(145_001, 59_999).wanted)).toEqual(BOTH);
    expect(gauge(145_001)).toMatchObject({
      event: 'vehicle-found-pressurised',
      notices: [{ code: 'vehicle-pressurised', with: { pressure: '145' } }],
    });
    for (const step of [gauge(145_000), gauge(undefined)]) {
      expect(step).toMatchObject({ event: 'timed-out', result: 'pressure-unknown' });
      expect(codesOf(step)).toEqual(['pressure-unknown']);
      expect(onOf(step.wanted)).toEqual([]);
    }
  });

  test('so cold that a full one has no more pressure than the air is NOT called empty', () => {
    // R-134a has 105 kPa at -25.5 °C (Tillner-Roth and Baehr 1994); a vehicle may be 10 K colder than the room.
    const at = (celsius: number | undefined, tankCelsius = 20) =>
      join(60_000, {
        seen: {
          ambientK: celsius === undefined ? undefined : celsius + 273.15,
          tankTemperatureK: tankCelsius + 273.15,
        },
      });
    expect(at(-16)).toMatchObject({ event: 'vehicle-too-cold', notices: [{ code: 'vehicle-too-cold' }] });
    expect(at(-15).event).toBe('vehicle-found-empty');
    expect(at(undefined, -16).event).toBe('vehicle-too-cold');
    expect(at(undefined).event).toBe('vehicle-found-empty');
    expect(join(60_000, { seen: { ambientK: undefined, tankTemperatureK: undefined } }).event).toBe(
      'vehicle-too-cold',
    );
  });

  test('that is empty is told as the service takes it', () => {
    const told = (given: Given) => codesOf(join(60_000, given));
    expect(told({ ticket: charges })).toEqual([]);
    expect(told({ ticket: { service: 'leak-check' } })).toEqual(['checked-from-empty']);
    expect(join(60_000).accounts).toBeUndefined();
  });

  test('that is empty though it was sampled may never have been joined to the hoses', () => {
    const identification = { verdict: 'accepted', refrigerant: 'R-134a', purityPercent: 99 } as const;
    const step = join(60_000, { accounts: { identification } });
    expect(codesOf(step)).toEqual(['vehicle-empty', 'empty-yet-sampled']);
    expect(step.accounts!.emptyYetSampled).toBe(true);
    const contaminated = { ...identification, verdict: 'contaminated' } as const;
    expect(codesOf(join(60_000, { accounts: { identification: contaminated } }))).toEqual(['vehicle-empty']);
  });

  test('that was to be empty and is not has the machine looked at alone first, once', () => {
    const first = join(110_000, { ticket: charges });
    expect(first.data).toMatchObject({ step: 'apart', stepSinceMs: NOW_MS, apart: { sinceMs: NOW_MS } });
    expect(first.event).toBeUndefined();
    expect(onOf(first.wanted)).toEqual([]);
    const again = stepped(
      'join',
      3_000,
      { apart: { sinceMs: 0, fromPa: 1 } },
      { ticket: charges, seen: { manifoldPa: 110_000 } },
    );
    expect(again.event).toBe('vehicle-found-pressurised');
  });
});

describe('The machine looked at alone', () => {
  /** The vehicle showed 110 kPa. */
  const apart = (nowPa: number, lookedMs = 10_000, fromPa: number | undefined = 110_000) =>
    stepped(
      'apart',
      lookedMs,
      { apart: { sinceMs: NOW_MS - lookedMs, fromPa } },
      {
        ticket: charges,
        seen: { manifoldPa: nowPa },
      },
    );

  test('takes ten seconds', () => {
    const early = apart(120_000, 9_999);
    expect(early.event).toBeUndefined();
    expect(early.data.step).toBe('apart');
    const start = stepped(
      'apart',
      2_000,
      { apart: { sinceMs: NOW_MS - 2_000, fromPa: undefined } },
      { seen: { manifoldPa: 110_000 } },
    );
    expect(start.data.apart).toEqual({ sinceMs: NOW_MS - 2_000, fromPa: 110_000 });
    expect(stepped('apart', 20_000).data.apart).toEqual({ sinceMs: NOW_MS, fromPa: undefined });
  });

  test('leaves the pressure to the vehicle up to 5 kPa, and beyond that is what leaks', () => {
    expect(apart(115_000)).toMatchObject({
      event: 'vehicle-found-pressurised',
      notices: [{ code: 'vehicle-pressurised', with: { pressure: '110' } }],
    });
    expect(apart(115_000).result).toBeUndefined();
    const leaks = apart(115_001);
    expect(leaks).toMatchObject({
      event: 'vehicle-found-pressurised',
      result: 'machine-leaks',
      notices: [{ code: 'machine-leaks', with: { rise: '5', seconds: '10' } }],
    });
    expect(onOf(leaks.wanted)).toEqual([]);
  });
});
