// What the controller says, as this page says it: in the reader's units, and with its own names for outputs.
import { OUTPUTS, type Output } from '../../../controller/signals.ts';
import { toldIn } from '../../told.ts';
import type { Units } from '../../units.ts';
import { OUTPUT_NAMES, TRIP_NAMES } from './text.ts';

/** A name that is also an ordinary word stays as it is. */
const NAMED = new RegExp(`\\b(${OUTPUTS.filter((output) => /[A-Z]/.test(output)).join('|')})\\b`, 'g');

/** At the beginning of a sentence as on the card of the output, within one without the capital. */
export function toldHere(units: Units, text: string): string {
  return toldIn(units, text).replace(NAMED, (output, _, at: number, whole: string) => {
    const { name } = OUTPUT_NAMES[output as Output];
    const begins = at === 0 || /[.!?] $/.test(whole.slice(0, at));
    return begins ? name : name[0]!.toLowerCase() + name.slice(1);
  });
}

export const tripName = (reason: string): string => TRIP_NAMES[reason] ?? reason;
