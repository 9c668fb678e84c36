// How the page of the record is laid out: labels on the left, text wrapped under itself.
import type { Units } from '../units.ts';

export const WIDTH = 88;
export const LABEL = 16;

/** A label and its text, wrapped under itself; a number stays with its unit. */
export function entry(label: string, text: string): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(/(?<!\d) | (?=→)/)) {
    if (line !== '' && line.length + 1 + word.length > WIDTH - LABEL) {
      lines.push(line);
      line = word;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  lines.push(line);
  return lines.map((part, index) => `${(index === 0 ? label : '').padEnd(LABEL)}${part}`);
}

export const within = (uncertaintyKg: number | undefined, units: Units): string =>
  uncertaintyKg === undefined ? '' : ` ± ${units.charge(uncertaintyKg)} (k = 2)`;
