// The drawn manifold is proven: alone for the charge valve, then joined to the separator for what is left of liquid.

import { describe, expect, test } from 'vitest';
import { SAFE_COMMANDS } from '../../../controller/signals.ts';
import type { DrawBack } from '../../../controller/stages/data-charge.ts';
import { weighing } from '../support/charging.ts';
import { BEGUN, JOINED, type Scene, stepOf } from '../support/drawing-back.ts';
import { onOf } from '../support/weighings.ts';

describe('The drawn manifold stands alone', () => {
  const apart = (ms: number, scene: Scene = {}) =>
    stepOf('stand-apart', {
      permitted: SAFE_COMMANDS,
      ...scene,
      data: { stepSinceMs: 100_000 - ms, ...scene.data },
    });

  test('for ten seconds, and is then joined to the separator', () => {
    expect(apart(9_999)).toMatchObject({ data: { step: 'stand-apart' }, wanted: SAFE_COMMANDS });
    expect(apart(10_000)).toMatchObject({
      data: { step: 'prove-dry', stepSinceMs: 100_000 },
      wanted: JOINED,
    });
  });

  test('or is drawn once more where the charge valve was in doubt and has stood', () => {
    const again = apart(10_000, { draw: { seatDoubted: true } });
    expect(again).toMatchObject({ data: { step: 'draw-manifold' }, wanted: SAFE_COMMANDS });
    expect(again.data.drawBack).toMatchObject({ seatDoubted: false, startedAtMs: undefined });
  });

  test('and what was drawn from it is given once more where an engine sucks the hoses dry', () => {
    const accounts = { weighed: weighing(), kept: { kg: 0.001, sdKg: 0, pushes: 0, share: 1 } };
    const suction = { mostPa: 90_000, fell: true, guessed: false, gauge: 'none' as const };
    const count = { ...BEGUN.count, drawnKg: 0.03, totalKg: 0.03, suction };
    const once = apart(10_000, {
      data: { drawsBack: false, targetKg: 0.62, pulses: 4 },
      draw: { count },
      accounts,
      gaveKg: 0.01,
    });
    expect(once.data).toMatchObject({ step: 'settle', result: undefined, pulses: 0 });
    expect(onOf(once.wanted)).toEqual(['highSideValve']);
    const keptKg = once.accounts!.kept.kg;
    // All that was drawn, for the tank has gained nothing of it.
    expect(keptKg).toBeCloseTo(0.031, 3);
    expect(once.data.targetKg).toBeCloseTo(0.62 + keptKg - 0.001, 9);
    expect(once.accounts!.targetKg).toBe(once.data.targetKg);
  });
});

describe('Joined to the separator it is proven dry', () => {
  const proves = (ms: number, manifoldPa: number | undefined, draw: Partial<DrawBack> = {}, over = false) =>
    stepOf('prove-dry', {
      permitted: SAFE_COMMANDS,
      data: { stepSinceMs: 100_000 - ms },
      seen: { manifoldPa, manifoldOverSpan: over },
      draw: { proofs: 1, provenFromPa: 40_000, ...draw },
    });

  test('from two seconds on, for fifteen', () => {
    expect(proves(1_999, 50_000, { provenFromPa: undefined }).data.drawBack!.provenFromPa).toBeUndefined();
    const from = proves(2_000, 50_000, { provenFromPa: undefined });
    expect(from.data).toMatchObject({ step: 'prove-dry', drawBack: { provenFromPa: 50_000 } });
    expect(from.wanted).toEqual(JOINED);
    expect(proves(14_999, 50_000).data).toMatchObject({
      step: 'prove-dry',
      drawBack: { provenFromPa: 40_000 },
    });
    expect(proves(14_999, 50_000).wanted).toEqual(JOINED);
    expect(proves(15_000, 50_000)).toMatchObject({ data: { step: 'weigh-drawn' }, wanted: SAFE_COMMANDS });
  });

  test('and drawn once more where it rises by more than 12 kPa, up to three times', () => {
    expect(proves(15_000, 52_000).data.step).toBe('weigh-drawn');
    const wet = proves(15_000, 52_001);
    expect(wet.data).toMatchObject({ step: 'pump-out', drawBack: { startedAtMs: undefined } });
    expect(wet.wanted).toBe(SAFE_COMMANDS);
    expect(proves(15_000, 52_001, { proofs: 2 }).data.step).toBe('pump-out');
    expect(proves(15_000, 52_001, { proofs: 3 }).data.step).toBe('weigh-drawn');
  });

  test('beyond the span of its sensor it has risen; without a value nobody knows, and it is weighed', () => {
    expect(proves(15_000, undefined, {}, true).data.step).toBe('pump-out');
    expect(proves(15_000, undefined).data.step).toBe('weigh-drawn');
    expect(proves(15_000, undefined, { provenFromPa: undefined }, true).data.step).toBe('weigh-drawn');
  });
});
