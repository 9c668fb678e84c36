// Drain oil: the short openings of the drain and what each is taken for, and what goes back into the tank.

import { describe, expect, test } from 'vitest';
import { NOTHING_KEPT } from '../../../controller/estimates/kept.ts';
import type { DrainOilData } from '../../../controller/stages/data-recovery.ts';
import { enterDrainOil, stepDrainOil } from '../../../controller/stages/drain-oil.ts';
import { EQUIPMENT } from '../support/machine.ts';
import { almostWeighed, type Given, NOW_MS, shown, weighing } from '../support/stage-input.ts';
import { codesOf, countsOf, onOf } from '../support/weighings.ts';

type More = Partial<DrainOilData>;
const stepped = (step: DrainOilData['step'], waitedMs: number, more: More = {}, given: Given = {}) =>
  stepDrainOil({ ...enterDrainOil(NOW_MS - waitedMs), step, ...more }, shown(given));

const FROM_PA = 150_000;
const joined = (manifoldPa: number | undefined): Given => ({ seen: { manifoldPa } });
const FLOAT = { equipment: { ...EQUIPMENT, separatorFloat: true } };

describe('An opening of the drain', () => {
  const drain = (waitedMs: number, more: More = {}, given: Given = {}) =>
    stepped('drain', waitedMs, more, { ...joined(FROM_PA), ...given });

  test('follows a mean of 0.3 s, and is counted down by the rig', () => {
    const before = drain(299, { sumPa: 100_000, samples: 1 });
    expect(before.data).toMatchObject({ fired: false, sumPa: 250_000, samples: 2 });
    expect(onOf(before.wanted)).toEqual(['recoveryValve']);
    const fired = drain(300, { sumPa: 100_000, samples: 1 });
    expect(fired.data).toMatchObject({
      step: 'drain',
      fired: true,
      fromPa: 125_000,
      stepSinceMs: NOW_MS,
      samples: 0,
    });
    expect(onOf(fired.wanted)).toEqual(['recoveryValve', 'separatorDrainValve']);
  });

  test('is first half the dead time of the valve, then 80 ms, and with a float 0.6 s', () => {
    const lastsMs = (openings: number, given: Given = {}) =>
      drain(300, { openings }, given).wanted.separatorDrainValve.offAfterMs;
    expect(lastsMs(0)).toBe(30);
    expect(lastsMs(1)).toBe(80);
    expect(lastsMs(0, FLOAT)).toBe(30);
    expect(lastsMs(1, FLOAT)).toBe(600);
  });

  test('is kept wanted as long as it may last, and then looked at once the valve has surely shut', () => {
    const opened = (ms: number, openings = 1, given: Given = {}) =>
      drain(ms, { fired: true, fromPa: FROM_PA, openings }, given);
    expect(onOf(opened(79).wanted)).toEqual(['recoveryValve', 'separatorDrainValve']);
    expect(opened(79).wanted.separatorDrainValve.offAfterMs).toBe(80);
    expect(onOf(opened(80).wanted)).toEqual(['recoveryValve']);
    expect(opened(249).data.samples).toBe(0);
    expect(opened(250).data).toMatchObject({ samples: 1, sumPa: FROM_PA, openings: 1 });
    expect(opened(549).data).toMatchObject({ samples: 1, openings: 1 });
    expect(opened(550).data.openings).toBe(2);
    expect(onOf(opened(250).wanted)).toEqual(['recoveryValve']);
    // With a float the time begins when the opening ends.
    expect(opened(849, 1, FLOAT).data.samples).toBe(0);
    expect(opened(850, 1, FLOAT).data.samples).toBe(1);
    expect(opened(1_149, 1, FLOAT).data).toMatchObject({ step: 'drain', samples: 1 });
    expect(opened(1_150, 1, FLOAT).data.step).toBe('weigh');
  });

  test('is NOT risked without the sensor', () => {
    expect(drain(300, {}, joined(undefined)).data).toMatchObject({ step: 'weigh', why: 'not-empty' });
  });
});

describe('What an opening took', () => {
  /** Share of the pressure that has gone with it. */
  const took = (share: number, openings = 1, given: Given = {}) =>
    stepped(
      'drain',
      2_000,
      { fired: true, fromPa: FROM_PA, openings },
      {
        ...joined(FROM_PA * (1 - share)),
        ...given,
      },
    );

  test('was oil up to 0.6 %, and the next opening follows; more was gas, and all is drained', () => {
    expect(took(0.0059)).toMatchObject({ data: { step: 'drain', openings: 2, fired: false } });
    expect(onOf(took(0.0059).wanted)).toEqual(['recoveryValve']);
    expect(took(0.0061).data).toMatchObject({ step: 'weigh', why: 'drained' });
    expect(took(0.0061, 0).data).toMatchObject({ step: 'weigh', why: 'dry' });
    expect(took(0.0059, 0).data).toMatchObject({ step: 'drain', openings: 1 });
  });

  test('is judged by the mean, not by the last reading', () => {
    const mean = (lastPa: number) =>
      stepped(
        'drain',
        2_000,
        { fired: true, fromPa: FROM_PA, openings: 1, sumPa: 5 * FROM_PA, samples: 5 },
        joined(lastPa),
      );
    // 0.6 % of the mean of six is 3.6 % of the last.
    expect(mean(FROM_PA * (1 - 0.035)).data.step).toBe('drain');
    expect(mean(FROM_PA * (1 - 0.037)).data.why).toBe('drained');
  });

  test('behind a float tells that it has shut, or sticks and lets gas follow', () => {
    expect(took(0.0014, 1, FLOAT).data).toMatchObject({ why: 'dry' });
    expect(took(0.0014, 2, FLOAT).data).toMatchObject({ why: 'drained' });
    expect(took(0.0016, 1, FLOAT).data).toMatchObject({ step: 'drain', openings: 2 });
    expect(took(0.019, 1, FLOAT).data).toMatchObject({ step: 'drain', openings: 2 });
    expect(took(0.021, 1, FLOAT).data).toMatchObject({ why: 'drained' });
    // The probe is too short for that: gas shows as without a float, and nothing at all says nothing.
    expect(took(0.0061, 0, FLOAT).data).toMatchObject({ why: 'dry' });
    expect(took(0.001, 0, FLOAT).data).toMatchObject({ step: 'drain', openings: 1 });
    expect(took(0.001, 1).data).toMatchObject({ step: 'drain', openings: 2 });
  });

  test('ends after 150 openings, with oil that may be left', () => {
    expect(took(0.003, 148).data).toMatchObject({ step: 'drain', openings: 149 });
    expect(took(0.003, 149).data).toMatchObject({ step: 'weigh', why: 'not-empty' });
  });

  test('below 15 kPa above the atmosphere calls for more vapour', () => {
    const left = (gaugePa: number) => {
      const pa = 101_325 + gaugePa;
      return stepped('drain', 2_000, { fired: true, fromPa: pa, openings: 1 }, joined(pa)).data.step;
    };
    expect(left(15_000)).toBe('drain');
    expect(left(14_999)).toBe('look');
  });
});

describe('When the drain has shut for good', () => {
  const weighed = (more: More, given: Given = {}) =>
    stepped(
      'weigh',
      9_000,
      { weighing: almostWeighed(7.995), ...more },
      {
        scale: { counts: countsOf(7.995) },
        ...given,
        accounts: { weighed: weighing(8), ...given.accounts },
      },
    );

  test('what the tank gave to raise the separator is booked', () => {
    const step = weighed({ why: 'drained' });
    expect(step.ledger).toMatchObject([{ movement: 'tank-to-separator', countsBefore: countsOf(8) }]);
    expect(step.ledger![0]!.massKg).toBeCloseTo(0.005, 9);
    expect(step.data.givenKg).toBeCloseTo(0.005, 9);
    expect(step.data).toMatchObject({ step: 'return', stepSinceMs: NOW_MS });
    expect(step.accounts!.weighed?.counts).toBeCloseTo(countsOf(7.995), 3);
    expect(weighed({}, { accounts: { weighed: undefined } }).data.givenKg).toBeCloseTo(0, 9);
  });

  test('foam has its time from now on, unless nothing was drained', () => {
    expect(weighed({ why: 'drained' }).accounts!.oil.drainedAtMs).toBe(NOW_MS);
    expect(weighed({ why: 'dry' }, { accounts: { oil: { emptied: 2 } } }).accounts!.oil.emptied).toBe(2);
    expect(weighed({ why: 'no-pressure' }).accounts!.oil).not.toHaveProperty('drainedAtMs');
    expect(weighed({ why: 'passed-on' }).accounts!.oil).not.toHaveProperty('drainedAtMs');
    expect(weighed({}).accounts!.oil).not.toHaveProperty('drainedAtMs');
  });

  test('the operator is told what became of it', () => {
    expect(codesOf(weighed({ why: 'drained' }))).toEqual(['oil-drained']);
    expect(codesOf(weighed({ why: 'dry' }))).toEqual(['separator-dry']);
    expect(codesOf(weighed({ why: 'passed-on' }))).toEqual([]);
    expect(codesOf(weighed({ why: 'not-empty' }))).toEqual(['oil-drained', 'oil-left-in-separator']);
    expect(codesOf(weighed({ why: 'no-pressure' }))).toEqual(['oil-not-drained']);
    expect(codesOf(weighed({}))).toEqual(['oil-not-drained']);
  });

  test('the fan stops for the way back where the tank is warmer than the room', () => {
    expect(weighed({}).data.fanStopped).toBe(false);
    expect(weighed({}, { seen: { tankTemperatureK: 300 } }).data.fanStopped).toBe(true);
  });
});

describe('On the way back', () => {
  const back = (waitedMs: number, given: Given = {}, more: More = {}) =>
    stepped('return', waitedMs, { why: 'drained', ...more }, given);
  const RUNS = { on: ['compressor'] } as const;

  test('the compressor draws once it has rested, with its fan or without', () => {
    expect(onOf(back(0).wanted)).toEqual(['recoveryValve', 'compressor']);
    expect(onOf(back(0, {}, { fanStopped: true }).wanted)).toEqual([
      'recoveryValve',
      'compressor',
      'fanStop',
    ]);
    expect(onOf(back(0, { compressorRested: false }).wanted)).toEqual([]);
    expect(onOf(back(0, { compressorRested: false, ...RUNS }).wanted)).toEqual([
      'recoveryValve',
      'compressor',
    ]);
  });

  test('it stops at 45 kPa, and NOT before it has run at all', () => {
    expect(back(5_000, { ...RUNS, ...joined(45_001) }).data).toMatchObject({ step: 'return', fired: true });
    const low = back(5_000, { ...RUNS, ...joined(45_000) });
    expect(low.data).toMatchObject({ step: 'weigh-return', stepSinceMs: NOW_MS });
    expect(onOf(low.wanted)).toEqual([]);
    expect(back(5_000, joined(45_000)).data).toMatchObject({ step: 'return', fired: false });
    expect(back(5_000, { ...RUNS, ...joined(undefined) }).data.step).toBe('return');
  });

  test('it is given up where the compressor is taken away, and after three minutes', () => {
    expect(back(5_000, {}, { fired: true }).data.step).toBe('weigh-return');
    expect(back(180_000, RUNS).data.step).toBe('return');
    expect(back(180_001, RUNS).data.step).toBe('weigh-return');
  });
});

describe('At the end', () => {
  type Course = {
    readonly givenG: number;
    readonly backG: number;
    readonly keptG?: number;
    readonly more?: More;
  };
  function ended({ givenG, backG, keptG = 0, more = {} }: Course, given: Given = {}) {
    const kg = 8 + backG / 1_000;
    return stepped(
      'weigh-return',
      9_000,
      { why: 'drained', givenKg: givenG / 1_000, weighing: almostWeighed(kg), ...more },
      {
        scale: { counts: countsOf(kg) },
        ...given,
        accounts: {
          weighed: weighing(8),
          recoveredKg: 0.5,
          kept: { ...NOTHING_KEPT, kg: keptG / 1_000 },
          ...given.accounts,
        },
      },
    );
  }
  const recoveredG = (course: Course): number => ended(course).accounts!.recoveredKg! * 1_000;

  test('what has not come back lies in the coil, and only what left with the oil counts as recovered', () => {
    // Dissolved in ten millilitres of oil: 0.8 g, an estimate of the machine.
    expect(recoveredG({ givenG: 5, backG: 3 })).toBeCloseTo(500.8, 6);
    expect(recoveredG({ givenG: 5, backG: 6, keptG: 3 })).toBeCloseTo(500.8, 6);
    expect(recoveredG({ givenG: 5, backG: 3, more: { why: 'dry' } })).toBeCloseTo(500, 6);
    expect(ended({ givenG: 5, backG: 3 }).accounts!.kept.kg).toBeCloseTo(0.002, 9);
  });

  test('more than was given came out of the vehicle', () =>
    expect(recoveredG({ givenG: 5, backG: 12, keptG: 3 })).toBeCloseTo(504.8, 6));

  test('it is booked and told by what became of the oil', () => {
    const step = ended({ givenG: 5, backG: 3 });
    expect(step).toMatchObject({ event: 'oil-drained', result: 'drained', notices: [] });
    expect(step.ledger).toMatchObject([{ movement: 'vehicle-to-tank', countsBefore: countsOf(8) }]);
    expect(ended({ givenG: 0, backG: 0, more: { why: 'no-pressure' } })).toMatchObject({
      event: 'oil-not-drained',
      result: 'no-pressure',
    });
    expect(ended({ givenG: 0, backG: 0, more: { why: undefined } })).toMatchObject({
      event: 'oil-not-drained',
      result: 'no-pressure',
    });
    const first = ended({ givenG: 0, backG: 3 }, { accounts: { weighed: undefined } });
    expect(first.ledger![0]!.massKg).toBe(0);
  });

  test('a recovery valve that every pulse showed open is told; one that shut once is NOT', () => {
    const stuck = ended({ givenG: 5, backG: 3, more: { seenOpen: 1 } });
    expect(stuck).toMatchObject({ event: 'valve-does-not-shut', result: 'recovery-valve-open' });
    expect(codesOf(stuck)).toEqual(['recovery-valve-open']);
    expect(ended({ givenG: 5, backG: 3, more: { seenOpen: 3, seenShut: 1 } }).event).toBe('oil-drained');
    expect(ended({ givenG: 5, backG: 3, more: { seenShut: 1 } }).event).toBe('oil-drained');
  });

  test('a hose valve that lets the pulses through is told before any other', () => {
    const more: More = { why: 'passed-on', passed: { highSide: 2, lowSide: 0 }, seenOpen: 1 };
    const open = ended({ givenG: 5, backG: 3, more });
    expect(open).toMatchObject({ event: 'valve-does-not-shut', result: 'hose-valve-open' });
    expect(open.notices).toEqual([{ code: 'hose-valve-open', with: { side: 'high-side' } }]);
  });
});
