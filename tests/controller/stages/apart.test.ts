// The manifold shut off and looked at alone, what that says of the machine, and when pumping stops for it.

import { describe, expect, test } from 'vitest';
import type { Seen } from '../../../controller/estimates/seen.ts';
import { expectedRisePa, lookApart, machineLeaks, startApart } from '../../../controller/stages/apart.ts';
import type { EvacuateData } from '../../../controller/stages/data-vacuum.ts';
import { enterEvacuate, stepEvacuate } from '../../../controller/stages/evacuate.ts';
import { cameBack, hasRisen, isBack, lowestOf } from '../../../controller/stages/evacuate-rise.ts';
import { inputOf } from '../support/unseen-input.ts';
import { onOf } from '../support/weighings.ts';

const seenAt = (nowMs: number, manifoldPa?: number) => inputOf({ nowMs, seen: { manifoldPa } });
/** Looked at every half second, as a pressure that rises by so much a second would have it. */
function risen(pressureAt: (s: number) => number | undefined): number | undefined {
  let look = startApart(0);
  for (let ms = 0; ms <= 10_000; ms += 500) {
    const next = lookApart(look, seenAt(ms, pressureAt(ms / 1000)));
    if (next.risePa !== undefined) return ms === 10_000 ? next.risePa : Number.NaN;
    look = next.look;
  }
  return undefined;
}

describe('A look at the manifold alone', () => {
  test('takes ten seconds and counts from one and a half, when the valves have shut', () => {
    expect(risen((s) => 100 + 10 * s)).toBeCloseTo(85, 9);
    expect(lookApart(startApart(0), seenAt(1_499, 50)).look.fromPa).toBeUndefined();
    expect(lookApart(startApart(0), seenAt(1_500, 50)).look.fromPa).toBe(50);
    expect(lookApart({ sinceMs: 0, fromPa: 50 }, seenAt(2_000, 70)).look.fromPa).toBe(50);
    expect(lookApart({ sinceMs: 0, fromPa: 50 }, seenAt(9_999, 70)).risePa).toBeUndefined();
    expect(lookApart({ sinceMs: 0, fromPa: 50 }, seenAt(10_000, 70)).risePa).toBe(20);
  });

  test('that begins to see in its second half has seen nothing', () => {
    expect(risen((s) => (s < 4.5 ? undefined : 10 * s))).toBeCloseTo(55, 9);
    expect(risen((s) => (s < 5 ? undefined : 10 * s))).toBe(0);
    expect(risen((s) => (s < 10 ? 10 * s : undefined))).toBe(0);
  });

  test('that runs past the end of the span has risen that far at least', () => {
    const over = inputOf({ nowMs: 10_000, seen: { manifoldOverSpan: true } });
    expect(lookApart({ sinceMs: 0, fromPa: 100 }, over).risePa).toBe(159_900);
  });

  test('is held against what the vehicle would have risen by in the same eight and a half seconds', () => {
    expect(expectedRisePa(2)).toBeCloseTo(17, 9);
    expect(expectedRisePa(-2)).toBe(0);
  });

  test('is told in kilopascal', () =>
    expect(machineLeaks(9_600)).toEqual({ code: 'machine-leaks', with: { rise: '10', seconds: '10' } }));
});

describe('What the pumping does with it', () => {
  const apart = (over: Partial<EvacuateData> = {}): EvacuateData => ({
    ...enterEvacuate(0),
    step: 'apart',
    apart: { sinceMs: 50_000, fromPa: 1_000 },
    pumpingSinceMs: 0,
    ...over,
  });
  const looked = (data: EvacuateData, seen: Partial<Seen>, nowMs = 60_000) => {
    const step = stepEvacuate(data, inputOf({ nowMs, seen }));
    return { ...step, on: onOf(step.wanted), told: step.notices?.[0] };
  };

  test('the pump runs on behind shut valves, and that time does NOT count as pumping', () => {
    const { data, on, event } = looked(apart(), { manifoldPa: 1_000 }, 50_100);
    expect(on).toEqual(['vacuumPump']);
    expect(event).toBeUndefined();
    expect(data).toMatchObject({ step: 'apart', pumpingSinceMs: undefined, pumpedMs: 50_100 });
  });

  test('more than water can make, the vapour pressure at 40 °C, has come in through the machine', () => {
    // 7.38 kPa at 40 °C (IAPWS-IF97), rounded up in the look.
    const step = looked(apart(), { manifoldPa: 8_401 });
    expect(step).toMatchObject({ event: 'vacuum-not-reached', result: 'machine-leaks', on: [] });
    expect(step.told).toMatchObject({ code: 'machine-leaks', with: { rise: '7' } });
    expect(looked(apart(), { manifoldPa: 8_400 }).event).toBeUndefined();
  });

  test('a machine that lets nothing in is joined again and pumped on', () => {
    const { data, on } = looked(apart({ lowestManifoldPa: 300 }), { manifoldPa: 1_200 });
    expect(data).toMatchObject({ step: 'join', stepSinceMs: 60_000, apart: undefined });
    expect(data.lowestManifoldPa).toBeUndefined();
    expect(on).toEqual(['highSideValve', 'lowSideValve', 'vacuumPump']);
  });

  test('where the pressure had come back it is the vehicle, if the closed manifold stands where it was', () => {
    const step = looked(apart({ cameBackPa: 60_000, lowestManifoldPa: 2_000 }), { manifoldPa: 2_000 });
    expect(step).toMatchObject({ event: 'vacuum-not-reached', result: 'vacuum-came-back' });
    expect(step.told).toEqual({ code: 'vacuum-came-back', with: { lowest: '2', pressure: '60' } });
  });

  test('and the machine, if it has gone on rising meanwhile, beyond the span as well', () => {
    const back = apart({ cameBackPa: 60_000, apart: { sinceMs: 50_000, fromPa: 67_000 } });
    expect(looked(back, { manifoldPa: 67_401 }).told).toMatchObject({
      code: 'machine-leaks',
      with: { rise: '7' },
    });
    expect(looked(back, { manifoldPa: 67_400 }).result).toBe('vacuum-came-back');
    expect(looked(back, { manifoldOverSpan: true }).told).toMatchObject({ with: { rise: '100' } });
    expect(looked(back, {}).result).toBe('vacuum-came-back');
  });

  test('a look that was not begun begins now', () => {
    const { data } = looked(apart({ apart: undefined }), { manifoldPa: 1_000 });
    expect(data.apart).toEqual({ sinceMs: 60_000, fromPa: undefined });
  });
});

describe('Pumping stops for it', () => {
  const pumping = (over: Partial<EvacuateData> = {}): EvacuateData => ({
    ...enterEvacuate(0),
    step: 'pump',
    pumpingSinceMs: 0,
    ...over,
  });
  const stepAt = (data: EvacuateData, nowMs: number, manifoldPa?: number) =>
    stepEvacuate(data, inputOf({ nowMs, on: ['vacuumValve'], seen: { manifoldPa } }));

  test('after 45 seconds of a rough vacuum, once', () => {
    const step = stepAt(pumping(), 45_000, 5_000);
    expect(step.data).toMatchObject({ step: 'apart', early: true, apart: { sinceMs: 45_000 } });
    expect(onOf(step.wanted)).toEqual(['vacuumPump']);
    expect(stepAt(pumping(), 44_999, 5_000).data.step).toBe('pump');
    expect(stepAt(pumping(), 45_000, 5_001).data.step).toBe('pump');
    expect(stepAt(pumping(), 45_000).data.step).toBe('pump');
    expect(stepAt(pumping({ early: true }), 45_000, 5_000).data.step).toBe('pump');
    expect(stepAt(pumping({ pumpedMs: 44_000 }), 1_000, 5_000).data.step).toBe('apart');
  });

  test('and when a manifold that is pumped rises by more than 600 Pa, as long as it is a rough vacuum', () => {
    const low = { early: true, lowestManifoldPa: 100 };
    expect(stepAt(pumping(low), 60_000, 701).data.step).toBe('apart');
    expect(stepAt(pumping(low), 60_000, 700).data.step).toBe('pump');
    expect(stepAt(pumping(low), 60_000, 5_001).data.step).toBe('pump');
  });

  test('the lowest is taken 20 seconds after the valve has opened, and not before', () => {
    const lowestAt = (ms: number, manifoldPa?: number, over: Partial<EvacuateData> = {}) =>
      lowestOf(pumping(over), seenAt(ms, manifoldPa)).lowestManifoldPa;
    expect(lowestAt(20_000, 400)).toBe(400);
    expect(lowestAt(19_999, 400)).toBeUndefined();
    expect(lowestAt(20_000, 400, { pumpingSinceMs: undefined })).toBeUndefined();
    expect(lowestAt(20_000, 400, { lowestManifoldPa: 300 })).toBe(300);
    expect(lowestAt(20_000, 200, { lowestManifoldPa: 300 })).toBe(200);
    expect(lowestAt(20_000, undefined, { lowestManifoldPa: 300 })).toBe(300);
  });

  test('what was never low has not risen, and what is not seen has not either', () => {
    expect(hasRisen(pumping(), seenAt(0, 4_000))).toBe(false);
    expect(hasRisen(pumping({ lowestManifoldPa: 100 }), seenAt(0))).toBe(false);
    expect(isBack(pumping(), seenAt(0))).toBe(false);
  });

  test('what came back is told with the lowest there was, or with itself where none was seen', () => {
    expect(cameBack(pumping({ lowestManifoldPa: 1_000 }), 60_000).with).toEqual({
      lowest: '1',
      pressure: '60',
    });
    expect(cameBack(pumping(), 60_000).with).toEqual({ lowest: '60', pressure: '60' });
  });
});
