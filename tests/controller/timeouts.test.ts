// How long a stage, a question and a halt may last, each in minutes and worked out by hand.
import { describe, expect, test } from 'vitest';
import { promptOf } from '../../controller/prompts.ts';
import { enterRest } from '../../controller/stages/rest.ts';
import { afterPrompt, haltLimitMs, stageLimitMs } from '../../controller/timeouts.ts';
import { planFor } from './support/machine.ts';
import { momentOf } from './support/moment.ts';

const PLAN = planFor();
const PROMPT = promptOf('connect-hoses', 1_000, 'two-ports');
const MONTH = 30 * 24 * 60;

describe('A stage', () => {
  test.each([
    // A weighing and lost moments are four minutes.
    ['identify', 480, 'whole'],
    ['fill', 480 + 3 + 4, 'step'],
    ['purge-air', 2 * 30 + 2 * 4, 'whole'],
    ['settle', 20, 'step'],
    ['recover', 2 * 20 + 4, 'whole'],
    ['rest', 8 + 4, 'whole'],
    ['drain-oil', 6 + 3 + 2 * 4, 'whole'],
    ['repair', MONTH, 'whole'],
    ['evacuate', 90 + 2 + 4, 'whole'],
    ['hold', 20, 'whole'],
    ['add-oil', 3 + 10, 'step'],
    ['leak-check', 20 + 60 + 0.5 + 2 * 4, 'step'],
    ['charge', 20 + 6 + 15 + 60 + 0.5 + 45 + 2 * 4, 'whole'],
    ['verify', 15, 'step'],
    ['clear-hoses', 5, 'step'],
    ['recover-hoses', 30, 'step'],
  ] as const)('%s has %d minutes for its %s', (stage, minutes, of) =>
    expect(stageLimitMs(stage, undefined, PLAN)).toEqual({ ms: 60_000 * minutes, whole: of === 'whole' }),
  );

  test('that waits for a vehicle to settle is given as long as that may take', () => {
    const leakCheck = { ...PLAN.leakCheck, settleMostMs: 2 * 3_600_000, blindMs: 3_600_000 };
    expect(stageLimitMs('leak-check', undefined, { ...PLAN, leakCheck }).ms).toBe(3 * 3_600_000);
  });

  test('that asks gives a working day for the answer, but a repair takes as long as it takes', () => {
    expect(stageLimitMs('charge', PROMPT, PLAN)).toEqual({ ms: 8 * 3_600_000, whole: false });
    expect(stageLimitMs('repair', PROMPT, PLAN)).toEqual({ ms: 60_000 * MONTH, whole: true });
  });
});

test('A pause lasts a working day, a trip ten minutes, and either as long as the repair within one', () => {
  const { chart } = momentOf();
  const minutes = (value: 'paused' | 'tripped', interrupted: 'repair' | 'charge') =>
    haltLimitMs({ value, context: { ...chart.context, interrupted } }, PLAN) / 60_000;
  expect([minutes('paused', 'charge'), minutes('tripped', 'charge')]).toEqual([480, 10]);
  expect([minutes('paused', 'repair'), minutes('tripped', 'repair')]).toEqual([MONTH, MONTH]);
});

describe('While a question stood', () => {
  const before = enterRest(500);

  test('no other time ran: the stage is younger by that, and its step where it is still the same', () => {
    expect(afterPrompt(before, before, PROMPT, 61_000)).toEqual({
      ...before,
      sinceMs: 60_500,
      stepSinceMs: 60_500,
    });
    const next = { ...before, stepSinceMs: 61_000 };
    expect(afterPrompt(next, before, PROMPT, 61_000)).toMatchObject({ sinceMs: 60_500, stepSinceMs: 61_000 });
  });

  test('and where none did, nothing changes', () =>
    expect(afterPrompt(before, before, undefined, 61_000)).toBe(before));
});
