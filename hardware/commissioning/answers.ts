// What an operator types in answer to a question, understood or sent back with what is wrong.
import type { Question } from './line.ts';
import { type Typed, typedQuantity } from './quantities.ts';

export type Understood = number | string | boolean | readonly number[] | readonly string[];

const good = <T>(value: T): Typed<T> => ({ ok: true, value });
const bad = (problem: string): Typed<never> => ({ ok: false, problem });

const LONGEST_TEXT = 120;

function typedWord(text: string, choices: readonly string[]): Typed<string> {
  const word = text.trim().toLowerCase();
  const exact = choices.find((choice) => choice.toLowerCase() === word);
  if (exact !== undefined) return good(exact);
  return bad(`'${text.trim()}' is none of ${choices.join(', ')}`);
}

/** 'none', 'all', or words with commas between. */
function typedWords(text: string, choices: readonly string[]): Typed<readonly string[]> {
  const word = text.trim().toLowerCase();
  if (word === 'none') return good([]);
  if (word === 'all') return good(choices);
  const words = text.split(',').map((part) => typedWord(part, choices));
  const wrong = words.find(({ ok }) => !ok);
  if (wrong !== undefined && !wrong.ok) return bad(`${wrong.problem}; or type 'all' or 'none'`);
  return good([...new Set(words.flatMap((one) => (one.ok ? [one.value] : [])))]);
}

export function understood(question: Question, text: string): Typed<Understood> {
  const word = text.trim().toLowerCase();
  switch (question.kind) {
    case 'enter':
      return good(true);
    case 'yes-no':
      if (word === 'y' || word === 'yes') return good(true);
      return word === 'n' || word === 'no' ? good(false) : bad(`'${text.trim()}' is neither yes nor no`);
    case 'text':
      if (word === '') return bad('type something');
      return text.trim().length <= LONGEST_TEXT
        ? good(text.trim())
        : bad(`that is longer than ${LONGEST_TEXT} letters`);
    case 'number':
      return typedQuantity(text, question.quantity);
    case 'numbers': {
      const all = text.split(',').map((part) => typedQuantity(part, question.quantity));
      const wrong = all.find(({ ok }) => !ok);
      return wrong !== undefined && !wrong.ok
        ? bad(wrong.problem)
        : good(all.flatMap((one) => (one.ok ? [one.value] : [])));
    }
    case 'choice':
      return typedWord(text, question.choices);
    case 'choices':
      return typedWords(text, question.choices);
  }
}
