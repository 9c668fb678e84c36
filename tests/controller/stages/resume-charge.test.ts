// A charge after a pause: it weighs and goes on to the same target, and proves anew whatever an engine hangs on.

import { describe, expect, test } from 'vitest';
import { startCount } from '../../../controller/estimates/condenser.ts';
import { enterCharge } from '../../../controller/stages/charge.ts';
import type { DataOf } from '../../../controller/stages/data.ts';
import { resumeStage } from '../../../controller/stages/index.ts';
import { weighingOf } from '../support/weighings.ts';

type Charge = DataOf<'charge'>;
const NOW_MS = 70_000;
const resumed = (data: Charge): Charge => resumeStage(data, 10_000, NOW_MS) as Charge;

const BUSY: Charge = {
  ...enterCharge(0),
  step: 'full',
  targetKg: 0.6,
  reference: weighingOf(8),
  weighing: { sinceMs: 0, quietSinceMs: 0, samples: 9, sum: 9, hosePaSum: 0, lastAtMs: 0 },
  shutDueMs: 9_000,
  pulseMs: 200,
  stallSinceMs: 5_000,
  stalledMs: 4_000,
  settledKg: 3,
  settledSamples: 9,
};
/** What no pause leaves as it was. */
const AFRESH = {
  sinceMs: 60_000,
  stepSinceMs: NOW_MS,
  weighing: undefined,
  shutDueMs: undefined,
  pulseMs: 0,
  stallSinceMs: undefined,
  stalledMs: 0,
};

test.each(['look', 'full', 'settle', 'pulse', 'cushion', 'heat', 'weigh-still', 'weigh-again'] as const)(
  'A charge that was at "%s" lets its scale settle, and goes on to the same target',
  (step) =>
    expect(resumed({ ...BUSY, step })).toEqual({
      ...BUSY,
      ...AFRESH,
      step: 'settle',
      settledKg: 0,
      settledSamples: 0,
    }),
);

test.each(['weigh', 'weigh-after', 'blow-down'] as const)('One that was at "%s" begins that afresh', (step) =>
  expect(resumed({ ...BUSY, step })).toEqual({ ...BUSY, ...AFRESH, step }),
);

test.each(['draw-manifold', 'draw-hose', 'pump-out', 'stand-apart', 'prove-dry', 'weigh-drawn'] as const)(
  'One whose hoses were being drawn back at "%s" weighs what has come back by then',
  (step) => expect(resumed({ ...BUSY, step })).toEqual({ ...BUSY, ...AFRESH, step: 'weigh-drawn' }),
);

describe('With the help of an engine', () => {
  const engineHelp = {
    count: startCount(0),
    fanStopped: false,
    drew: true,
    startedAtMs: 1_000,
    left: 2,
    fired: 3,
    yieldKg: 0.001,
    fromKg: 0.4,
    sumKg: 4,
    samples: 8,
  };
  const HELPED: Charge = { ...BUSY, engineHelp };

  test('the manifold is cleared further', () =>
    expect(resumed({ ...HELPED, step: 'clear-manifold' })).toEqual({
      ...HELPED,
      ...AFRESH,
      step: 'clear-manifold',
    }));

  test.each(['prove-shut', 'start-engine'] as const)(
    'the valves are proven shut before anyone is asked to start it: %s',
    (step) => expect(resumed({ ...HELPED, step })).toEqual({ ...HELPED, ...AFRESH, step: 'prove-shut' }),
  );

  test.each(['engine-runs', 'engine-look', 'engine-pulse', 'engine-draw'] as const)(
    'one that runs is looked at before the next pulse: %s',
    (step) =>
      expect(resumed({ ...HELPED, step })).toEqual({
        ...HELPED,
        ...AFRESH,
        step: 'engine-look',
        engineHelp: { ...engineHelp, sumKg: 0, samples: 0 },
      }),
  );

  test('that is over, the charge is weighed or settles like any other', () => {
    expect(resumed({ ...HELPED, step: 'weigh-after' }).step).toBe('weigh-after');
    expect(resumed({ ...HELPED, step: 'pulse' }).step).toBe('settle');
    expect(resumed({ ...BUSY, step: 'start-engine' }).step).toBe('settle');
  });
});
