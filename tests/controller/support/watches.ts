// What the watches of the interlocks are told where there is nothing to tell.
import type { Told } from '../../../controller/interlocks/memory-watches.ts';

export const NOTHING_TOLD: Told = {
  rest: () => undefined,
  pour: () => undefined,
  delivery: undefined,
  arrival: undefined,
  given: {
    tankKg: undefined,
    empty: false,
    holds: false,
    pressed: false,
    feeds: false,
    draws: false,
    mostKg: 1,
    keptKg: 0.2,
  },
};
