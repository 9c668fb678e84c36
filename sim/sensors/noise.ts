// Electrical noise of pressure and temperature sensors: standard normal numbers, cheap enough for seven in every sample.
import { Random } from '../random.ts';

/** As many as keep tails to 3.5 standard deviations; picked at random, so that no pattern returns. */
const SIZE = 4096;

/** Drawn once by the polar method, then set to mean 0 and variance 1 exactly. */
const NORMALS = ((): Float64Array => {
  const random = new Random(1, 'noise');
  const drawn = Float64Array.from({ length: SIZE }, () => random.normal());
  const mean = drawn.reduce((sum, value) => sum + value, 0) / SIZE;
  const sd = Math.sqrt(drawn.reduce((sum, value) => sum + (value - mean) ** 2, 0) / SIZE);
  return drawn.map((value) => (value - mean) / sd);
})();

/** A third of the time of `random.normal()`, which the scale keeps for its tails. */
export const noise = (random: Random): number => NORMALS[Math.floor(random.uniform() * SIZE)]!;
