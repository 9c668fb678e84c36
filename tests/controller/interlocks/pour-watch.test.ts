// A tank that pours out though no valve leads out of it: seen within seconds, and told from hands, hoses and noise.
import { describe, expect, test } from 'vitest';
import {
  NOT_POURING,
  type Pace,
  SEEP,
  STREAM,
  TRICKLE,
  watchPour,
} from '../../../controller/interlocks/pour-watch.ts';

const SCAN_MS = 100;
/** A hobbyist's machine: 25 g of hose force at 6 bar, one deviation. */
const FORCE_SD = 0.025 / 600_000;

type Sight = {
  readonly kg: number;
  readonly hosePa?: number;
  /** As it has been learnt by then. */
  readonly force?: { readonly forceKgPerPa: number; readonly forceSdKgPerPa: number };
};

function seenAfterS(
  of: (s: number) => Sight | undefined,
  untilS = 120,
  noiseKg = 0.001,
  paces: readonly Pace[] = [STREAM],
): number | undefined {
  let watches = paces.map(() => NOT_POURING);
  for (let nowMs = 0; nowMs <= untilS * 1000; nowMs += SCAN_MS) {
    const sight = of(nowMs / 1000);
    const wave = noiseKg * Math.sin(nowMs * 0.7);
    const weight = sight && {
      kg: sight.kg + wave,
      hosePa: sight.hosePa ?? 0,
      forceKgPerPa: 0,
      forceSdKgPerPa: FORCE_SD,
      calm: true,
      ...sight.force,
    };
    watches = watches.map((watch, index) => watchPour(watch, weight, nowMs, paces[index]!));
    if (watches.some(({ pours }) => pours)) return nowMs / 1000;
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

describe('what leaks out of the tank as vapour', () => {
  const seen = (gPerS: number, of: (s: number) => number = () => 0) =>
    seenAfterS((s) => ({ kg: 8 - (gPerS / 1000) * s + of(s) }), 120, 0.001, [SEEP]);

  test.each([0.65, 1, 2, 3])('is seen within 40 s: %d g/s', (gPerS) => {
    expect(seen(gPerS)).toBeLessThan(40);
    expect(seenAfterS((s) => ({ kg: 8 - (gPerS / 1000) * s }), 120, 0.001, [STREAM])).toBeUndefined();
  });

  test('is told from what a scale does by itself, and from a hand that takes 60 g off within a few seconds', () => {
    expect(seen(0.5)).toBeUndefined();
    expect(seen(0, (s) => -0.06 * Math.min(Math.max((s - 20) / 4, 0), 1))).toBeUndefined();
    expect(seen(0, (s) => 0.5 * Math.sin(s / 10))).toBeUndefined();
  });
});

describe('what something on its way holds up', () => {
  const seen = (gPerS: number) =>
    seenAfterS((s) => ({ kg: 8 - (gPerS / 1000) * s }), 120, 0.001, [STREAM, TRICKLE]);

  test.each([1.8, 2.5, 4])('is seen within twenty seconds: %d g/s', (gPerS) => {
    expect(seen(gPerS)).toBeLessThan(20);
  });

  test('is seen with a force of the hoses that was learnt in the midst of it', () => {
    const after = seenAfterS(
      (s) => {
        const kg = 8 - 0.0025 * s + 6e-8 * 300_000;
        const force = { forceKgPerPa: s < 8 ? 0 : 6e-8, forceSdKgPerPa: s < 8 ? FORCE_SD : 2e-9 };
        return { kg, hosePa: 300_000, force };
      },
      120,
      0.001,
      [TRICKLE],
    );
    expect(after).toBeLessThan(20);
  });

  test('is NOT seen by the watch for a stream alone', () => {
    expect(seenAfterS((s) => ({ kg: 8 - 0.0025 * s }))).toBeUndefined();
  });

  test('is told from what a scale does by itself: a zero that runs away by 30 g a minute', () => {
    expect(seen(0.5)).toBeUndefined();
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
      what: 'hoses that fall for a minute and push less, by a force that is known',
      of: (s: number) => {
        const hosePa = 600_000 * Math.max(0, 1 - s / 60);
        return { kg: 8 + 6e-8 * hosePa, hosePa, force: { forceKgPerPa: 6e-8, forceSdKgPerPa: 2e-9 } };
      },
    },
    {
      what: 'hoses that fall and push less, by a force that is learnt in the midst of it and then known well',
      of: (s: number) => {
        const hosePa = 600_000 * Math.max(0.2, 1 - s / 30);
        const kg = 8 + 6e-8 * hosePa;
        return s < 26 ? { kg, hosePa } : { kg, hosePa, force: { forceKgPerPa: 6e-8, forceSdKgPerPa: 2e-9 } };
      },
    },
    {
      what: 'a charge, where the charge valve is open and nothing is weighed here',
      of: (s: number) => (s < 30 ? undefined : { kg: 8 }),
    },
  ])('$what', ({ of }) => {
    expect(seenAfterS(of, 120, 0.001, [STREAM, TRICKLE, SEEP])).toBeUndefined();
  });
});

describe('A pour on a scale without noise', () => {
  const pours = (s: number): Sight => ({ kg: 8 - 0.006 * s });
  const quiet = (of: (s: number) => Sight | undefined, untilS = 30): number | undefined =>
    seenAfterS(of, untilS, 0);

  test('is seen six seconds after the valves have settled, which takes a second and a half', () => {
    expect(quiet(pours)).toBe(7.5);
    expect(quiet((s) => ({ kg: 8 - 0.025 * s }))).toBe(7.5);
  });

  test('does NOT count what moved while they settled, and does from then on', () => {
    expect(quiet((s) => ({ kg: pours(s).kg + (s < 1.45 ? 0.5 : 0) }))).toBe(7.5);
    expect(quiet((s) => ({ kg: pours(s).kg + (Math.abs(s - 1.5) < 0.05 ? 0.5 : 0) }))).toBe(8.5);
  });

  test('counts anew once a way out was open or the scale unread', () => {
    expect(quiet((s) => (s < 5 || s > 5.05 ? pours(s) : undefined))).toBe(12.6);
    expect(quiet((s) => (s < 7 ? pours(s) : undefined))).toBeUndefined();
  });

  test('is seen under hoses that keep their pressure, or lose little of it', () => {
    expect(quiet((s) => ({ ...pours(s), hosePa: 600_000 }))).toBe(7.5);
    expect(quiet((s) => ({ ...pours(s), hosePa: 600_000 - 2_000 * s }))).toBe(7.5);
  });

  test('that eases off or swells is NOT called one before six even seconds', () => {
    expect(quiet((s) => ({ kg: 8 - (s < 3.5 ? 0.006 : 0.02) * (s - 3.5) }))).toBe(8.5);
  });

  test('of more than 80 g/s, which no path of the machine passes, is a hand', () => {
    expect(quiet((s) => ({ kg: 12 - 0.1 * s }))).toBeUndefined();
  });
});

describe('Six blocks that fall', () => {
  /** One reading a block, in kilograms: the last as good as empty, so that the figures are exact. */
  const poursBy = (...kilograms: readonly number[]): boolean => {
    let watch = watchPour(
      NOT_POURING,
      { kg: 9, hosePa: 0, forceKgPerPa: 0, forceSdKgPerPa: FORCE_SD, calm: true },
      0,
      STREAM,
    );
    const readings = [kilograms[0]!, ...kilograms];
    for (const [index, kg] of readings.entries())
      watch = watchPour(
        watch,
        { kg, hosePa: 0, forceKgPerPa: 0, forceSdKgPerPa: FORCE_SD, calm: true },
        1_500 + 1_000 * index,
        STREAM,
      );
    return watch.pours;
  };

  test('pour from 25 g in all, from 3 g each, and up to 80 g each', () => {
    expect(poursBy(0.025, 0.02, 0.015, 0.01, 0.005, 0)).toBe(true);
    expect(poursBy(0.0249, 0.02, 0.015, 0.01, 0.005, 0)).toBe(false);
    expect(poursBy(0.027, 0.021, 0.015, 0.009, 0.003, 0)).toBe(true);
    expect(poursBy(0.0269, 0.0209, 0.0149, 0.0089, 0.0029, 0)).toBe(false);
    expect(poursBy(0.36, 0.29, 0.22, 0.15, 0.08, 0)).toBe(true);
    expect(poursBy(0.361, 0.291, 0.221, 0.151, 0.081, 0)).toBe(false);
  });

  test('are even while the least is 0.4 of the most', () => {
    // Exact in binary: 10/1024 kg four times, then 4/1024 kg.
    const even = [44, 34, 24, 14, 4].map((share) => share / 1024);
    expect(poursBy(...even, 0)).toBe(true);
    expect(poursBy(...even, 0.0001)).toBe(false);
  });
});
