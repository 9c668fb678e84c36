// What a board drives, as the commands that say so.
import { type Commands, commandsOf, OFF, ON } from '../../controller/signals.ts';
import { OUTPUT_BITS } from '../../hardware/protocol.ts';

/** The same word is always the same object: whoever holds it need not look again. */
const WORDS = new Map<number, Commands>();

export function commandsOfWord(word: number): Commands {
  const known = WORDS.get(word);
  if (known !== undefined) return known;
  const made = commandsOf((output) => ((word >> OUTPUT_BITS.indexOf(output)) & 1 ? ON : OFF));
  WORDS.set(word, made);
  return made;
}
