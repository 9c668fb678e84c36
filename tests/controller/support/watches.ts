// What the watches of the interlocks are told where there is nothing to tell.
import type { Seen } from '../../../controller/estimates/seen.ts';
import type { Told } from '../../../controller/interlocks/memory-watches.ts';
import type { News } from '../../../controller/interlocks/note-readings.ts';

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

/** What one scan adds to the memory. */
export const newsOf = (seen: Seen, denseInflow = false, told: Partial<Told> = {}): News => ({
  seen,
  denseInflow,
  told: { ...NOTHING_TOLD, ...told },
});
