// What is booked of a run of the compressor: by the scale, and into the condenser.

import { describe, expect, test } from 'vitest';
import { startCount } from '../../../controller/estimates/condenser.ts';
import { NOTHING_KEPT } from '../../../controller/estimates/kept.ts';
import type { RecoverData } from '../../../controller/stages/data-recovery.ts';
import { enterRecover, stepRecover } from '../../../controller/stages/recover.ts';
import { almostWeighed, type Given, NOW_MS, shown, weighing } from '../support/stage-input.ts';
import { countsOf } from '../support/weighings.ts';

describe('The weighing after a run', () => {
  /** 300 g have come by the scale. */
  const weighed = (more: Partial<RecoverData> = {}, given: Given = {}) =>
    stepRecover(
      {
        ...enterRecover(NOW_MS - 9_000),
        step: 'weigh',
        why: 'trickle',
        weighing: almostWeighed(8.3),
        ...more,
      },
      shown({
        ...given,
        scale: { counts: countsOf(8.3) },
        accounts: { weighed: weighing(8), weighedFirst: weighing(8), ...given.accounts },
      }),
    );

  test('books what came, by the scale and into the condenser', () => {
    const step = weighed({
      count: { ...startCount(NOW_MS), drawnKg: 0.31, totalKg: 0.31, drawnSdKg: 0.001, hoseGaugePa: -41_325 },
    });
    expect(step).toMatchObject({ event: 'run-ended', result: 'trickle', notices: [] });
    expect(step.ledger).toMatchObject([{ movement: 'vehicle-to-tank', countsBefore: countsOf(8) }]);
    expect(step.accounts!.kept.kg).toBeCloseTo(0.01, 4);
    expect(step.accounts!.recoveredKg).toBeCloseTo(0.31, 4);
    expect(step.accounts!.cycles).toHaveLength(1);
    expect(step.accounts!.cycles[0]!.recoveredKg).toBeCloseTo(0.31, 4);
    expect(step.accounts!.cycles[0]).not.toHaveProperty('unrested');
  });

  test('counts on from the draws before, and remembers that it went on without a rest', () => {
    const before = { cycles: [{ recoveredKg: 0.2 }], recoveredKg: 0.2, kept: { ...NOTHING_KEPT, kg: 0.005 } };
    const step = weighed({ unrested: true, why: undefined }, { accounts: before });
    expect(step.result).toBe('run-ended');
    expect(step.accounts!.cycles).toMatchObject([{ recoveredKg: 0.2 }, { unrested: true }]);
    // Without a count more has arrived than was drawn: the coil has given up its 5 g.
    expect(step.accounts!.recoveredKg).toBeCloseTo(0.495, 4);
    expect(weighed({}, { accounts: { weighed: undefined } }).ledger![0]!.massKg).toBeCloseTo(0, 9);
  });

  test('tells once of a compressor that brings half of what it should', () => {
    const suction = { mostPa: 500_000, fell: true, guessed: false, gauge: 'none' as const };
    const count = {
      ...startCount(NOW_MS),
      pushedEmpty: true,
      totalKg: 0.6,
      shownKg: 0.3,
      suction,
      hoseGaugePa: -41_325,
    };
    expect(weighed({ count }).notices).toEqual([{ code: 'compressor-worn', with: { share: '50' } }]);
    expect(weighed({ count }, { accounts: { kept: { ...NOTHING_KEPT, share: 0.6 } } }).notices).toEqual([]);
    expect(weighed({ count: { ...count, totalKg: 0.3 } }).notices).toEqual([]);
  });
});
