// What a leak check lets into the vehicle, and how it goes back to the tank.

import { describe, expect, test } from 'vitest';
import { enterPartialCharge } from '../../../controller/stages/charge.ts';
import type { ChargeData } from '../../../controller/stages/data-charge.ts';
import type { LeakCheckData } from '../../../controller/stages/data-checks.ts';
import { enterLeakCheck, stepLeakCheck } from '../../../controller/stages/leak-check.ts';
import type { Accounts } from '../../../controller/state.ts';
import type { Given } from '../support/stage-input.ts';
import { inputOf, NEARLY_WEIGHED, TRUSTED, WEIGHED, weighedNow } from '../support/unseen-input.ts';
import { onOf } from '../support/weighings.ts';

const MINUTE_MS = 60_000;
/** A vehicle that was evacuated and has been let 78 g in. */
const LET_IN: Partial<Accounts> = { evacuations: 1, chargedKg: 0.078 };
const AS_IT_STANDS: Partial<Accounts> = { evacuations: 0 };

function stepped(data: LeakCheckData, given: Given) {
  const step = stepLeakCheck(data, inputOf({ accounts: LET_IN, ...given }));
  expect(onOf(step.wanted)).toEqual([]);
  return { ...step, told: step.notices?.[0] };
}

describe('What is let in', () => {
  test('is nothing where the vehicle was not evacuated: it is searched as it stands', () => {
    const step = stepped(enterLeakCheck(0), { nowMs: 5_000, accounts: AS_IT_STANDS });
    expect(step.data).toMatchObject({
      stage: 'leak-check',
      step: 'settle',
      stepSinceMs: 5_000,
      seenAtMs: 5_000,
    });
    expect(step.data.admission).toBeUndefined();
  });

  const DISTURBED = { scale: { ...TRUSTED, trust: 'disturbed' } } as const;
  const admitting = (over: Partial<ChargeData>, given: Given) =>
    stepped({ ...enterLeakCheck(0), admission: { ...enterPartialCharge(0), ...over } }, given);

  test('begins with a weighing of the tank, and a scale that is lost then loses nothing', () => {
    const begun = stepped(enterLeakCheck(0), { nowMs: 5_000, estimates: DISTURBED });
    expect(begun.event).toBeUndefined();
    expect(begun.data).toMatchObject({ step: 'admit', admission: { part: 'partial', step: 'weigh' } });
    const lost = stepped(begun.data, { nowMs: 10 * MINUTE_MS, estimates: DISTURBED });
    expect(lost.event).toBe('scale-lost');
    expect(lost.accounts).toBeUndefined();
  });

  test('is nothing into a vehicle that has lost its vacuum, and nothing goes back', () => {
    const gone = admitting(
      { step: 'look', reference: WEIGHED },
      { nowMs: 9_000, seen: { manifoldOverSpan: true }, estimates: { scale: TRUSTED } },
    );
    expect(gone.event).toBe('vacuum-gone');
    expect(gone.accounts).toBeUndefined();
  });

  test('is booked by the last weighing, and then the vehicle comes to rest', () => {
    // Ten samples, the last one 0.78 kg lower: their mean is lower by 78 g.
    const given = weighedNow(2_100_000 - 78_000);
    const { data, ledger, accounts, event } = stepped(
      {
        ...enterLeakCheck(0),
        admission: {
          ...enterPartialCharge(0),
          step: 'weigh-after',
          result: 'charged',
          reference: WEIGHED,
          weighing: NEARLY_WEIGHED,
        },
      },
      { ...given, accounts: { evacuations: 1, weighed: WEIGHED } },
    );
    expect(event).toBeUndefined();
    expect(data).toMatchObject({ step: 'settle', stepSinceMs: 60_000, seenAtMs: 60_000 });
    expect(ledger).toMatchObject([{ movement: 'tank-to-vehicle', massKg: expect.closeTo(0.078, 3) }]);
    expect(accounts!.chargedKg).toBeCloseTo(0.078, 3);
  });

  test('goes back where the charge of it fails after something may have left the tank', () => {
    const failed = admitting(
      { step: 'weigh-again', reference: WEIGHED, weighing: { ...NEARLY_WEIGHED, sinceMs: 0 } },
      { nowMs: 10 * MINUTE_MS, estimates: DISTURBED },
    );
    expect(failed).toMatchObject({ event: 'search-failed', result: 'scale-lost' });
    expect(failed.told!.code).toBe('scale-lost');
    expect(failed.accounts).toMatchObject({ leakCheck: { admittedKg: 0.078 }, cycles: [] });
    expect(failed.accounts!.recoveryBefore).toBeDefined();
  });
});

describe('What goes back to the tank', () => {
  const BEFORE: Partial<Accounts> = {
    ...LET_IN,
    cycles: [{ recoveredKg: 0.5 }],
    recoveredKg: 0.5,
    recoveredUncertaintyKg: 0.004,
    recoveredOverMs: 777,
    recoveryStartedAtMs: 5,
    weighed: { ...WEIGHED, atMs: 3 },
    weighedFirst: { ...WEIGHED, atMs: 1 },
    weighedBeforeCharge: { ...WEIGHED, atMs: 2 },
  };
  const back = (ending: LeakCheckData['ending'], given: Given = weighedNow()) =>
    stepped(
      { ...enterLeakCheck(0), step: 'weigh', ending, weighing: NEARLY_WEIGHED },
      { ...given, accounts: BEFORE },
    );

  test('is weighed from here, apart from what the vehicle had brought', () => {
    const leak = back('search-found');
    expect(leak).toMatchObject({ event: 'search-found', result: 'found' });
    expect(leak.accounts).toMatchObject({
      recoveryBefore: {
        cycles: [{ recoveredKg: 0.5 }],
        recoveredKg: 0.5,
        recoveredUncertaintyKg: 0.004,
        recoveredOverMs: 777,
      },
      cycles: [],
      weighed: { atMs: 60_000 },
      weighedFirst: { atMs: 60_000 },
    });
    const { recoveryStartedAtMs, recoveredKg, recoveredUncertaintyKg, weighedBeforeCharge } = leak.accounts!;
    expect([recoveryStartedAtMs, recoveredKg, recoveredUncertaintyKg, weighedBeforeCharge]).toEqual([
      undefined,
      undefined,
      undefined,
      undefined,
    ]);
    expect(back('search-clear')).toMatchObject({ event: 'search-clear', result: 'not-found' });
    expect(back(undefined)).toMatchObject({ event: 'search-clear', result: 'not-found' });
  });

  test('goes back without a weighing too, where the scale is lost: the recovery says so', () => {
    const scale = { ...TRUSTED, trust: 'disturbed' } as const;
    const lost = back('search-found', { nowMs: 60 * MINUTE_MS, estimates: { scale } });
    expect(lost).toMatchObject({ event: 'search-found', result: 'found' });
    expect(lost.accounts).toMatchObject({ cycles: [], weighed: { atMs: 3 }, weighedFirst: { atMs: 3 } });
  });
});
