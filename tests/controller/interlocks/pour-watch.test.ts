// A tank that pours out though no valve leads out of it: seen within seconds, and told from hands, hoses and noise.
import { describe, expect, test } from 'vitest';
import { NOT_POURING, watchPour } from '../../../controller/interlocks/pour-watch.ts';

const SCAN_MS = 100;
/** A hobbyist's machine: 25 g of hose force at 6 bar, one deviation. */
const FORCE_SD = 0.025 / 600_000;

type Sight = { readonly kg: number; readonly hosePa?: number };

function seenAfterS(of: (s: number) => Sight | undefined, untilS = 120): number | undefined {
  let watch = NOT_POURING;
  for (let nowMs = 0; nowMs <= untilS * 1000; nowMs += SCAN_MS) {
    const sight = of(nowMs / 1000);
    const wave = 0.001 * Math.sin(nowMs * 0.7);
    const weight = sight && { kg: sight.kg + wave, hosePa: sight.hosePa ?? 0, forceSdKgPerPa: FORCE_SD };
    watch = watchPour(watch, weight, nowMs);
    if (watch.pours) return nowMs / 1000;
  }
  return undefined;
}

describe('what a welded charge valve passes', () => {
  test.each([5, 10, 25])('is seen within ten seconds: %d g/s', (gPerS) => {
    expect(seenAfterS((s) => ({ kg: 8 - (gPerS / 1000) * s }))).toBeLessThan(10);
  });

  test('is seen though the compressor brings 3 g/s into the tank', () => {
    expect(seenAfterS((s) => ({ kg: 8 + 0.003 * s - 0.015 * s }))).toBeLessThan(10);
  });
});

describe('is NOT what is seen in', () => {
  test.each([
    { what: 'a tank at rest', of: () => ({ kg: 8 }) },
    { what: 'a tank that fills', of: (s: number) => ({ kg: 8 + 0.01 * s }) },
    { what: 'a leak of 0.05 g/s, which is seen at rest', of: (s: number) => ({ kg: 8 - 5e-5 * s }) },
    { what: 'three kilograms taken off at once', of: (s: number) => ({ kg: s < 20 ? 11 : 8 }) },
    {
      what: 'a hand that eases off in three seconds',
      of: (s: number) => ({ kg: 8 + 0.15 * Math.min(1, Math.max(0, (23 - s) / 3)) }),
    },
    {
      what: 'hoses that fall from 6 bar within ten seconds and push less, at three deviations',
      of: (s: number) => {
        const hosePa = 600_000 * Math.max(0, 1 - s / 10);
        return { kg: 8 + 3 * FORCE_SD * hosePa, hosePa };
      },
    },
    {
      what: 'a charge, where the charge valve is open and nothing is weighed here',
      of: (s: number) => (s < 30 ? undefined : { kg: 8 }),
    },
  ])('$what', ({ of }) => {
    expect(seenAfterS(of)).toBeUndefined();
  });
});
