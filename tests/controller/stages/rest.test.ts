// The rest after a draw: what its rise says, how long it must last, and where it leads.

import { describe, expect, test } from 'vitest';
import { saturationPa } from '../../../controller/estimates/saturation.ts';
import type { RestData } from '../../../controller/stages/data-recovery.ts';
import { enterRest, stepRest } from '../../../controller/stages/rest.ts';
import type { Cycle } from '../../../controller/state.ts';
import type { Ticket } from '../../../controller/ticket.ts';
import { R134A } from '../support/machine.ts';
import { almostWeighed, type Given, NOW_MS, shown, weighing } from '../support/stage-input.ts';
import { codesOf, countsOf, onOf } from '../support/weighings.ts';

type More = Partial<RestData>;
const BOTH = ['highSideValve', 'lowSideValve'];
const MINUTE_MS = 60_000;
/** Samples every five seconds that have risen evenly by so much in all. */
const rising = (byPa: number, count = 60, fromPa = 50_000): readonly number[] =>
  Array.from({ length: count }, (_, index) => fromPa + (byPa * index) / (count - 1));
/** The newest sample a second old, so that none is due. */
const resting = (restedMs: number, more: More = {}, given: Given = {}) =>
  stepRest(
    { ...enterRest(NOW_MS - restedMs), sampledAtMs: NOW_MS - 1_000, samplesPa: rising(0), ...more },
    shown({ seen: { manifoldPa: 50_000 }, ...given }),
  );
const cycles = (...kg: readonly number[]): readonly Cycle[] => kg.map((recoveredKg) => ({ recoveredKg }));

describe('The samples of a rest', () => {
  test('are none at its beginning', () =>
    expect(enterRest(5)).toMatchObject({ step: 'open', samplesPa: [] }));

  const UNSEEN = { manifoldPa: undefined, highSidePa: undefined, lowSidePa: undefined };
  const sampled = (restedMs: number, more: More, seen: Given['seen'] = { manifoldPa: 52_000 }) =>
    resting(restedMs, more, { seen: { ...UNSEEN, ...seen } }).data;

  test('begin three seconds after hoses and vehicle were joined', () => {
    const none = { samplesPa: [], sampledAtMs: NOW_MS - 2_999 };
    expect(sampled(2_999, none).samplesPa).toEqual([]);
    expect(sampled(3_000, none)).toMatchObject({ samplesPa: [52_000], sampledAtMs: NOW_MS });
  });

  test('come every five seconds', () => {
    const one = { samplesPa: [50_000] };
    expect(sampled(20_000, { ...one, sampledAtMs: NOW_MS - 4_999 }).samplesPa).toEqual([50_000]);
    expect(sampled(20_000, { ...one, sampledAtMs: NOW_MS - 5_000 })).toMatchObject({
      samplesPa: [50_000, 52_000],
      sampledAtMs: NOW_MS,
    });
    expect(sampled(20_000, { ...one, sampledAtMs: NOW_MS - 5_000 }, UNSEEN).samplesPa).toEqual([50_000]);
  });

  test('after a gap keep only the first: what lies before it proves nothing steady', () => {
    const three = { samplesPa: [50_000, 51_000, 51_500] };
    expect(sampled(40_000, { ...three, sampledAtMs: NOW_MS - 10_000 }).samplesPa).toHaveLength(4);
    expect(sampled(40_000, { ...three, sampledAtMs: NOW_MS - 10_001 }).samplesPa).toEqual([50_000, 52_000]);
    // The first may come late: no sample is missing before it.
    expect(sampled(40_000, { samplesPa: [], sampledAtMs: 0 }).samplesPa).toEqual([52_000]);
  });
});

describe('A rest that nobody can see', () => {
  const blind = (restedMs: number, sampledAgoMs: number, samplesPa = rising(0)) =>
    resting(
      restedMs,
      { sampledAtMs: NOW_MS - sampledAgoMs, samplesPa },
      {
        seen: { manifoldPa: undefined, highSidePa: undefined, lowSidePa: undefined },
      },
    );

  test('is given eight minutes, joined, and then ends the job', () => {
    const waits = blind(480_000 - 1, 10_001);
    expect(waits.event).toBeUndefined();
    expect(onOf(waits.wanted)).toEqual(BOTH);
    const ends = blind(480_000, 10_001);
    expect(ends).toMatchObject({ event: 'timed-out', result: 'pressure-unknown' });
    expect(codesOf(ends)).toEqual(['pressure-unknown']);
    expect(onOf(ends.wanted)).toEqual([]);
    expect(blind(480_000, 1_000, []).result).toBe('pressure-unknown');
  });

  test('is one only after ten seconds without a sample', () =>
    expect(blind(480_000, 10_000).data.step).toBe('weigh'));
});

describe('What a rest says', () => {
  const verdict = (restedMs: number, samplesPa: readonly number[], given: Given = {}) =>
    resting(restedMs, { samplesPa }, given).data.verdict;

  test('is liquid where it rises by 10 kPa and still climbs, after a minute and a half', () => {
    expect(verdict(90_000, rising(10_000, 18))).toBe('rose');
    expect(verdict(89_999, rising(10_000, 18))).toBeUndefined();
    expect(resting(89_999, { samplesPa: rising(10_000, 18) }).data.step).toBe('open');
    expect(verdict(90_000, rising(9_999, 18))).toBeUndefined();
    // Level for the last half minute: it does not climb.
    const level = [...rising(12_000, 12), ...Array(7).fill(62_000)];
    expect(verdict(95_000, level)).toBeUndefined();
    expect(verdict(95_000, [...level.slice(0, -1), 62_100])).toBe('rose');
    expect(verdict(90_000, [50_000, 62_000])).toBeUndefined();
  });

  test('waits until the compressor has rested', () => {
    expect(verdict(90_000, rising(10_000, 18), { compressorRestLeftMs: 2_000 })).toBe('rose');
    expect(verdict(90_000, rising(10_000, 18), { compressorRestLeftMs: 2_001 })).toBeUndefined();
    expect(verdict(600_000, rising(0), { compressorRestLeftMs: 2_001 })).toBeUndefined();
  });

  test('is liquid as well where it stands at 1.05 bar after five minutes', () => {
    expect(verdict(300_000, rising(0, 60, 105_000))).toBe('rose');
    expect(verdict(299_999, rising(0, 60, 105_000))).toBeUndefined();
    expect(verdict(300_000, rising(0, 60, 104_999))).toBe('stayed-low');
    expect(verdict(300_000, [...rising(0, 59, 102_000), 105_000])).toBe('rose');
  });

  test('is calm where two minutes bring less than 3 kPa, or after eight minutes', () => {
    const last = (byPa: number) => [...rising(0, 40), ...rising(byPa, 25)];
    expect(verdict(320_000, last(2_999))).toBe('stayed-low');
    expect(verdict(320_000, last(3_000))).toBeUndefined();
    expect(verdict(320_000, last(-3_000))).toBeUndefined();
    expect(verdict(320_000, rising(0, 24))).toBeUndefined();
    expect(verdict(320_000, rising(0, 25))).toBe('stayed-low');
    expect(verdict(479_999, last(3_000))).toBeUndefined();
    expect(verdict(480_000, last(3_000))).toBe('stayed-low');
    const still = resting(320_000);
    expect(still.data).toMatchObject({ step: 'weigh', stepSinceMs: NOW_MS });
    expect(onOf(still.wanted)).toEqual(BOTH);
  });

  test('is vapour out of oil where it rises by 3 kPa, worth a draw while the last one brought 5 g', () => {
    const slow = (byPa: number, kg: number) =>
      verdict(320_000, [...rising(byPa, 30), ...rising(0, 30, 50_000 + byPa)], {
        accounts: { cycles: cycles(kg) },
      });
    expect(slow(3_000, 0.005)).toBe('rose-slightly');
    expect(slow(2_999, 0.005)).toBe('stayed-low');
    expect(slow(3_000, 0.0049)).toBe('stayed-low');
    expect(verdict(320_000, [...rising(4_000, 30), ...rising(0, 30, 54_000)])).toBe('stayed-low');
  });
});

const ROSE: More = { samplesPa: rising(12_000, 18) };

describe('After a rise', () => {
  const rose = (given: Given = {}, restedMs = 90_000) => resting(restedMs, ROSE, given);

  test('the vehicle is drawn again at once, and the rise is kept with the draw before it', () => {
    const step = rose({ accounts: { cycles: cycles(0.3, 0.2) } });
    expect(step.event).toBe('pressure-rose');
    expect(onOf(step.wanted)).toEqual([]);
    expect(step.accounts!.cycles[0]).toEqual({ recoveredKg: 0.3 });
    expect(step.accounts!.cycles[1]!.restRisePa).toBeCloseTo(12_000, 6);
    expect(step.accounts!.cycles).toHaveLength(2);
    expect(rose().accounts!.cycles).toEqual([]);
  });

  test('it is given up after eight draws or 45 minutes, and told how many and how long', () => {
    const eight = rose({ accounts: { cycles: cycles(...Array(8).fill(0.1)) } });
    expect(eight).toMatchObject({ event: 'liquid-left', notices: [{ with: { cycles: '8', minutes: '0' } }] });
    expect(codesOf(eight)).toEqual(['liquid-left']);
    expect(eight.notices).toMatchObject([{ with: { what: 'Refrigerant is still left', why: '' } }]);
    expect(rose({ accounts: { cycles: cycles(...Array(7).fill(0.1)) } }).event).toBe('pressure-rose');
    const began = (minutesAgo: number) =>
      rose({ accounts: { cycles: cycles(0.1), recoveryStartedAtMs: NOW_MS - minutesAgo * MINUTE_MS } });
    expect(began(45)).toMatchObject({ event: 'liquid-left', notices: [{ with: { minutes: '45' } }] });
    expect(began(44.99).event).toBe('pressure-rose');
  });

  test('the rise and its time are told: of liquid, or of vapour where the draw brought next to nothing', () => {
    const told = (kg: number) => rose({ accounts: { cycles: cycles(0.3, 0.2, kg) } }).notices;
    expect(told(0.005)).toEqual([{ code: 'restarted-on-rise', with: { rise: '12', seconds: '90' } }]);
    expect(told(0.0049)).toMatchObject([{ code: 'restarted-on-vapour' }]);
  });

  test('liquid that only heat brings is told early, and once', () => {
    const trapped = (...drawn: readonly Cycle[]) =>
      codesOf(rose({ accounts: { cycles: drawn } })).includes('liquid-trapped');
    expect(trapped(...cycles(0.3))).toBe(true);
    expect(trapped(...cycles(0.3, 0.25))).toBe(true);
    expect(trapped(...cycles(0.3, 0.1))).toBe(false);
    expect(trapped(...cycles(0.3, 0.25, 0.2))).toBe(false);
    expect(trapped({ recoveredKg: 0.3, unrested: true })).toBe(false);
    expect(trapped()).toBe(false);
  });

  test('given up after draws that brought next to nothing, it may be air: so it is told, and those draws are in doubt', () => {
    const given = { recoveredUncertaintyKg: 0.01 };
    const little = rose({ accounts: { ...given, cycles: cycles(0.3, ...Array(7).fill(0.004)) } });
    expect(little.notices).toMatchObject([
      {
        code: 'liquid-left',
        with: { why: expect.stringMatching(/air/), first: expect.stringMatching(/hole/) },
      },
    ]);
    expect(little.accounts!.recoveredUncertaintyKg).toBeCloseTo(0.038, 9);
    const much = rose({ accounts: { ...given, cycles: cycles(...Array(8).fill(0.1)) } });
    expect(much.accounts!.recoveredUncertaintyKg).toBeCloseTo(0.01, 9);
  });

  test('of a vehicle that its engine has warmed it is told when the second draw brings too much for oil', () => {
    const ticket = { engine: 'can-run', warmUp: true } as const;
    const trapped = (...kg: readonly number[]) =>
      rose({ ticket, accounts: { cycles: cycles(...kg) } }).notices!.find(
        ({ code }) => code === 'liquid-trapped',
      );
    expect(trapped(0.35)).toBeUndefined();
    expect(trapped(0.35, 0.0299)).toBeUndefined();
    expect(trapped(0.35, 0.03)).toEqual({ code: 'liquid-trapped', with: { also: '' } });
  });

  test('the engine is recommended for another time where it could have warmed the vehicle', () => {
    const also = (ticket: Partial<Ticket>): string => {
      const trapped = rose({ ticket, accounts: { cycles: cycles(0.3) } }).notices!.find(
        ({ code }) => code === 'liquid-trapped',
      );
      return JSON.stringify(trapped);
    };
    expect(also({ engine: 'can-run' })).toMatch(/Another time let the engine warm/);
    expect(also({ engine: 'cannot-run' })).toMatch(/"also":""/);
  });
});

describe('Air that was drawn in', () => {
  /** R-134a at 20 °C; the tank stood at saturation before the first draw. */
  const air = (kPa: number, more: More = ROSE, given: Given = {}) =>
    resting(90_000, more, {
      ...given,
      seen: { manifoldPa: 50_000, tankPa: 571_710 + 1_000 * kPa, ...given.seen },
      accounts: {
        tankExcessFirstPa: 0,
        cycles: cycles(0.3, 0.02, 0.01),
        recoveredUncertaintyKg: 0.001,
        ...given.accounts,
      },
    });

  test('ends the recovery from 40 kPa on, and what came after the first rise is in doubt', () => {
    const exactly = { tankPa: saturationPa(R134A, 293.15) + 40_000, tankTemperatureK: 293.15 };
    expect(air(0, ROSE, { seen: exactly }).event).toBe('pressure-rose');
    expect(codesOf(air(0, ROSE, { seen: exactly }))).toEqual(['restarted-on-rise']);
    expect(air(39.9).event).toBe('pressure-rose');
    const drawn = air(40.1);
    expect(drawn.event).toBe('liquid-left');
    expect(drawn.notices).toEqual([{ code: 'air-drawn-in', with: { excess: '40' } }]);
    expect(drawn.accounts!.recoveredUncertaintyKg).toBeCloseTo(0.031, 9);
    expect(onOf(drawn.wanted)).toEqual([]);
    expect(
      air(60, ROSE, { accounts: { recoveredUncertaintyKg: undefined } }).accounts!.recoveredUncertaintyKg,
    ).toBeCloseTo(0.03, 9);
  });

  test('is told by how much the excess has grown, and NOT where a sensor is silent', () => {
    expect(air(60, ROSE, { accounts: { tankExcessFirstPa: 30_000 } }).event).toBe('pressure-rose');
    expect(air(60, ROSE, { accounts: { tankExcessFirstPa: -10_000 } }).notices).toMatchObject([
      { with: { excess: '70' } },
    ]);
    expect(air(60, ROSE, { accounts: { tankExcessFirstPa: undefined } }).event).toBe('pressure-rose');
    expect(air(60, ROSE, { seen: { tankTemperatureK: undefined } }).event).toBe('pressure-rose');
  });
});

describe('After a calm rest', () => {
  /** 5 g more have come since the draw was weighed. */
  const calm = (verdict: RestData['verdict'], given: Given = {}) =>
    resting(
      330_000,
      {
        step: 'weigh',
        stepSinceMs: NOW_MS - 10_000,
        verdict,
        samplesPa: rising(4_000),
        weighing: almostWeighed(8.005),
      },
      {
        seen: { manifoldPa: 50_000, tankPa: 700_000 },
        ...given,
        scale: { counts: countsOf(8.005) },
        accounts: {
          weighed: weighing(8),
          recoveredKg: 0.3,
          cycles: cycles(0.3),
          tankExcessFirstPa: 0,
          ...given.accounts,
        },
      },
    );

  test('the tank is weighed again, and what has dripped out of the coil is booked', () => {
    const step = calm('stayed-low');
    expect(step.event).toBe('rest-stayed-low');
    expect(step.ledger).toMatchObject([{ movement: 'vehicle-to-tank', countsBefore: countsOf(8) }]);
    expect(step.accounts!.recoveredKg).toBeCloseTo(0.305, 9);
    expect(step.accounts!.cycles[0]!.restRisePa).toBeCloseTo(4_000, 6);
    expect(step.notices).toEqual([]);
    expect(calm('stayed-low', { accounts: { weighed: undefined } }).accounts!.recoveredKg).toBeCloseTo(
      0.3,
      9,
    );
  });

  test('vapour out of oil is drawn once more while draws are left', () => {
    const again = calm('rose-slightly');
    expect(again.event).toBe('pressure-rose');
    // Nothing is trapped, and the warmth of the tank is no air here.
    expect(again.notices).toEqual([{ code: 'restarted-on-rise', with: { rise: '4', seconds: '320' } }]);
    const late = { recoveryStartedAtMs: NOW_MS - 45 * MINUTE_MS };
    expect(calm('rose-slightly', { accounts: late }).event).toBe('rest-stayed-low');
    expect(calm(undefined).event).toBe('rest-stayed-low');
  });
});
