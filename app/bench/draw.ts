// Draws from one stream of chance, for the vehicles and days of the seeded jobs.
import type { Random } from '../../sim/random.ts';

export type Range = readonly [low: number, high: number];

export const drawsOf = (random: Random) => ({
  within: ([low, high]: Range): number => low + (high - low) * random.uniform(),
  /** Evenly over the logarithm. */
  logWithin: ([low, high]: Range): number => low * (high / low) ** random.uniform(),
  oneOf: <T>(choices: readonly [T, ...T[]]): T =>
    choices[Math.floor(random.uniform() * choices.length)] ?? choices[0],
});
