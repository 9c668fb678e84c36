import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { expect, test } from 'vitest';
import { Random } from '../../sim/random.ts';

const STREAMS = ['build', 'scale', 'scale fault', 'vibration', 'grams', 'holds'];
const SEEDS = 6_400;
const CELLS = 8;
/** Chi-square of 63 degrees of freedom: one of a hundred thousand honest tables is above (Wilson and Hilferty 1931). */
const BOUND = 63 * (1 - 2 / (9 * 63) + 4.265 * Math.sqrt(2 / (9 * 63))) ** 3;

/** Pearson's chi-square of pairs of values in [0, 1) against independence and evenness, on a grid of 8 by 8. */
function chiSquare(pair: (seed: number) => readonly [number, number]): number {
  const counts = new Array<number>(CELLS * CELLS).fill(0);
  for (let seed = 1; seed <= SEEDS; seed++) {
    const [first, second] = pair(seed);
    counts[Math.floor(first * CELLS) * CELLS + Math.floor(second * CELLS)]! += 1;
  }
  const expected = SEEDS / counts.length;
  return counts.reduce((sum, count) => sum + (count - expected) ** 2 / expected, 0);
}

/** The value that a stream gives after `skipped` others. */
function drawn(seed: number, stream: string, skipped: number): number {
  const random = new Random(seed, stream);
  for (let i = 0; i < skipped; i++) random.uniform();
  return random.uniform();
}

const DRAWS = [0, 1, 2, 5, 20];
const PAIRS = STREAMS.flatMap((one, at) => STREAMS.slice(at + 1).map((other) => [one, other] as const));

test.each(PAIRS)('%s and %s of one seed know nothing of each other', (one, other) => {
  for (const skipped of DRAWS)
    expect(chiSquare((seed) => [drawn(seed, one, skipped), drawn(seed, other, skipped)])).toBeLessThan(BOUND);
});

test.each(STREAMS)('%s of a seed knows nothing of the next seed, nor a value of the one before', (stream) => {
  for (const skipped of DRAWS) {
    expect(
      chiSquare((seed) => [drawn(seed, stream, skipped), drawn(seed + 1, stream, skipped)]),
    ).toBeLessThan(BOUND);
    expect(
      chiSquare((seed) => [drawn(seed, stream, skipped), drawn(seed, stream, skipped + 1)]),
    ).toBeLessThan(BOUND);
  }
});

test('the same bound finds generators whose seeds differ by a constant', () => {
  const first = (seed: number): number => {
    const generator = xoroshiro128plus(seed);
    for (let i = 0; i < 4; i++) generator.next();
    return uniformFloat64(generator);
  };
  expect(chiSquare((seed) => [first(seed ^ 0x2545f491), first(seed ^ 0x4f6cdd1d)])).toBeGreaterThan(
    3 * BOUND,
  );
});

test('what was saved goes on as if nothing had been, in the middle of a pair of normal values too', () => {
  const random = new Random(3, 'scale');
  random.normal();
  const saved = random.save();
  const next = () => [random.normal(), random.uniform(), random.normal()];
  const first = next();
  random.restore(saved);
  expect(next()).toEqual(first);
});
