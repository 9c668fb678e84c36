// All checks, in the order of the page.
import type { Topic } from '../check.ts';
import { arithmetic } from './arithmetic.ts';
import { atmosphere } from './atmosphere.ts';
import { charging } from './charging.ts';
import { compressor } from './compressor.ts';
import { film } from './film.ts';
import { flammability } from './flammability.ts';
import { inventory } from './inventory.ts';
import { leaks } from './leaks.ts';
import { oil } from './oil.ts';
import { orifices } from './orifices.ts';
import { pools } from './pools.ts';
import { pumpDown } from './pump-down.ts';
import { refrigerants } from './refrigerants.ts';
import { saturation } from './saturation.ts';
import { tankTopic } from './tank.ts';
import { water } from './water.ts';

export const TOPICS: readonly Topic[] = [
  refrigerants,
  saturation,
  water,
  atmosphere,
  orifices,
  pumpDown,
  film,
  oil,
  pools,
  compressor,
  inventory,
  tankTopic,
  charging,
  leaks,
  flammability,
  arithmetic,
];
