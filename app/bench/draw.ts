// Draws from one stream of chance, for the vehicles and days of seeded jobs.
import type { Random } from '../../sim/random.ts';

export type Range = readonly [low: number, high: number];

/** What a draw needs of chance: a stream of a seed, or the ends of what it can give. */
export type Chance = Pick<Random, 'uniform' | 'normal'>;

export const drawsOf = (random: Chance) => ({
  within: ([low, high]: Range): number => low + (high - low) * random.uniform(),
  /** Evenly over the logarithm. */
  logWithin: ([low, high]: Range): number => low * (high / low) ** random.uniform(),
  oneOf: <T>(choices: readonly [T, ...T[]]): T =>
    choices[Math.floor(random.uniform() * choices.length)] ?? choices[0],
});
