// Drain oil: what the look at the separator calls for, and what each pulse of tank vapour teaches.

import { describe, expect, test } from 'vitest';
import type { DrainOilData } from '../../../controller/stages/data-recovery.ts';
import { enterDrainOil, stepDrainOil } from '../../../controller/stages/drain-oil.ts';
import { type Given, NOW_MS, shown } from '../support/stage-input.ts';
import { onOf } from '../support/weighings.ts';

/** The barometer of the calm machine is the standard atmosphere (ISO 2533). */
const AMBIENT_PA = 101_325;
const gauge = (pa: number): Given => ({ seen: { manifoldPa: AMBIENT_PA + pa } });
const joined = (manifoldPa: number | undefined): Given => ({ seen: { manifoldPa } });

type More = Partial<DrainOilData>;
const inStep = (step: DrainOilData['step'], waitedMs: number, more: More = {}): DrainOilData => ({
  ...enterDrainOil(NOW_MS - waitedMs),
  step,
  ...more,
});
/** After 25 s the look no longer waits for rest. */
const LATE_MS = 25_000;
const looked = (given: Given, more: More = {}, waitedMs = LATE_MS) =>
  stepDrainOil(inStep('look', waitedMs, more), shown(given));

describe('A look at the separator', () => {
  test('takes three seconds with the separator joined to the absolute sensor alone', () => {
    const early = looked({ seen: { manifoldPa: undefined, manifoldOverSpan: true } }, {}, 2_999);
    expect(early.data.step).toBe('look');
    expect(onOf(early.wanted)).toEqual(['recoveryValve']);
    expect(looked({ seen: { manifoldPa: undefined, manifoldOverSpan: true } }, {}, 3_000).data).toMatchObject(
      {
        step: 'ease',
        stepSinceMs: NOW_MS,
        fired: false,
      },
    );
  });

  test('waits for a sensor that says nothing, and after 25 seconds drains nothing', () => {
    expect(looked(joined(undefined), {}, LATE_MS - 1).data.step).toBe('look');
    const blind = looked(joined(undefined));
    expect(blind.data).toMatchObject({ step: 'weigh', why: 'no-pressure' });
    expect(onOf(blind.wanted)).toEqual([]);
  });

  test('takes back what is more than 54 kPa above the atmosphere, and NOT that much exactly', () => {
    expect(looked(gauge(54_001), {}, 3_000).data.step).toBe('ease');
    expect(looked(gauge(54_000)).data.step).toBe('drain');
  });

  test('lets the separator come to rest first: 400 Pa a second at most', () => {
    const first = looked(gauge(40_000), {}, 3_000);
    expect(first.data).toMatchObject({ step: 'look', markPa: AMBIENT_PA + 40_000, markAtMs: NOW_MS });
    const marked = (markPa: number, agoMs: number) =>
      looked(gauge(40_000), { markPa: AMBIENT_PA + markPa, markAtMs: NOW_MS - agoMs }, 10_000).data;
    expect(marked(40_000, 1_499)).toMatchObject({ step: 'look', markAtMs: NOW_MS - 1_499 });
    expect(marked(40_000, 1_500).step).toBe('drain');
    expect(marked(40_600, 1_500).step).toBe('drain');
    expect(marked(40_601, 1_500)).toMatchObject({ step: 'look', markPa: AMBIENT_PA + 40_000 });
    expect(marked(39_399, 1_500)).toMatchObject({ step: 'look', markAtMs: NOW_MS });
    // As long as 25 s, and no longer.
    expect(looked(gauge(40_000), { markPa: 0, markAtMs: NOW_MS - 2_000 }).data.step).toBe('drain');
  });

  test('opens the drain from 34 kPa above the atmosphere on', () => {
    expect(looked(gauge(34_000)).data).toMatchObject({ step: 'drain', fromPa: AMBIENT_PA + 34_000 });
    expect(looked(gauge(33_999)).data).toMatchObject({
      step: 'pulse',
      fromPa: AMBIENT_PA + 33_999,
      pulses: 1,
    });
    expect(onOf(looked(gauge(33_999)).wanted)).toEqual([]);
  });

  test('lets in no more than twelve pulses', () => {
    expect(looked(gauge(0), { pulses: 11 }).data).toMatchObject({ step: 'pulse', pulses: 12 });
    expect(looked(gauge(0), { pulses: 12 }).data).toMatchObject({ step: 'weigh', why: 'no-pressure' });
  });

  test('is over after six minutes, and no oil that came is forgotten', () => {
    const over = (sinceMs: number, more: More = {}) =>
      looked(gauge(40_000), { sinceMs: NOW_MS - sinceMs, ...more }, 0).data;
    expect(over(360_000).step).toBe('look');
    expect(over(360_001)).toMatchObject({ step: 'weigh', why: 'no-pressure' });
    expect(over(360_001, { openings: 1 })).toMatchObject({ step: 'weigh', why: 'not-empty' });
    expect(over(360_001, { why: 'drained' }).step).toBe('look');
  });
});

describe('A pulse of tank vapour', () => {
  const lengthMs = (more: More, pa = 0): number => looked(gauge(pa), more).data.pulseMs;

  test('is 30 ms at first and longer by 12 ms each time nothing has come, up to 60 ms', () => {
    expect([0, 1, 2, 3].map((pulses) => lengthMs({ pulses }))).toEqual([30, 42, 54, 60]);
  });

  test('aims from below at 42 kPa by what the last ones have brought', () => {
    expect(lengthMs({ paPerMs: 1_000 })).toBeCloseTo(29.4, 9);
    expect(lengthMs({ paPerMs: 1_000 }, 20_000)).toBeCloseTo(15.4, 9);
    expect(lengthMs({ paPerMs: 5_000 })).toBe(12);
    expect(lengthMs({ paPerMs: 100 })).toBe(60);
  });

  test('teaches what a millisecond brings, the newest counting most', () => {
    const learnt = (more: More) =>
      looked(gauge(0), { pulseMs: 30, fromPa: AMBIENT_PA - 15_000, ...more }).data;
    expect(learnt({}).paPerMs).toBeCloseTo(500, 9);
    expect(learnt({ paPerMs: 1_000 }).paPerMs).toBeCloseTo(700, 9);
    expect(learnt({ paPerMs: 1_000, fromPa: AMBIENT_PA + 9_000 }).paPerMs).toBeCloseTo(400, 9);
    expect(learnt({ paPerMs: 1_000, pulseMs: 0 }).paPerMs).toBe(1_000);
    expect(learnt({ paPerMs: 1_000, fromPa: undefined }).paPerMs).toBe(1_000);
    expect(looked(gauge(40_000), { pulseMs: 30, fromPa: AMBIENT_PA }).data.pulseMs).toBe(0);
  });

  test('comes 0.3 s after the recovery valve shut, once, counted down by the rig', () => {
    const pulse = (waitedMs: number, more: More = {}, given: Given = {}) =>
      stepDrainOil(inStep('pulse', waitedMs, { pulseMs: 30, ...more }), shown(given));
    expect(onOf(pulse(299).wanted)).toEqual([]);
    expect(onOf(pulse(300).wanted)).toEqual(['chargeValve']);
    expect(pulse(300).wanted.chargeValve.offAfterMs).toBe(30);
    expect(pulse(300).data).toMatchObject({ step: 'pulse', fired: true });
    expect(onOf(pulse(799, { fired: true }).wanted)).toEqual([]);
    expect(pulse(799, { fired: true }).data.step).toBe('pulse');
    const done = pulse(800, { fired: true }, joined(77_000));
    expect(done.data).toMatchObject({ step: 'look', closedPa: 77_000, fired: false });
    expect(onOf(done.wanted)).toEqual(['recoveryValve']);
    // Past its span the sensor tells at least that much.
    const over = { seen: { manifoldPa: undefined, manifoldOverSpan: true } };
    expect(pulse(800, { fired: true }, over).data.closedPa).toBe(160_000);
  });
});

describe('A hose that follows the pulses', () => {
  test('is found by what it shows before and after each of them', () => {
    const before = shown({ seen: { manifoldPa: 60_000, highSidePa: 60_000 } });
    const fired = stepDrainOil(inStep('pulse', 300, { pulseMs: 30 }), before).data;
    expect(before.seen).toMatchObject(fired.pulsedFrom!);
    const pulsed = (more: More) =>
      stepDrainOil(
        { ...fired, stepSinceMs: NOW_MS - 800, ...more },
        shown({ seen: { manifoldPa: 80_000, highSidePa: 79_000 } }),
      );
    expect(pulsed({}).data.passed).toEqual({ highSide: 1, lowSide: 0 });
    expect(pulsed({ pulsedFrom: undefined }).data.passed).toEqual({ highSide: 0, lowSide: 0 });
  });

  test('ends the draining at the next look', () => {
    const next = (highSide: number) => looked(gauge(40_000), { passed: { highSide, lowSide: 0 } }, 0).data;
    expect(next(1).step).toBe('look');
    expect(next(2)).toMatchObject({ step: 'weigh', why: 'passed-on' });
  });
});

describe('What a pulse makes of the closed manifold', () => {
  /** The separator has risen from 50 to 60 kPa by the pulse. */
  const seen = (more: More, joinedPa = 60_000) => {
    const { seenShut, seenOpen } = looked(joined(joinedPa), { pulseMs: 30, fromPa: 50_000, ...more }).data;
    return { seenShut, seenOpen };
  };

  test('tells a recovery valve that shuts from one that stands open: 0.84 of the rise', () => {
    expect(seen({ closedPa: 58_401 })).toEqual({ seenShut: 1, seenOpen: 0 });
    expect(seen({ closedPa: 58_400 })).toEqual({ seenShut: 0, seenOpen: 1 });
    expect(seen({ closedPa: 58_401, seenShut: 2, seenOpen: 3 })).toEqual({ seenShut: 3, seenOpen: 3 });
    expect(seen({ closedPa: 58_400, seenShut: 2, seenOpen: 3 })).toEqual({ seenShut: 2, seenOpen: 4 });
  });

  test('tells nothing from above 60 kPa, of less than 10 kPa, or unseen', () => {
    const nothing = { seenShut: 0, seenOpen: 0 };
    expect(seen({ closedPa: 55_000, fromPa: 60_001 }, 75_000)).toEqual(nothing);
    expect(seen({ closedPa: 55_000, fromPa: 60_000 }, 75_000)).toEqual({ seenShut: 0, seenOpen: 1 });
    expect(seen({ closedPa: 58_400 }, 59_999)).toEqual(nothing);
    expect(seen({ closedPa: undefined })).toEqual(nothing);
  });
});

describe('Too much pressure', () => {
  const eased = (given: Given) => stepDrainOil(inStep('ease', 5_000, { pulseMs: 30 }), shown(given));

  test('is drawn by the compressor down to 42 kPa above the atmosphere, and teaches nothing', () => {
    expect(onOf(eased(gauge(42_001)).wanted)).toEqual(['recoveryValve', 'compressor']);
    const done = eased(gauge(42_000));
    expect(done.data).toMatchObject({ step: 'look', pulseMs: 0, stepSinceMs: NOW_MS });
    expect(onOf(done.wanted)).toEqual(['recoveryValve']);
    expect(onOf(eased(joined(undefined)).wanted)).toEqual(['recoveryValve', 'compressor']);
  });

  test('waits for a compressor that must rest, and NOT once it runs', () => {
    const tired = { ...gauge(50_000), compressorRested: false };
    expect(onOf(eased(tired).wanted)).toEqual(['recoveryValve']);
    expect(onOf(eased({ ...tired, on: ['compressor'] }).wanted)).toEqual(['recoveryValve', 'compressor']);
  });
});
