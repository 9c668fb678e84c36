// The short opening of the high side that shows whether the side sensors are on the right hoses.

import { describe, expect, test } from 'vitest';
import type { PulseTest } from '../../../controller/stages/data-recovery.ts';
import { startPulseTest, stepPulseTest } from '../../../controller/stages/pulse-test.ts';
import { enterSettle } from '../../../controller/stages/settle.ts';
import { type Given, NOW_MS, shown } from '../support/stage-input.ts';
import { onOf } from '../support/weighings.ts';

describe('The test is made', () => {
  const starts = (seen: Given['seen'], ports: 1 | 2 = 2) =>
    startPulseTest(shown({ ticket: { ports }, seen: { manifoldPa: 50_000, ...seen } }));

  test('from what both sides show, where the manifold has 150 kPa of room', () => {
    expect(starts({ highSidePa: 200_000, lowSidePa: 190_000 })).toEqual({
      highFromPa: 200_000,
      lowFromPa: 190_000,
      highLowestPa: 200_000,
      lowLowestPa: 190_000,
    });
    expect(starts({ highSidePa: 199_999, lowSidePa: 190_000 })).toBeUndefined();
    expect(starts({ highSidePa: 60_000, lowSidePa: 200_000 })).toBeDefined();
  });

  test('with one port as well, NOT where a sensor is silent', () => {
    const both = { highSidePa: 600_000, lowSidePa: 600_000 };
    expect(starts({ highSidePa: 600_000, lowSidePa: 60_000 }, 1)).toBeDefined();
    expect(starts({ ...both, highSidePa: undefined })).toBeUndefined();
    expect(starts({ ...both, lowSidePa: undefined })).toBeUndefined();
    expect(starts({ ...both, manifoldPa: undefined })).toBeUndefined();
  });
});

/** Both stood at 600 kPa; what each fell to, and what it shows now. */
type Sides = { readonly high: readonly [number, number]; readonly low: readonly [number, number] };
function tested(waitedMs: number, { high, low }: Sides, seen: Given['seen'] = {}) {
  const test: PulseTest = {
    highFromPa: 600_000,
    lowFromPa: 600_000,
    highLowestPa: high[0],
    lowLowestPa: low[0],
  };
  const data = { ...enterSettle(NOW_MS - waitedMs), step: 'pulse', pulseTest: test } as const;
  return stepPulseTest(data, test, shown({ seen: { highSidePa: high[1], lowSidePa: low[1], ...seen } }));
}
const STILL = [600_000, 600_000] as const;
const dip = (pa: number) => [600_000 - pa, 600_000] as const;

describe('During the test', () => {
  test('the high-side valve stands open for a second, and the sides are looked at for two', () => {
    const at = (ms: number) => tested(ms, { high: STILL, low: STILL });
    expect(onOf(at(999).wanted)).toEqual(['highSideValve']);
    expect(onOf(at(1_000).wanted)).toEqual([]);
    expect(at(1_999).data.step).toBe('pulse');
    expect(at(2_000).data).toMatchObject({ step: 'weigh-connected', stepSinceMs: NOW_MS });
  });

  test('the lowest of each side is kept, and a silent sensor tells nothing', () => {
    const low = (seen: Given['seen']) =>
      tested(500, { high: [590_000, 580_000], low: [570_000, 585_000] }, seen).data.pulseTest;
    expect(low({})).toMatchObject({ highLowestPa: 580_000, lowLowestPa: 570_000, highFromPa: 600_000 });
    expect(low({ highSidePa: undefined, lowSidePa: 560_000 })).toMatchObject({
      highLowestPa: 590_000,
      lowLowestPa: 560_000,
    });
    expect(low({ lowSidePa: undefined })).toMatchObject({ lowLowestPa: 570_000 });
  });
});

describe('After the test', () => {
  const swapped = (
    high: readonly [number, number],
    low: readonly [number, number],
    seen: Given['seen'] = {},
  ) => tested(2_000, { high, low }, seen).result === 'sides-swapped';

  test('the low side that answers alone, by 12 kPa or more, is the high one', () => {
    expect(swapped(STILL, dip(12_000))).toBe(true);
    expect(swapped(STILL, dip(11_999))).toBe(false);
    expect(swapped(dip(10_000), dip(20_000))).toBe(true);
    expect(swapped(dip(10_001), dip(20_000))).toBe(false);
    expect(swapped(dip(20_000), STILL)).toBe(false);
  });

  test('only what has come back counts: what has not is the pressure of the whole vehicle', () => {
    expect(swapped(STILL, [580_000, 590_000])).toBe(false);
    expect(swapped(STILL, [580_000, 592_000])).toBe(true);
    // Higher than it was is no more than back.
    expect(swapped(STILL, [588_001, 640_000])).toBe(false);
    expect(swapped(STILL, [580_000, 600_000], { lowSidePa: undefined })).toBe(false);
  });

  test('the job ends before anything is drawn, and tells what each side did', () => {
    const step = tested(2_000, { high: dip(4_000), low: dip(30_000) });
    expect(step).toMatchObject({ event: 'vehicle-found-pressurised', result: 'sides-swapped' });
    expect(step.notices).toEqual([{ code: 'sides-swapped', with: { high: '4', low: '30' } }]);
    expect(onOf(step.wanted)).toEqual([]);
  });
});
