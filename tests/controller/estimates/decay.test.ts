// The shape of a rise and what it says, on synthetic curves whose truth is known; and the leak figure by arithmetic.
import { describe, expect, test } from 'vitest';
import { fitDecay } from '../../../controller/estimates/decay.ts';
import {
  type Circumstances,
  causeOf,
  gasSeen,
  isSaturated,
  riseOf,
  verdictOf,
} from '../../../controller/estimates/hold-verdict.ts';
import { leakKgPerYear } from '../../../controller/estimates/leak.ts';
import { correlationOf, lineThrough } from '../../../controller/estimates/line.ts';
import { waterVapourPa } from '../../../controller/estimates/water.ts';
import { HOLD } from '../../../controller/targets/vacuum.ts';
import { waterVapourPressurePa } from '../../../sim/fluids/water.ts';
import { R134A } from '../support/machine.ts';

const LOOK: Circumstances = {
  limits: HOLD,
  final: true,
  opened: false,
  barometerPa: 101_325,
  gas: 'unknown',
  saturated: false,
};

/** Repeatable noise of one standard deviation; another stream for each seed. */
function noiseFrom(seed: number): () => number {
  let state = seed >>> 0;
  const uniform = (): number => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return (state + 0.5) / 2 ** 32;
  };
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
}

const curve = (truth: (t: number) => number, seconds: number, sigma: number, seed = 1): number[] => {
  const noise = noiseFrom(seed);
  return Array.from({ length: seconds }, (_, t) => truth(t) + sigma * noise());
};
const fitOf = (samplesPa: number[], resolutionPa = 1) => fitDecay({ samplesPa, intervalS: 1, resolutionPa })!;
const rise = (samplesPa: number[], resolutionPa = 1) => riseOf({ samplesPa, intervalS: 1, resolutionPa });
const verdict = (samplesPa: number[], at: Partial<Circumstances> = {}, resolutionPa = 1) =>
  verdictOf(rise(samplesPa, resolutionPa), { ...LOOK, ...at });

/** Deep oil five hours deep: what it gives off at `slope` Pa/s now, `t` seconds on. */
const deep = (slope: number, t: number): number => slope * 18_000 * (1 - Math.exp(-t / 18_000));

/**
 * The second implementation: orthogonal columns by Gram and Schmidt instead of normal equations, the time constant by a
 * fine grid instead of a golden section.
 */
function secondOpinion(samplesPa: readonly number[]) {
  const n = samplesPa.length;
  const solve = (columns: number[][]): { rest: number; last: number } => {
    const basis: number[][] = [];
    let rest = [...samplesPa];
    let last = 0;
    for (const column of columns) {
      let q = [...column];
      for (const e of basis) {
        const along = q.reduce((sum, x, i) => sum + x * e[i]!, 0);
        q = q.map((x, i) => x - along * e[i]!);
      }
      const length = Math.sqrt(q.reduce((sum, x) => sum + x * x, 0));
      const unit = q.map((x) => x / length);
      const along = rest.reduce((sum, x, i) => sum + x * unit[i]!, 0);
      rest = rest.map((x, i) => x - along * unit[i]!);
      last = along / length;
      basis.push(unit);
    }
    return { rest: rest.reduce((sum, x) => sum + x * x, 0), last };
  };
  const times = samplesPa.map((_, t) => t);
  const ones = times.map(() => 1);
  let best = { rest: Number.POSITIVE_INFINITY, slope: 0, tauS: 0 };
  for (let tauS = 20; tauS <= 3 * n; tauS *= 1.01) {
    const { rest, last } = solve([ones, times.map((t) => Math.exp(-t / tauS)), times]);
    if (rest < best.rest) best = { rest, slope: last, tauS };
  }
  return best;
}

describe('Decay', () => {
  test('the four shapes are told apart', () => {
    expect(fitOf(curve(() => 120, 300, 3)).model).toBe('constant');
    expect(fitOf(curve((t) => 100 + 0.5 * t, 300, 3)).model).toBe('straight');
    expect(fitOf(curve((t) => 3_000 - 2_800 * Math.exp(-t / 200), 600, 5)).model).toBe('settling');
    expect(fitOf(curve((t) => 500 - 300 * Math.exp(-t / 120) + 0.3 * t, 600, 5)).model).toBe(
      'settling-and-straight',
    );
  });

  test('the plateau of a rise that settles is found within 2 %, whatever the noise', () => {
    for (let seed = 1; seed <= 50; seed += 1) {
      const { fit, plateauPa } = rise(curve((t) => 3_000 - 2_800 * Math.exp(-t / 200), 600, 5, seed))!;
      expect(Math.abs(fit.plateauPa - 3_000), `seed ${seed}`).toBeLessThan(60);
      expect(Math.abs(plateauPa - 3_000), `seed ${seed}`).toBeLessThan(60);
    }
  });

  test('a second least squares finds the same leak under the same outgassing', () => {
    for (const seed of [1, 2, 3]) {
      const samplesPa = curve((t) => 500 - 300 * Math.exp(-t / 120) + 0.3 * t, 600, 5, seed);
      const fit = fitOf(samplesPa);
      const { slope, tauS } = secondOpinion(samplesPa);
      expect(Math.abs(fit.slopePaPerS - slope)).toBeLessThan(1e-3);
      expect(Math.abs(fit.tauS / tauS - 1)).toBeLessThan(0.02);
      expect(Math.abs(fit.slopePaPerS - 0.3)).toBeLessThan(0.03);
    }
  });

  test('the slope of white noise is as sure as 3σ√(12/N)/T says', () => {
    const line = lineThrough(
      curve(() => 100, 600, 5),
      1,
      0,
    );
    expect(Math.abs(line.slopeSdPerS / ((5 * Math.sqrt(12 / 600)) / 600) - 1)).toBeLessThan(0.1);
    const slopes = Array.from({ length: 400 }, (_, seed) =>
      lineThrough(
        curve(() => 100, 300, 5, seed + 1),
        1,
        0,
      ),
    );
    const within = slopes.filter(({ slopePerS, slopeSdPerS }) => Math.abs(slopePerS) <= 2 * slopeSdPerS);
    expect(within.length / slopes.length).toBeGreaterThan(0.92);
  });

  test('noise that wanders is counted for what it is worth, not by its samples', () => {
    const wander = (seed: number): number[] => {
      const noise = noiseFrom(seed);
      let value = 0;
      return Array.from({ length: 600 }, () => {
        value = 0.9 * value + noise();
        return 100 + value;
      });
    };
    expect(correlationOf(wander(1).map((value) => value - 100))).toBeGreaterThan(0.85);
    const lines = Array.from({ length: 400 }, (_, seed) => lineThrough(wander(seed + 1), 1, 0));
    const within = lines.filter(({ slopePerS, slopeSdPerS }) => Math.abs(slopePerS) <= 3 * slopeSdPerS);
    expect(within.length / lines.length).toBeGreaterThan(0.98);
    const leaks = lines.map((_, seed) => verdict(wander(seed + 1))).filter((said) => said === 'leak');
    expect(leaks).toHaveLength(0);
  });

  test('a coarse sensor that never flickers does not become infinitely sure', () => {
    const stuck = rise(
      curve(() => 100, 300, 0),
      25,
    )!;
    expect(stuck.fit.noisePa).toBeGreaterThan(5);
    expect(stuck.mostPaPerS).toBeGreaterThan(0.01);
    expect(verdictOf(stuck, LOOK)).toBe('tight');
  });
});

describe('What a hold says', () => {
  test('a flat curve is tight, and so is a small rise that has settled', () => {
    expect(verdict(curve(() => 120, 300, 0.3))).toBe('tight');
    expect(verdict(curve((t) => 400 - 200 * Math.exp(-t / 60), 900, 0.5))).toBe('tight');
  });

  test('a straight rise looks like a leak, whatever its size above the floor', () => {
    for (const slope of [0.05, 0.5, 5])
      for (let seed = 1; seed <= 20; seed += 1)
        expect(
          verdict(
            curve((t) => 100 + slope * t, 900, 0.1, seed),
            {},
            0.2,
          ),
        ).toBe('leak');
  });

  test('the twin: oil that gives off refrigerant from deep down at the same rate does NOT', () => {
    for (const slope of [0.1, 0.5, 0.9])
      for (let seed = 1; seed <= 20; seed += 1)
        expect(
          verdict(
            curve((t) => 100 + deep(slope, t), 900, 0.1, seed),
            {},
            0.2,
          ),
        ).toBe('outgassing');
  });

  test('a saturating rise is outgassing, NOT a leak', () => {
    for (let seed = 1; seed <= 50; seed += 1)
      expect(verdict(curve((t) => 3_000 - 2_800 * Math.exp(-t / 200), 900, 5, seed))).toBe('outgassing');
  });

  test('what could hide is never less than the leak that is there', () => {
    for (const leak of [0.05, 0.2, 1])
      for (let seed = 1; seed <= 20; seed += 1) {
        const { mostPaPerS } = rise(
          curve((t) => 100 + deep(0.3, t) - 200 * Math.exp(-t / 300) + leak * t, 900, 2, seed),
        )!;
        expect(mostPaPerS).toBeGreaterThan(leak);
      }
  });

  /** What it says of twenty curves that differ by their noise, each of which must leave room for the leak that is there. */
  const saidOf = (truth: (t: number) => number, seconds: number, sigma: number, leakPaPerS: number) => {
    const seen = Array.from({ length: 20 }, (_, seed) => rise(curve(truth, seconds, sigma, seed + 1))!);
    for (const { mostPaPerS } of seen) expect(mostPaPerS).toBeGreaterThan(leakPaPerS);
    return (at: Partial<Circumstances> = {}) => [
      ...new Set(seen.map((one) => verdictOf(one, { ...LOOK, ...at }))),
    ];
  };

  test('five minutes too noisy to see whether a rise tires do not make a leak where oil may be full of refrigerant', () => {
    const said = saidOf((t) => 100 + 0.5 * t, 300, 3, 0.5);
    expect(said()).toEqual(['outgassing']);
    expect(said({ opened: true })).toEqual(['leak']);
  });

  test('a leak under outgassing is told as outgassing, for the next hold to decide, with a limit that covers it', () => {
    expect(saidOf((t) => 500 - 300 * Math.exp(-t / 120) + 0.3 * t, 600, 5, 0.3)()).toEqual(['outgassing']);
  });

  test('a small rise that has not yet settled is NOT tight, because a small leak could hide in it', () => {
    const said = saidOf((t) => 400 - 200 * Math.exp(-t / 120), 600, 3, HOLD.tightPaPerS);
    expect(said()).toEqual(['outgassing']);
  });

  test('no leak is called where there is none: 200 quiet and 200 noisy holds', () => {
    for (let seed = 1; seed <= 200; seed += 1) {
      expect(
        verdict(
          curve(() => 80, 300, 1, seed),
          { final: false },
        ),
      ).toBe('tight');
      expect(verdict(curve(() => 80, 300, 20, seed))).not.toBe('leak');
    }
  });

  test('a rise that is not yet understood asks for a longer look first', () => {
    const rising = curve((t) => 100 + 0.5 * t, 900, 0.5);
    expect(verdict(rising, { final: false })).toBe('inconclusive');
    expect(verdict(rising, { final: true })).toBe('leak');
  });

  test('a hold too noisy to see a gross leak is inconclusive', () => {
    expect(verdict(curve(() => 200, 60, 60))).toBe('inconclusive');
    expect(verdict([1, 2, 3])).toBe('inconclusive');
  });

  test('a coarse sensor puts a moderate rise of a system that was never open down to oil, a faster one to a leak', () => {
    const moderate = curve((t) => 400 + 0.6 * t, 900, 30);
    expect(verdict(moderate, {}, 25)).toBe('outgassing');
    expect(verdict(moderate, { opened: true }, 25)).toBe('leak');
    expect(
      verdict(
        curve((t) => 400 + 1.5 * t, 900, 30),
        {},
        25,
      ),
    ).toBe('leak');
  });

  test('numbers that fit nothing give a verdict, not a throw', () => {
    for (const value of [0, 1e300, -1e300]) expect(() => verdict(new Array(300).fill(value))).not.toThrow();
  });
});

describe('What gives off gas', () => {
  const rises = (thermal: number, absolute: number) =>
    [rise(curve((t) => 100 + thermal * t, 900, 0.5)), rise(curve((t) => 90 + absolute * t, 900, 1))] as const;

  test('two kinds of sensor tell water vapour from air and refrigerant by their rises', () => {
    expect(gasSeen(...rises(0.91, 0.5), true)).toBe('water');
    expect(gasSeen(...rises(0.67, 0.5), true)).toBe('other');
    expect(gasSeen(...rises(0.5, 0.5), true)).toBe('other');
    expect(gasSeen(rises(0.5, 0.5)[0], undefined, true)).toBe('unknown');
  });

  test('a straight rise of water vapour is moisture that boils, NOT a leak', () => {
    const straight = curve((t) => 100 + 0.5 * t, 900, 0.5);
    expect(verdict(straight, { gas: 'water' })).toBe('outgassing');
    expect(verdict(straight, { gas: 'other' })).toBe('leak');
  });

  test('a flat pressure at the vapour pressure of ice is ice, and one well below is nothing', () => {
    const ambientK = 269.15;
    // Water vapour over ice at −4 °C, 437 Pa, as a sensor calibrated in air shows it.
    const flat = rise(curve(() => 795, 300, 1))!;
    expect(isSaturated(flat.endPa, ambientK)).toBe(true);
    const at = { ...LOOK, saturated: true };
    expect(verdictOf(flat, at)).toBe('outgassing');
    expect(causeOf(flat, at, ambientK, true)).toBe('ice');
    expect(isSaturated(200, ambientK)).toBe(false);
  });

  test('in the warm it is water; from a system that was never open it is oil', () => {
    const high = rise(curve((t) => 2_000 - 1_800 * Math.exp(-t / 200), 900, 1))!;
    expect(causeOf(high, { ...LOOK, gas: 'water' }, 293, true)).toBe('water');
    expect(causeOf(high, { ...LOOK, gas: 'other' }, 293, true)).toBe('oil');
    expect(causeOf(high, { ...LOOK, opened: true }, 293, false)).toBe('water');
    expect(causeOf(high, LOOK, 293, false)).toBe('oil');
  });

  test('the vapour pressure of water and ice is that of the steam tables', () => {
    for (const kelvin of [258.15, 268.15, 278.15, 293.15, 313.15])
      expect(Math.abs(waterVapourPa(kelvin) / waterVapourPressurePa(kelvin) - 1)).toBeLessThan(0.005);
  });
});

describe('Leak rate', () => {
  test('1 Pa/s in 3 L is 6.1 mg/s of R-134a at 20 °C: viscous flow of the same path (own arithmetic, 5 %)', () => {
    const kgPerS = leakKgPerYear(1, 3e-3, R134A) / (365.25 * 86_400);
    expect(Math.abs(kgPerS / 6.1e-6 - 1)).toBeLessThan(0.05);
  });
});

describe('a vacuum that is gone', () => {
  const filling = (plateauPa: number) => curve((t) => plateauPa * (1 - Math.exp(-t / 200)), 900, 3);

  test('what levels off at the barometer is a leak in the first hold', () => {
    expect(verdict(filling(101_325))).toBe('leak');
    expect(verdict(filling(79_500), { barometerPa: 79_500 })).toBe('leak');
    expect(verdict(filling(79_500), { barometerPa: undefined })).toBe('leak');
  });

  test('what levels off far below it is given off', () => {
    expect(verdict(filling(5_000))).toBe('outgassing');
    expect(verdict(filling(79_500), { barometerPa: 101_325 })).toBe('outgassing');
  });
});
