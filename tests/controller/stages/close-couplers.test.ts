// Closing the couplers before the hoses are recovered: with the engine running, stopping, or doubted.

import { describe, expect, test } from 'vitest';
import { closeCouplers, standStill, stopEngine } from '../../../controller/stages/close-couplers.ts';
import type { RecoverHosesData } from '../../../controller/stages/data-hoses.ts';
import { enterRecoverHoses } from '../../../controller/stages/recover-hoses.ts';
import { type Given, NOW_MS, says, shown } from '../support/stage-input.ts';
import { codesOf, onOf } from '../support/weighings.ts';

const data = (waitedMs: number, more: Partial<RecoverHosesData> = {}): RecoverHosesData => ({
  ...enterRecoverHoses(NOW_MS - waitedMs),
  ...more,
});
const apart = (byPa: number): Given => ({ seen: { highSidePa: 300_000 + byPa, lowSidePa: 300_000 } });

describe('The couplers are asked for', () => {
  const close = (given: Given) => closeCouplers(data(5_000), shown(given));

  test('at once where the engine stands', () => {
    expect(close({})).toMatchObject({ prompt: 'close-couplers', data: { step: 'close' } });
    expect(close({ engine: 'suspected' }).prompt).toBe('close-couplers');
    expect(close(says('close-couplers')).data).toMatchObject({ step: 'look', stepSinceMs: NOW_MS });
    expect(close(says('close-couplers')).prompt).toBeUndefined();
    expect(close(says('close-couplers-then-stop')).data.step).toBe('close');
  });

  test('before the engine is stopped where the hoses are clear, and after it where they are not', () => {
    const runs = { engine: 'running', accounts: { hosesCleared: true } } as const;
    expect(close(runs)).toMatchObject({ prompt: 'close-couplers-then-stop', data: { step: 'close' } });
    expect(close({ ...runs, ...says('close-couplers-then-stop') }).data.step).toBe('look');
    expect(close({ ...runs, ...says('close-couplers') }).data.step).toBe('close');
    expect(close({ engine: 'running' }).data).toMatchObject({ step: 'stop-engine', stepSinceMs: NOW_MS });
    expect(close({ engine: 'running' }).prompt).toBeUndefined();
  });
});

describe('The engine is to be stopped', () => {
  test('and what parts the sides at the word is remembered', () => {
    const asked = stopEngine(data(0, { step: 'stop-engine' }), shown(apart(400_000)));
    expect(asked).toMatchObject({ prompt: 'stop-engine', data: { step: 'stop-engine', apartPa: 0 } });
    const stopped = (given: Given) =>
      stopEngine(data(0, { step: 'stop-engine' }), shown({ ...given, ...says('stop-engine') })).data;
    expect(stopped(apart(400_000))).toMatchObject({
      step: 'standstill',
      apartPa: 400_000,
      stepSinceMs: NOW_MS,
    });
    expect(stopped({ seen: { lowSidePa: undefined } }).apartPa).toBe(0);
  });

  const stands = (waitedMs: number, byPa: number, more: Partial<RecoverHosesData> = {}) =>
    standStill(data(waitedMs, { step: 'standstill', apartPa: 400_000, ...more }), shown(apart(byPa)));

  test('and is believed when half of what parted the sides is gone', () => {
    expect(stands(1_000, 200_001).data.step).toBe('standstill');
    expect(stands(1_000, 200_000).data).toMatchObject({ step: 'close', stepSinceMs: NOW_MS });
    expect(onOf(stands(1_000, 200_001).wanted)).toEqual([]);
    // Sides at rest: 30 kPa and three deviations of the poorer gauge.
    expect(stands(1_000, 52_500, { apartPa: 0 }).data.step).toBe('close');
    expect(stands(1_000, 52_501, { apartPa: 0 }).data.step).toBe('standstill');
  });

  test('and is asked for once more where they stay apart for five minutes; then the word counts', () => {
    expect(stands(299_999, 300_000).data.step).toBe('standstill');
    const doubted = stands(300_000, 300_000);
    expect(doubted.data).toMatchObject({ step: 'stop-engine', stopDoubted: true, stepSinceMs: NOW_MS });
    expect(doubted.notices).toEqual([
      { code: 'engine-perhaps-running', with: { minutes: '5', apart: '300' } },
    ]);
    const again = stands(300_000, 300_000, { stopDoubted: true });
    expect(again.data.step).toBe('close');
    expect(codesOf(again)).toEqual([]);
    expect(stands(299_999, 300_000, { stopDoubted: true }).data.step).toBe('standstill');
  });

  test('and its word alone counts where the sides cannot be seen', () =>
    expect(
      standStill(data(0, { apartPa: 400_000 }), shown({ ticket: { ports: 1 }, ...apart(400_000) })).data.step,
    ).toBe('close'));
});
