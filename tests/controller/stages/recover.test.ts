// Recover scan by scan: when the compressor starts, and what ends its run.

import { describe, expect, test } from 'vitest';
import { startCount } from '../../../controller/estimates/condenser.ts';
import { NOTHING_KEPT } from '../../../controller/estimates/kept.ts';
import { saturationPa } from '../../../controller/estimates/saturation.ts';
import type { RecoverData } from '../../../controller/stages/data-recovery.ts';
import { drawnKgPerS } from '../../../controller/stages/draw.ts';
import { enterRecover, stepRecover } from '../../../controller/stages/recover.ts';
import { R134A } from '../support/machine.ts';
import { type Given, NOW_MS, shown, weighing } from '../support/stage-input.ts';
import { codesOf, onOf } from '../support/weighings.ts';

type More = Partial<RecoverData>;
const MINUTE_MS = 60_000;
const BOTH = ['highSideValve', 'lowSideValve', 'recoveryValve'];
const DRAWS = [...BOTH, 'compressor'];
const ago = (ms: number): number => NOW_MS - ms;

describe('Before the compressor runs', () => {
  const waits = (more: More, given: Given = {}) =>
    stepRecover({ ...enterRecover(ago(5_000)), ...more }, shown(given));

  test('nothing is opened for minutes in which nothing draws, and the suction is joined two seconds before', () => {
    expect(onOf(waits({}, { compressorRestLeftMs: 2_001, compressorRested: false }).wanted)).toEqual([]);
    const joined = waits({}, { compressorRestLeftMs: 2_000, compressorRested: false });
    expect(onOf(joined.wanted)).toEqual(BOTH);
    expect(joined.data.openSinceMs).toBe(NOW_MS);
    expect(onOf(waits({ openSinceMs: ago(1_999) }).wanted)).toEqual(BOTH);
    expect(waits({ openSinceMs: ago(1_999) }).data.openSinceMs).toBe(ago(1_999));
    expect(onOf(waits({ openSinceMs: ago(2_000) }).wanted)).toEqual(DRAWS);
    expect(onOf(waits({ openSinceMs: ago(2_000) }, { compressorRested: false }).wanted)).toEqual(BOTH);
    expect(onOf(waits({ openSinceMs: ago(2_000) }, { ticket: { ports: 1 } }).wanted)).toEqual([
      'highSideValve',
      'recoveryValve',
      'compressor',
    ]);
  });

  test('the fan is stopped from the start where the tank is warmer than the room', () => {
    const warm = waits({ openSinceMs: ago(2_000) }, { seen: { tankTemperatureK: 300 } });
    expect(onOf(warm.wanted)).toEqual([...DRAWS, 'fanStop']);
    expect(warm.data.fanStopped).toBe(true);
    expect(waits({ openSinceMs: ago(2_000) }).data.fanStopped).toBe(false);
  });

  test('the recovery begins to count, once', () => {
    expect(waits({}).accounts?.recoveryStartedAtMs).toBe(NOW_MS);
    expect(waits({}, { compressorRestLeftMs: 9_000 }).accounts?.recoveryStartedAtMs).toBe(NOW_MS);
    expect(waits({ openSinceMs: ago(2_000) }).accounts?.recoveryStartedAtMs).toBe(NOW_MS);
    expect(waits({}, { accounts: { recoveryStartedAtMs: 5 } }).accounts).toBeUndefined();
  });

  test('it is given up after twenty minutes', () => {
    expect(waits({ sinceMs: ago(20 * MINUTE_MS) }).data.step).toBe('draw');
    expect(waits({ sinceMs: ago(20 * MINUTE_MS + 1) }).data).toMatchObject({
      step: 'weigh',
      why: 'run-time',
    });
  });
});

/** A run of the compressor, five minutes old, in which refrigerant comes at 100 kPa unless told otherwise. */
const RUN: More = { compressorSinceMs: ago(5 * MINUTE_MS) };
const trend = (value: number, perS = 0) => ({ value, perS, atMs: NOW_MS });
function runs(more: More = {}, given: Given = {}, pa = 100_000, flowKgPerS = 0.002) {
  const input = shown({
    on: ['compressor'],
    ...given,
    seen: { manifoldPa: 90_000, ...given.seen },
    accounts: { recoveryStartedAtMs: ago(6 * MINUTE_MS), ...given.accounts },
    estimates: { manifold: trend(pa), circuit: trend(pa), ...given.estimates },
    scale: { slowFlowKgPerS: flowKgPerS, ...given.scale },
  });
  return stepRecover({ ...enterRecover(ago(6 * MINUTE_MS)), ...RUN, ...more }, input);
}

describe('The clocks of a run', () => {
  test('begin with the compressor, with 60 kPa, and with what no longer flows', () => {
    const none = { dryLowSinceMs: undefined, stagnantSinceMs: undefined };
    expect(runs({ compressorSinceMs: undefined }).data).toMatchObject({
      compressorSinceMs: NOW_MS,
      lowSinceMs: undefined,
    });
    expect(runs({}, {}, 60_000).data).toMatchObject({ lowSinceMs: NOW_MS, ...none });
    expect(runs({}, {}, 60_000, 0.00009).data).toMatchObject({
      lowSinceMs: NOW_MS,
      dryLowSinceMs: NOW_MS,
      stagnantSinceMs: undefined,
    });
    expect(runs({}, {}, 60_000, -0.0001).data).toMatchObject(none);
    expect(runs({}, {}, 60_001, 0.00009).data).toMatchObject({
      lowSinceMs: undefined,
      dryLowSinceMs: undefined,
      stagnantSinceMs: NOW_MS,
    });
    expect(runs({}, {}, 60_001, 0.0001).data).toMatchObject(none);
  });

  test('go on, and end with what they count', () => {
    const since = { lowSinceMs: 1_000, dryLowSinceMs: 1_000 };
    const later = { lowSinceMs: ago(1_000), dryLowSinceMs: ago(1_000) };
    expect(runs(later, {}, 60_000, 0).data).toMatchObject(later);
    expect(runs(later, {}, 60_000).data).toMatchObject({ lowSinceMs: ago(1_000), dryLowSinceMs: undefined });
    expect(runs(since, {}, 60_001).data).toMatchObject({ lowSinceMs: undefined, dryLowSinceMs: undefined });
    expect(runs({ stagnantSinceMs: ago(9_000) }, {}, 100_000, 0).data.stagnantSinceMs).toBe(ago(9_000));
  });

  test('call nothing dry before the condenser has filled: a minute and a half', () => {
    const young = (ms: number) => runs({ compressorSinceMs: ago(ms) }, {}, 60_000, 0).data.dryLowSinceMs;
    expect(young(89_999)).toBeUndefined();
    expect(young(90_000)).toBe(NOW_MS);
  });

  test('call nothing dry while a cold coil takes up what is drawn, and much is left', () => {
    const cold = { ...startCount(ago(100)), drawnKg: 0.05 };
    const seen = { manifoldPa: 40_000, ambientK: 278.15, tankPa: 350_000 };
    const dry = (more: More = {}, given: Given = {}) =>
      runs({ count: cold, ...more }, { ...given, seen: { ...seen, ...given.seen } }, 40_000, 0).data
        .dryLowSinceMs;
    expect(dry()).toBeUndefined();
    // A coil that is warm passes it on, a full one as well; at 22 kPa next to nothing is drawn.
    expect(dry({ count: startCount(ago(100)) }, { seen: { ambientK: undefined } })).toBe(NOW_MS);
    expect(dry({ count: { ...cold, drawnKg: 0.16 } })).toBe(NOW_MS);
    expect(dry({}, { seen: { manifoldPa: 25_000 } })).toBe(NOW_MS);
    expect(dry({}, { seen: { tankPa: undefined } })).toBe(NOW_MS);
    // 0.6 kg on the label, 50 g in the coil: with 50 g more to come the run goes on, with less it need not.
    expect(dry({}, { accounts: { recoveredKg: 0.49 } })).toBeUndefined();
    expect(dry({}, { accounts: { recoveredKg: 0.51 } })).toBe(NOW_MS);
    // What an earlier run left in the coil has been booked with it.
    const before = { ...NOTHING_KEPT, kg: 0.03 };
    expect(dry({}, { accounts: { recoveredKg: 0.49, kept: before } })).toBeUndefined();
    expect(dry({}, { accounts: { recoveredKg: 0.51, kept: before } })).toBe(NOW_MS);
  });

  test('call nothing stagnant that moves by 100 Pa a second, or is not seen', () => {
    const flat = (perS: number) =>
      runs({}, { estimates: { manifold: trend(100_000), circuit: trend(100_000, perS) } }, 100_000, 0).data
        .stagnantSinceMs;
    expect(flat(99)).toBe(NOW_MS);
    expect(flat(-100)).toBeUndefined();
    const unseen = runs(RUN, { estimates: { manifold: undefined, circuit: undefined } }, 0, 0).data;
    expect(unseen).toMatchObject({ lowSinceMs: undefined, stagnantSinceMs: undefined });
  });

  test('doubt half of what is drawn once the suction has slackened, told once and watched in the first run', () => {
    const samplesPa = [46_000, 45_000, 44_000, 42_000, 41_900];
    const falls = { atMs: ago(1_000), samplesPa, slackened: false };
    const seen = { manifoldPa: 41_800 };
    const slack = (more: More = {}, given: Given = {}) =>
      runs({ fall: falls, ...more }, { seen, ...given }, 41_800);
    expect(slack().data.fall.slackened).toBe(true);
    expect(slack().notices).toEqual([{ code: 'suction-slackened', with: { pressure: '42' } }]);
    expect(codesOf(slack({ fall: { ...falls, slackened: true } }))).toEqual([]);
    expect(codesOf(slack({}, { accounts: { cycles: [{ recoveredKg: 0.1 }] } }))).toEqual([]);
    expect(codesOf(slack({}, { on: [] }))).toEqual([]);
    // In a tenth of a second; the count is of the scan before.
    const counted = (slackened: boolean) =>
      slack({ count: startCount(ago(100)), fall: { ...falls, atMs: ago(100), slackened } }).data.count;
    expect(counted(true).drawnKg).toBeCloseTo(counted(false).drawnKg, 9);
    expect(counted(true).drawnSdKg / counted(true).drawnKg).toBeCloseTo(0.5, 2);
    expect(counted(false).drawnSdKg / counted(false).drawnKg).toBeLessThan(0.1);
  });

  test('count by a gauge that the absolute sensor denies as soon as it reads', () => {
    const told = { mostPa: 400_000, fell: true, guessed: false, gauge: 'alone' } as const;
    const count = { ...startCount(ago(100)), suction: told };
    const word = (sidePa: number) =>
      runs({ count }, { seen: { manifoldPa: 90_000, highSidePa: sidePa, lowSidePa: sidePa } }).data.count
        .suction!.gauge;
    expect(word(95_000)).toBe('heard');
    expect(word(300_000)).toBe('denied');
  });

  test('leave the fan stopped once the tank was warmer than the room', () => {
    expect(runs({ fanStopped: true }).data.fanStopped).toBe(true);
    const warm = runs({}, { seen: { tankTemperatureK: 300 } });
    expect(warm.data.fanStopped).toBe(true);
    expect(onOf(warm.wanted)).toEqual([...DRAWS, 'fanStop']);
    expect(onOf(runs().wanted)).toEqual(DRAWS);
  });
});

describe('What ends a run', () => {
  const why = (...given: Parameters<typeof runs>) => runs(...given).data.why;

  test('is a suction so low that the compressor only gets hot', () => {
    expect(why({}, { seen: { manifoldPa: 22_000 } })).toBe('drawn-down');
    expect(why({}, { seen: { manifoldPa: 22_001 } })).toBeUndefined();
    expect(why({}, { seen: { manifoldPa: undefined } })).toBeUndefined();
    expect(onOf(runs({}, { seen: { manifoldPa: 22_000 } }).wanted)).toEqual([]);
    expect(runs({}, { seen: { manifoldPa: 22_000 } }).data).toMatchObject({
      step: 'weigh',
      stepSinceMs: NOW_MS,
    });
  });

  test('is a minute and a half at 60 kPa with nothing coming', () => {
    const dry = (ms: number) => why({ lowSinceMs: ago(ms), dryLowSinceMs: ago(ms) }, {}, 60_000, 0);
    expect(dry(90_000)).toBe('drawn-down');
    expect(dry(89_999)).toBeUndefined();
  });

  test('is a trickle: six and a quarter minutes at first, longer where a rest has told of liquid', () => {
    const trickles = (ms: number, accounts: Given['accounts'] = {}) =>
      why({ lowSinceMs: ago(ms) }, { accounts }, 60_000);
    expect(trickles(6.25 * MINUTE_MS)).toBe('trickle');
    expect(trickles(6.25 * MINUTE_MS - 1)).toBeUndefined();
    // 0.6 kg on the label; with more than 0.25 kg to come a run lasts 18 minutes, with less 8.
    const again = (recoveredKg: number) => ({ cycles: [{ recoveredKg: 0.1 }], recoveredKg });
    expect(trickles(8 * MINUTE_MS - 1, again(0.36))).toBeUndefined();
    expect(trickles(8 * MINUTE_MS, again(0.36))).toBe('trickle');
    expect(trickles(18 * MINUTE_MS - 1, again(0.34))).toBeUndefined();
    expect(trickles(18 * MINUTE_MS, again(0.34))).toBe('trickle');
    const unknown = { cycles: [{ recoveredKg: 0.1 }], recoveredKg: undefined };
    expect(trickles(18 * MINUTE_MS - 1, unknown)).toBeUndefined();
  });

  test('is air that shows in the tank while the suction is low', () => {
    const air = (kPa: number, more: More = { lowSinceMs: ago(1_000) }, pa = 60_000) =>
      why(more, { seen: { tankPa: 571_710 + 1_000 * kPa }, accounts: { tankExcessFirstPa: 0 } }, pa);
    expect(air(40.1)).toBe('trickle');
    expect(air(39.9)).toBeUndefined();
    const exactly = { tankPa: saturationPa(R134A, 293.15) + 40_000, tankTemperatureK: 293.15 };
    const known = { seen: exactly, accounts: { tankExcessFirstPa: 0 } };
    expect(why({ lowSinceMs: ago(1_000) }, known, 60_000)).toBeUndefined();
    // That much is NOT air yet, and a run that shows liquid goes on.
    const long = { ...known, accounts: { ...known.accounts, recoveryStartedAtMs: ago(25 * MINUTE_MS) } };
    expect(runs({ lowSinceMs: ago(6.25 * MINUTE_MS) }, long, 60_000).data.unrested).toBe(true);
    expect(air(60, {}, 100_000)).toBeUndefined();
  });

  test('is a suction that neither falls nor flows for a minute, and that is told', () => {
    const stands = (ms: number) => runs({ stagnantSinceMs: ago(ms) }, {}, 100_000, 0);
    expect(stands(59_999).data.why).toBeUndefined();
    expect(stands(60_000).data.why).toBe('stagnant');
    expect(stands(60_000).notices).toEqual([{ code: 'recovery-stagnant', with: { pressure: '100' } }]);
    expect(codesOf(runs({}, { seen: { manifoldPa: 22_000 } }))).toEqual([]);
  });

  test('is twenty minutes of it, or 45 of the whole recovery', () => {
    expect(why({ compressorSinceMs: ago(20 * MINUTE_MS) })).toBe('run-time');
    expect(why({ compressorSinceMs: ago(20 * MINUTE_MS - 1) })).toBeUndefined();
    const began = (ms: number) => why({}, { accounts: { recoveryStartedAtMs: ago(ms) } });
    expect(began(45 * MINUTE_MS)).toBeUndefined();
    expect(began(45 * MINUTE_MS + 1)).toBe('run-time');
    expect(why({ sinceMs: 0 }, { accounts: { recoveryStartedAtMs: undefined } })).toBe('run-time');
  });

  test('is a compressor that was taken away for two seconds', () => {
    const off = (ms: number) => why({ compressorSinceMs: ago(ms) }, { on: [] });
    expect(off(1_999)).toBeUndefined();
    expect(off(2_000)).toBe('held-back');
  });
});

describe('A first run that shows much liquid', () => {
  const SPENT_MS = 20 * MINUTE_MS;
  const LOW: Given = { seen: { manifoldPa: 40_000 } };
  /** At 40 kPa for so long, with the tank's air known, by the label 0.6 kg to come, and twenty minutes spent. */
  const cold = (more: More = {}, given: Given = {}) =>
    runs(
      { lowSinceMs: ago(6.25 * MINUTE_MS), ...more },
      {
        ...given,
        seen: { ...LOW.seen, ...given.seen },
        accounts: { tankExcessFirstPa: 0, recoveryStartedAtMs: ago(SPENT_MS), ...given.accounts },
      },
      40_000,
    );

  test('goes on without a rest for half an hour, and that is told once', () => {
    expect(cold().data).toMatchObject({ step: 'draw', unrested: true, why: undefined });
    expect(codesOf(cold())).toEqual(['liquid-trapped']);
    expect(codesOf(cold({ unrested: true }))).toEqual([]);
    const long = (ms: number) =>
      cold({ unrested: true, compressorSinceMs: ago(ms), lowSinceMs: ago(ms - 60_000) }).data.why;
    expect(long(30 * MINUTE_MS - 1)).toBeUndefined();
    expect(long(30 * MINUTE_MS)).toBe('run-time');
    const low = (ms: number) => cold({ unrested: true, lowSinceMs: ago(ms) }).data.why;
    expect(low(30 * MINUTE_MS - 1)).toBeUndefined();
    expect(low(30 * MINUTE_MS)).toBe('trickle');
  });

  test('ends where nobody can tell whether it is air, or it is', () => {
    expect(cold({ unrested: true }, { seen: { tankPa: undefined } }).data.why).toBe('trickle');
    expect(cold({}, { seen: { tankPa: undefined } }).data).toMatchObject({ unrested: false, why: 'trickle' });
    expect(cold({}, { seen: { tankPa: 620_000 } }).data).toMatchObject({ unrested: false, why: 'trickle' });
  });

  test('is none after a rest, before its time, with little to come, or by a scale that is leant on', () => {
    const is = (more: More = {}, given: Given = {}) => cold(more, given).data.unrested;
    expect(is({}, { accounts: { cycles: [{ recoveredKg: 0.1 }] } })).toBe(false);
    expect(is({ lowSinceMs: ago(6.25 * MINUTE_MS - 1) })).toBe(false);
    expect(is({ lowSinceMs: undefined })).toBe(false);
    expect(is({}, { scale: { trust: 'disturbed', slowFlowKgPerS: 0.002 } })).toBe(false);
    expect(is({}, { seen: { ambientK: undefined }, accounts: { recoveredKg: 0.3 } })).toBe(false);
    expect(is({}, { accounts: { recoveredKg: 0.3 } })).toBe(true);
    // Half an hour and two minutes are over when this has come: of 0.6 kg what was booked, and what the scale shows since, is gone.
    const shortKg = drawnKgPerS(shown(LOW))! * ((32 * MINUTE_MS - SPENT_MS) / 1000);
    const left = (recoveredKg: number, shownKg: number, accounts: Given['accounts'] = {}) =>
      is(
        {},
        {
          accounts: { recoveredKg, weighed: weighing(8), ...accounts },
          scale: { massKg: 8 + shownKg, slowFlowKgPerS: 0.002 },
        },
      );
    const goneKg = 0.6 - shortKg;
    expect(left(0.1, goneKg - 0.101)).toBe(true);
    expect(left(0.1, goneKg - 0.099)).toBe(false);
    expect(left(0.1, goneKg - 0.101, { recoveryStartedAtMs: ago(SPENT_MS - 10_000) })).toBe(false);
    // More than 0.35 kg to come are much in any case.
    const early = { recoveryStartedAtMs: ago(MINUTE_MS) };
    expect(left(0.1, 0.149, early)).toBe(true);
    expect(left(0.1, 0.151, early)).toBe(false);
    // What a worn compressor draws takes longer.
    expect(left(0.1, goneKg - 0.09, { kept: { ...NOTHING_KEPT, share: 0.8 } })).toBe(true);
  });
});
