// The performance test, one scan at a time: no engine before everything stands, no verdict before it is steady.

import { describe, expect, test } from 'vitest';
import type { ScaleState } from '../../../controller/estimates/scale-state.ts';
import type { Seen } from '../../../controller/estimates/seen.ts';
import type { VerifyData } from '../../../controller/stages/data-checks.ts';
import { enterVerify, stepVerify } from '../../../controller/stages/verify.ts';
import type { Accounts } from '../../../controller/state.ts';
import type { Given } from '../support/stage-input.ts';
import { inputOf, TRUSTED, WEIGHED } from '../support/unseen-input.ts';
import { onOf } from '../support/weighings.ts';

const BAR = 100_000;
const SIDES: Partial<Seen> = { highSidePa: 6 * BAR, lowSidePa: 6 * BAR };
type At = Omit<Given, 'seen' | 'estimates'> & {
  readonly seen?: Partial<Seen>;
  readonly scale?: Partial<ScaleState>;
};

/** A vehicle whose engine clears the hoses afterwards, everything at rest. */
function stepped(data: VerifyData, { scale, seen, accounts, ...given }: At = {}) {
  const input = inputOf({
    ticket: { engine: 'can-run' },
    ...given,
    seen: { ...SIDES, ...seen },
    accounts: { weighed: WEIGHED, ...accounts },
    estimates: { scale: { ...TRUSTED, ...scale } },
  });
  const step = stepVerify(data, input);
  expect(onOf(step.wanted)).toEqual([]);
  return { ...step, told: step.notices?.[0] };
}

describe('Before anybody is asked to start the engine', () => {
  const PROVING: VerifyData = { ...enterVerify(0), provenSinceMs: 1_000 };
  const step = (at: At = {}) => stepped(PROVING, { nowMs: 62_000, ...at });

  test('valves, scale and sides have been as they must be for 61 seconds', () => {
    expect(step({ nowMs: 61_999 }).data).toBe(PROVING);
    expect(step().data).toMatchObject({ step: 'start', stepSinceMs: 62_000 });
    expect(stepped(enterVerify(0), { nowMs: 5_000 }).data.provenSinceMs).toBe(5_000);
  });

  test.each<[string, At]>([
    ['a valve that is let through', { on: ['highSideValve'] }],
    ['a drive that is let through', { on: ['compressor'] }],
    ['a scale that is not trusted', { scale: { trust: 'disturbed' } }],
    ['a tank that gains', { scale: { slowFlowKgPerS: 3.01e-4 } }],
    ['a tank that loses', { scale: { slowFlowKgPerS: -3.01e-4 } }],
    ['a tank that was never weighed', { accounts: { weighed: undefined } }],
    ['a tank that has lost more than 5 g', { scale: { massKg: 7.9949 } }],
    ['a tank that has gained more than 5 g', { scale: { massKg: 8.0051 } }],
    ['a high side that is not seen', { seen: { highSidePa: undefined } }],
    ['a low side that is not seen', { seen: { lowSidePa: undefined } }],
  ])('NOT with %s: it counts from the beginning', (_, at) => {
    expect(step(at).data).toMatchObject({ step: 'prove', provenSinceMs: undefined });
  });

  test('what drifts by less stands still', () => {
    expect(step({ scale: { slowFlowKgPerS: 2.99e-4, massKg: 7.9951 } }).data.step).toBe('start');
  });

  test('after three minutes the test is left, and says what was not proven', () => {
    const lost = { scale: { massKg: 7 } };
    expect(step({ nowMs: 179_999, ...lost }).event).toBeUndefined();
    const later = stepped({ ...PROVING, stepSinceMs: 1_000 }, { nowMs: 180_000, ...lost });
    expect(later.event).toBeUndefined();
    const unproven = step({ nowMs: 180_000, ...lost });
    expect(unproven).toMatchObject({ event: 'engine-not-used', result: 'valves-not-proven' });
    expect(unproven.told).toEqual({ code: 'valves-not-proven' });
    expect(unproven.accounts).toBeUndefined();
  });

  test('sides that nobody sees mean an engine of no help to the hoses', () => {
    const unseen = { nowMs: 180_000, seen: { lowSidePa: undefined } };
    const left = step(unseen);
    expect(left).toMatchObject({ event: 'engine-of-no-help', result: 'sides-not-seen' });
    expect(left.told).toEqual({ code: 'sides-not-seen' });
    expect(left.accounts!.engineOfNoHelp).toBe(true);
    // Too cold for the engine's compressor to come on: nothing counted on it.
    const cold = step({ ...unseen, seen: { lowSidePa: undefined, ambientK: 280 } });
    expect(cold.event).toBe('engine-not-used');
    expect(cold.accounts!.engineOfNoHelp).toBe(false);
  });

  test('an engine that runs already is watched from now on', () => {
    const running = step({ engine: 'running', nowMs: 3_000 });
    expect(running.data).toMatchObject({ step: 'run', stepSinceMs: 3_000, sampledAtMs: 3_000 });
    expect(step({ engine: 'suspected', nowMs: 3_000 }).data.step).toBe('prove');
  });
});

describe('The question', () => {
  const ASKING: VerifyData = { ...enterVerify(0), step: 'start', highPa: [1], lowPa: [1] };

  test('stands until it is answered; then the run begins with nothing seen', () => {
    expect(stepped(ASKING).prompt).toBe('start-engine');
    const begun = stepped(ASKING, {
      nowMs: 4_000,
      answers: [{ type: 'confirmed', prompt: 'start-engine' }],
    });
    expect(begun.prompt).toBeUndefined();
    expect(begun.data).toMatchObject({
      step: 'run',
      stepSinceMs: 4_000,
      sampledAtMs: 4_000,
      highPa: [],
      lowPa: [],
    });
  });
});

/** Eleven samples of a minute, the twelfth due. */
const RUNNING: VerifyData = {
  ...enterVerify(0),
  step: 'run',
  highPa: Array.from({ length: 11 }, () => 11 * BAR),
  lowPa: Array.from({ length: 11 }, () => 2.8 * BAR),
  sampledAtMs: 295_000,
};
const COOLS: Partial<Seen> = { highSidePa: 11 * BAR, lowSidePa: 2.8 * BAR };
const ran = (at: At = {}, over: Partial<VerifyData> = {}) =>
  stepped({ ...RUNNING, ...over }, { nowMs: 300_000, ...at, seen: { ...COOLS, ...at.seen } });

describe('While the engine runs', () => {
  test('a sample is taken every five seconds, and the last twelve are kept', () => {
    expect(ran({ nowMs: 299_999 }).data.highPa).toHaveLength(11);
    const twelve = ran({}, { highPa: [1, ...RUNNING.highPa], lowPa: [2, ...RUNNING.lowPa] }).data;
    expect(twelve.highPa).toEqual(Array.from({ length: 12 }, () => 11 * BAR));
    expect(twelve.lowPa).toEqual(Array.from({ length: 12 }, () => 2.8 * BAR));
    expect(twelve.sampledAtMs).toBe(300_000);
  });

  test('a gap in either starts it over, and ends the test after ten minutes', () => {
    for (const side of ['highSidePa', 'lowSidePa']) {
      const gap = ran({ seen: { [side]: undefined } });
      expect(gap.data).toMatchObject({ highPa: [], lowPa: [], sampledAtMs: 300_000 });
      expect(gap.event).toBeUndefined();
    }
    const blind = { seen: { lowSidePa: undefined } };
    expect(ran({ nowMs: 599_999, ...blind }).event).toBeUndefined();
    const ended = ran({ nowMs: 600_000, ...blind });
    expect(ended).toMatchObject({ event: 'engine-not-used', result: 'pressure-unknown' });
    expect(ended.told).toEqual({ code: 'performance-not-measured' });
  });

  test('a high side above 22 bar ends it at once, and the engine is no help to the hoses', () => {
    expect(ran({ nowMs: 295_100, seen: { highSidePa: 22 * BAR } }).event).toBeUndefined();
    const hot = ran({ nowMs: 295_100, seen: { highSidePa: 22 * BAR + 1 } });
    expect(hot).toMatchObject({ event: 'engine-of-no-help', result: 'high-side-too-high' });
    expect(hot.told).toEqual({ code: 'high-side-too-high', with: { pressure: '2200' } });
    expect(hot.accounts!.engineOfNoHelp).toBe(true);
  });

  test('more than 10 g into the tank is a valve lifted backwards', () => {
    expect(ran({ scale: { massKg: 8.0099 } }).result).not.toBe('pushed-into-tank');
    const pushed = ran({ scale: { massKg: 8.0101 } });
    expect(pushed).toMatchObject({ event: 'engine-not-used', result: 'pushed-into-tank' });
    expect(pushed.told).toEqual({ code: 'pushed-into-tank' });
    // Nothing but the scale tells of it: all of it may be the scale's own.
    expect(pushed.accounts!.scaleMovesKg).toBeCloseTo(0.0101, 6);
    const doubted = ran({ scale: { massKg: 8.0101 }, accounts: { scaleMovesKg: 0.02 } });
    expect(doubted.accounts!.scaleMovesKg).toBe(0.02);
    expect(ran({ scale: { massKg: 8.02, trust: 'disturbed' } }).result).not.toBe('pushed-into-tank');
    expect(ran({ scale: { massKg: 8.02 }, accounts: { weighed: undefined } }).result).toBe('as-expected');
  });

  test('a hose that nobody reads may press as much less as the other shows, or up to the limit', () => {
    // 10 g at 10 bar: a mean of two hoses is off by 5.5 g when one at 11 bar does not press at all.
    const accounts: Partial<Accounts> = { hoseForce: { kgPerPa: 1e-8, sdKgPerPa: 0 } };
    const pushed = (massKg: number, seen: Partial<Seen>) =>
      ran({ scale: { massKg }, seen, accounts }).result === 'pushed-into-tank';
    expect(pushed(8.0156, { lowSidePa: undefined })).toBe(true);
    expect(pushed(8.0154, { lowSidePa: undefined })).toBe(false);
    expect(pushed(8.0211, { highSidePa: undefined })).toBe(true);
    expect(pushed(8.0209, { highSidePa: undefined })).toBe(false);
    expect(pushed(8.0321, { highSidePa: undefined, lowSidePa: undefined })).toBe(true);
    expect(pushed(8.0319, { highSidePa: undefined, lowSidePa: undefined })).toBe(false);
    const pulls = { hoseForce: { kgPerPa: -1e-8, sdKgPerPa: 0 } };
    const of = (massKg: number) =>
      ran({ scale: { massKg }, seen: { lowSidePa: undefined }, accounts: pulls });
    expect(of(8.0154).result).not.toBe('pushed-into-tank');
  });
});

describe('A compressor that does not run', () => {
  const sides = (apartPa: number, nowMs = 60_000) =>
    ran({ nowMs, seen: { highSidePa: 6 * BAR + apartPa, lowSidePa: 6 * BAR } }, { sampledAtMs: 0 });
  // A bar, and three deviations of both gauges: 3 · √(7.5² + 2.5²) kPa.
  const LEAST_PA = BAR + 3 * Math.hypot(7_500, 2_500);

  test('has not pulled the sides apart after a minute', () => {
    expect(sides(LEAST_PA - 1, 59_999).event).toBeUndefined();
    expect(sides(LEAST_PA + 1).event).toBeUndefined();
    const still = sides(LEAST_PA - 1);
    expect(still).toMatchObject({ event: 'engine-of-no-help', result: 'compressor-not-running' });
    expect(still.told!.code).toBe('performance-compressor-not-running');
    expect(still.accounts!.performance).toMatchObject({ verdict: 'compressor-not-running' });
    expect(still.accounts!.engineOfNoHelp).toBe(true);
  });
});

describe('The verdict', () => {
  test('comes after five minutes, when both sides have been steady for one', () => {
    expect(ran()).toMatchObject({ event: 'verified', result: 'as-expected' });
    expect(ran({ nowMs: 299_999 }, { sampledAtMs: 290_000 }).event).toBeUndefined();
    expect(ran({}, { stepSinceMs: 1_000 }).event).toBeUndefined();
    expect(ran({}, { highPa: RUNNING.highPa.slice(1), lowPa: RUNNING.lowPa.slice(1) }).event).toBeUndefined();
  });

  test('or after ten, steady or not', () => {
    const few = { highPa: [11 * BAR], lowPa: [2.8 * BAR] };
    expect(ran({ nowMs: 599_999 }, few).event).toBeUndefined();
    expect(ran({ nowMs: 600_000 }, few)).toMatchObject({ event: 'verified', result: 'as-expected' });
  });

  test('steady is a span of less than 3 per cent of the high side, and 6 per cent of the low one', () => {
    // The mean of eleven and one that is higher by x is higher by x/12.
    const highest = (share: number) => (0.999 * share) / (1 - share / 12);
    const tooHigh = (share: number) => (1.001 * share) / (1 - share / 12);
    const event = (high: number, low: number) =>
      ran({ seen: { highSidePa: 11 * BAR * (1 + high), lowSidePa: 2.8 * BAR * (1 + low) } }).event;
    expect(event(highest(0.03), highest(0.06))).toBe('verified');
    expect(event(tooHigh(0.03), 0)).toBeUndefined();
    expect(event(0, tooHigh(0.06))).toBeUndefined();
  });

  test('is told and kept with the means of both sides and the air of the vents', () => {
    const { told, accounts, notices } = ran({
      seen: { highSidePa: 11.12 * BAR, lowSidePa: 2.92 * BAR, ventK: 281.15 },
    });
    expect(notices).toHaveLength(1);
    expect(told).toEqual({
      code: 'performance-as-expected',
      with: {
        high: '1101',
        low: '281',
        ambient: '20',
        vent: 'the vents blow at 8 °C, which humid air makes warmer',
      },
    });
    expect(accounts!.performance).toEqual({
      verdict: 'as-expected',
      highPa: expect.closeTo(1_101_000, 3),
      lowPa: expect.closeTo(281_000, 3),
      ventK: 281.15,
      ambientK: 293.15,
    });
    const without = ran();
    expect(without.told).toMatchObject({ with: { vent: 'no thermometer is in the vents' } });
    expect(without.accounts!.performance).not.toHaveProperty('ventK');
  });

  test('allows for three deviations of each gauge', () => {
    // 15 to 25 K above the air, 4 K of tolerance (common practice): 49 °C are 12.86 bar; 7.5 kPa are 0.225 bar.
    const high = (bar: number) =>
      ran({ seen: { highSidePa: bar * BAR } }, { highPa: RUNNING.highPa.map(() => bar * BAR) }).result;
    expect(high(13)).toBe('as-expected');
    expect(high(13.2)).toBe('unclear');
    // 5 °C are 3.50 bar; 2.5 kPa are 0.075 bar.
    const low = (bar: number) =>
      ran({ seen: { lowSidePa: bar * BAR } }, { lowPa: RUNNING.lowPa.map(() => bar * BAR) }).result;
    expect(low(3.54)).toBe('as-expected');
    expect(low(3.6)).toBe('unclear');
  });

  test('is NOT given in the cold, and nothing is without a thermometer', () => {
    expect(ran({ seen: { ambientK: 288.14 } }).result).toBe('too-cold-to-judge');
    expect(ran({ seen: { ambientK: 288.15 } }).result).not.toBe('too-cold-to-judge');
    const blind = ran({ seen: { ambientK: undefined } });
    expect(blind).toMatchObject({ event: 'verified', result: 'not-judged' });
    expect(blind.told).toEqual({ code: 'performance-not-measured' });
    expect(blind.accounts!.performance).toBeUndefined();
  });
});
