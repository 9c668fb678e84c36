// Warming by the engine scan by scan: from when it counts, and what is told at which moment.

import { describe, expect, test } from 'vitest';
import type { SettleData } from '../../../controller/stages/data-recovery.ts';
import { enterSettle } from '../../../controller/stages/settle.ts';
import { stepWarmUp, wantsWarming } from '../../../controller/stages/warm-up.ts';
import { type Given, NOW_MS, says, shown } from '../support/stage-input.ts';
import { codesOf, onOf } from '../support/weighings.ts';

const MINUTE_MS = 60_000;
const ticket = { engine: 'can-run', warmUp: true } as const;
const sides = (highSidePa: number | undefined, lowSidePa: number | undefined): Given => ({
  seen: { highSidePa, lowSidePa },
});
const EVEN = sides(400_000, 400_000);
const warm = (more: Partial<SettleData> = {}, given: Given = EVEN) =>
  stepWarmUp({ ...enterSettle(NOW_MS), step: 'warm', ...more }, shown({ ticket, ...given }));

test('A vehicle is warmed where the ticket asks for it, once', () => {
  const wants = (warmUp: boolean, warmed: boolean) =>
    wantsWarming({ ...enterSettle(0), warmed }, shown({ ticket: { ...ticket, warmUp } }));
  expect(wants(true, false)).toBe(true);
  expect(wants(true, true)).toBe(false);
  expect(wants(false, false)).toBe(false);
});

describe('The question', () => {
  test('stands with every valve shut until the engine is said to stand again', () => {
    expect(warm()).toMatchObject({ prompt: 'warm-vehicle', data: { step: 'warm' } });
    expect(onOf(warm().wanted)).toEqual([]);
    const stopped = warm({}, { ...sides(900_000, 300_000), ...says('warm-vehicle') });
    expect(stopped.data).toMatchObject({
      step: 'look',
      stepSinceMs: NOW_MS,
      warmed: true,
      stopAsked: false,
      apartPa: 600_000,
    });
    expect(stopped.prompt).toBeUndefined();
    expect(warm({}, { ...EVEN, ...says('stop-engine') }).data.step).toBe('warm');
  });

  test('is the stop alone where only that is in doubt', () => {
    expect(warm({ step: 'warm-stop' }, sides(3_000_000, 300_000))).toMatchObject({ prompt: 'stop-engine' });
    expect(codesOf(warm({ step: 'warm-stop' }, sides(3_000_000, 300_000)))).toEqual([]);
    const said = warm({ step: 'warm-stop' }, { ...sides(900_000, undefined), ...says('stop-engine') });
    expect(said.data).toMatchObject({ step: 'look', warmed: true, stopAsked: true, apartPa: 0 });
  });
});

describe('The engine counts as running', () => {
  const since = (given: Given, more: Partial<SettleData> = {}) => warm(more, given).data.partedSinceMs;

  test('from where it parts the sides: 1 bar, and three deviations of both gauges', () => {
    // 100 kPa and 23.7 kPa.
    expect(since(sides(523_800, 400_000))).toBe(NOW_MS);
    expect(since(sides(523_600, 400_000))).toBeUndefined();
    expect(since(sides(400_000, 523_800))).toBeUndefined();
    expect(since(EVEN, { partedSinceMs: 5 })).toBe(5);
  });

  test('from the question on where the sides cannot be seen', () => {
    expect(since(sides(undefined, 400_000))).toBe(NOW_MS);
    expect(since(sides(400_000, undefined))).toBe(NOW_MS);
    expect(since({ ...EVEN, ticket: { ...ticket, ports: 1 } })).toBe(NOW_MS);
  });
});

describe('It is told', () => {
  const agoMin = (minutes: number): number => NOW_MS - minutes * MINUTE_MS;

  test('that it has been enough, fourteen minutes after the sides have parted', () => {
    const parted = (minutes: number) => warm({ partedSinceMs: agoMin(minutes), stepSinceMs: agoMin(20) });
    expect(parted(13.999).notices).toBeUndefined();
    expect(parted(14).notices).toEqual([{ code: 'warm-up-enough', with: { minutes: '14' } }]);
    expect(parted(14).data.warmTold).toEqual(['warm-up-enough']);
    expect(parted(14).prompt).toBe('warm-vehicle');
  });

  test('that it is in vain, where nothing has parted them for four', () => {
    expect(warm({ stepSinceMs: agoMin(3.999) }).notices).toBeUndefined();
    expect(warm({ stepSinceMs: agoMin(4) }).notices).toEqual([
      { code: 'warm-up-in-vain', with: { minutes: '4' } },
    ]);
  });

  test('to stop at once where the high side passes 22 bar', () => {
    expect(codesOf(warm({}, sides(2_200_000, 400_000)))).toEqual([]);
    const cut = warm({ warmTold: ['warm-up-in-vain'] }, sides(2_210_000, 400_000));
    expect(cut.notices).toEqual([{ code: 'warm-up-cut-short', with: { pressure: '2210' } }]);
    expect(cut.data.warmTold).toEqual(['warm-up-in-vain', 'warm-up-cut-short']);
    expect(codesOf(warm({}, sides(undefined, 400_000)))).toEqual([]);
  });

  test('no more than once', () => {
    const again = warm({ stepSinceMs: agoMin(4), warmTold: ['warm-up-in-vain'] });
    expect(again.notices).toBeUndefined();
    expect(again.prompt).toBe('warm-vehicle');
  });
});
