// The hose blows down into the vehicle: how long, what the scale of the shut tank says meanwhile, and what comes next.

import { describe, expect, test } from 'vitest';
import { SAFE_COMMANDS } from '../../../controller/signals.ts';
import { blownDown } from '../../../controller/stages/charge-blow-down.ts';
import { beginDrawBack } from '../../../controller/stages/charge-draw-back.ts';
import type { ChargeData } from '../../../controller/stages/data-charge.ts';
import { withScaleMoves } from '../../../controller/stages/scale-moves.ts';
import { charging, type Given, restFalling, scanOf } from '../support/charging.ts';
import { onOf } from '../support/weighings.ts';

const STEADY = restFalling(0);
const DOUBTED = restFalling(1e-5);

function blown(ms: number, data: Partial<ChargeData> = {}, given: Given = {}) {
  const charge = charging({ step: 'blow-down', stepSinceMs: 1_000, result: 'charged', ...data });
  return blownDown(charge, scanOf({ nowMs: 1_000 + ms, gaveKg: 0.6, ...given }));
}

describe('The hose', () => {
  test('stands open to the vehicle for half a minute', () => {
    const waits = blown(29_999, {}, { lossWatch: STEADY });
    expect(waits.data.step).toBe('blow-down');
    expect(onOf(waits.wanted)).toEqual(['highSideValve']);
    expect(blown(30_000, {}, { lossWatch: STEADY })).toMatchObject({
      data: { step: 'weigh-after', stepSinceMs: 31_000 },
      wanted: SAFE_COMMANDS,
    });
  });

  test('and until the scale has been watched, 75 seconds more at most', () => {
    expect(blown(104_999).data.step).toBe('blow-down');
    expect(blown(105_000).data.step).toBe('weigh-after');
  });

  test('but no longer where the charge has fallen short', () =>
    expect(blown(30_000, { result: 'stalled' }).data.step).toBe('weigh-after'));
});

describe('Then', () => {
  const next = (data: Partial<ChargeData>, lossWatch = STEADY) => blown(30_000, data, { lossWatch });
  const drawBack = beginDrawBack(charging(), scanOf()).drawBack;

  test('the hoses are drawn back where no engine sucks them dry', () => {
    const step = next({ drawsBack: true, topUpKg: 0.7 });
    expect(step.data).toMatchObject({
      step: 'draw-manifold',
      topUpKg: undefined,
      drawBack: { draws: 0, refills: 0 },
    });
    expect(step.wanted).toBe(SAFE_COMMANDS);
    expect(next({ drawsBack: true }).data.step).toBe('draw-manifold');
    expect(next({ drawsBack: true, result: 'stalled' }).data.step).toBe('weigh-after');
  });

  test('once more after a shortage was made good, and NOT after anything else', () => {
    expect(next({ drawsBack: true, drawBack, topUpKg: 0.7 }).data.step).toBe('draw-manifold');
    expect(next({ drawsBack: true, drawBack }).data.step).toBe('weigh-after');
  });

  test('a charge valve in doubt is proven by the manifold drawn down, and that is told', () => {
    const step = next({}, DOUBTED);
    expect(step.data).toMatchObject({ step: 'draw-manifold', drawBack: { seatDoubted: true } });
    expect(step.notices).toEqual([{ code: 'charge-valve-doubted', with: { perMinute: '0.6' } }]);
    expect(next({}, STEADY).notices).toEqual([]);
    expect(next({ drawBack }, DOUBTED)).toMatchObject({ data: { step: 'weigh-after' }, notices: [] });
    expect(next({ result: 'stalled' }, DOUBTED).data.step).toBe('weigh-after');
  });
});

describe('What the scale does of itself after a charge', () => {
  const moves = (kgPerS: number, givenKg: number, scaleMovesKg?: number) =>
    withScaleMoves(givenKg, scanOf({ lossWatch: restFalling(kgPerS), accounts: { scaleMovesKg } }))
      .scaleMovesKg;
  /** One standard deviation of the line: 0.0045 of the noise in a second. */
  const SD = 0.0045 * 0.0004;
  const CLASS_KG = 2 * 0.0004 * 0.6;

  test('is nothing where it may be noise: less than one and a half deviations', () => {
    expect(moves(1.49 * SD, 0.6, 0.123)).toBe(0.123);
    expect(moves(1.51 * SD, 0)).toBeGreaterThan(0);
    expect(withScaleMoves(0.6, scanOf()).scaleMovesKg).toBeUndefined();
  });

  test('goes on for ten minutes, a deviation faster than it was seen to, less what its class allows', () => {
    expect(moves(1e-5, 0.6)).toBeCloseTo(600 * (1e-5 + SD) - CLASS_KG, 9);
    expect(moves(-1e-5, 0.6)).toBeCloseTo(600 * (1e-5 + SD) - CLASS_KG, 9);
    expect(moves(1e-5, -0.6)).toBeCloseTo(600 * (1e-5 + SD) - CLASS_KG, 9);
  });

  test('has a part of noise in it where it hardly stands out', () => {
    // Of 1.8 deviations seen, one is noise.
    expect(moves(1.8 * SD, 0)).toBeCloseTo(600 * SD * Math.sqrt(1.8 ** 2 - 1), 9);
    expect(moves(2.01 * SD, 0)).toBeCloseTo(600 * SD * 3.01, 9);
  });

  test('is never less than nothing', () => expect(moves(1.6 * SD, 5)).toBe(0));

  test('is written down when the hose has blown down', () => {
    expect(blown(30_000, {}, { lossWatch: DOUBTED }).accounts!.scaleMovesKg).toBeCloseTo(
      600 * (1e-5 + SD) - CLASS_KG,
      9,
    );
  });
});
