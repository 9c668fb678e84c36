// What a job has come to: what is known is in the record, and nothing stands for what is not.
import { describe, expect, test } from 'vitest';
import { jobResult } from '../../controller/result.ts';
import type { Accounts } from '../../controller/state.ts';
import { momentOf } from './support/moment.ts';

const resultOf = (accounts: Partial<Accounts> = {}) => jobResult(momentOf({ accounts }));

test('A job that has only begun has come to nothing yet', () =>
  expect(resultOf()).toStrictEqual({
    outcome: 'running',
    stages: [{ stage: 'identify', startedAtMs: 0 }],
    masses: {},
    notices: [],
    ledger: [],
  }));

test.each([
  ['completed', 'completed'],
  ['stopped', 'stopped'],
  ['paused', 'running'],
  ['tripped', 'running'],
  ['idle', 'running'],
] as const)('A job that is %s counts as %s', (value, outcome) => {
  const { chart } = momentOf();
  expect(jobResult(momentOf({ state: { chart: { ...chart, value } } })).outcome).toBe(outcome);
});

describe('The masses', () => {
  const MASSES = {
    recoveredKg: 0.5,
    recoveredUncertaintyKg: 0.01,
    hoseRecoveredKg: 0.03,
    chargedKg: 0.63,
    purgedKg: 0.015,
    netChargeKg: 0.6,
    uncertaintyKg: 0.004,
  };

  test('are each there once booked', () => {
    expect(resultOf(MASSES).masses).toStrictEqual(MASSES);
    for (const [name, kg] of Object.entries(MASSES))
      expect(resultOf({ [name]: kg }).masses).toStrictEqual({ [name]: kg });
  });

  test('are known to be lost track of, where they are', () =>
    expect(resultOf({ lostTrack: true }).masses).toStrictEqual({ lostTrack: true }));

  test('of a recovery before a leak check stand apart from what came back of it', () => {
    const recoveryBefore = {
      cycles: [{ recoveredKg: 0.5 }],
      recoveredKg: 0.5,
      recoveredUncertaintyKg: 0.01,
      recoveredOverMs: 0,
    };
    const { masses, recovery } = resultOf({
      recoveryBefore,
      recoveredKg: 0.07,
      recoveredUncertaintyKg: 0.02,
    });
    expect(masses).toStrictEqual({ recoveredKg: 0.5, recoveredUncertaintyKg: 0.01, returnedKg: 0.07 });
    expect(recovery).toEqual({ cycles: [{ recoveredKg: 0.5 }] });
  });
});

test('What is missing of the charge is told once it was recovered', () => {
  // 600 g, of which 500 g came and 2 % are reckoned to be left in the vehicle.
  const { missing } = resultOf({ recoveredKg: 0.5, recoveredUncertaintyKg: 0.01 });
  expect(missing!.kg).toBeCloseTo(0.6 - 0.5 - 0.012, 9);
  expect(missing!.uncertaintyKg).toBeCloseTo(Math.hypot(0.01, 0.015, 0.012), 9);
  expect(resultOf({ recoveredKg: 0.5 }).missing).toBeUndefined();
});

describe('The accounts of the stages', () => {
  const evacuation = { lowestPa: 120, minutes: 20 };
  const hold = { verdict: 'tight', slopePaPerS: 0.01, plateauPa: 200, detectionLimitKgPerYear: 0.1 } as const;
  const repair = { why: 'asked' } as const;
  const fill = { kg: 1, uncertaintyKg: 0.01 };
  const leakCheck = { found: false };
  const performance = { verdict: 'as-expected', highPa: 1e6, lowPa: 2e5, ambientK: 293 } as const;
  const identification = { verdict: 'accepted', refrigerant: 'R-134a', purityPercent: 99.9 } as const;

  test.each(Object.entries({ evacuation, hold, repair, fill, leakCheck, performance, identification }))(
    'are handed on: %s',
    (name, account) =>
      expect(resultOf({ [name]: account })).toStrictEqual({ ...resultOf(), [name]: account }),
  );

  test('of oil and dye have what was drained and what was added', () => {
    const added = { injectedM3: 8e-6, injectedUncertaintyM3: 1e-6 };
    expect(resultOf({ oil: { emptied: 1, drainedM3: 5e-6, drainedAtMs: 4, ...added } }).oil).toStrictEqual({
      drainedM3: 5e-6,
      ...added,
    });
    expect(resultOf({ oil: { emptied: 0, drainedM3: 5e-6 } }).oil).toStrictEqual({ drainedM3: 5e-6 });
    expect(resultOf({ dye: { emptied: 2, ...added } }).dye).toStrictEqual(added);
    expect(Object.keys(resultOf({ dye: { emptied: 2 } }))).not.toContain('dye');
  });

  test('of a recovery have its cycles', () =>
    expect(resultOf({ cycles: [{ recoveredKg: 0.4 }] }).recovery).toEqual({
      cycles: [{ recoveredKg: 0.4 }],
    }));
});
