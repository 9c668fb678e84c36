// The pages of hazards and interlocks against the code and the tests that they name.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { INTERLOCKS } from '../../controller/interlocks/table.ts';
import { PAGE as INTERLOCKS_PAGE, interlocksText } from './interlocks-page.ts';
import { HAZARDS, PAGE, pageText } from './page.ts';

test('the page of hazards is up to date: `npm run hazards` would not change it', () => {
  expect(readFileSync(PAGE, 'utf8')).toBe(pageText());
});

test('the page of interlocks is up to date: `npm run hazards` would not change it', () => {
  expect(readFileSync(INTERLOCKS_PAGE, 'utf8')).toBe(interlocksText());
});

/** A test file, with the cases that stand in a folder of its name. */
function textOf(file: string): string {
  const path = new URL(`../${file}`, import.meta.url);
  const cases = new URL(`${path.href.replace('.test.ts', '')}/`);
  const beside = existsSync(cases) ? readdirSync(cases).map((name) => new URL(name, cases)) : [];
  return [path, ...beside].map((each) => readFileSync(each, 'utf8')).join('\n');
}

describe.each(HAZARDS.map((hazard) => [hazard.hazard, hazard] as const))(
  '%s',
  (_, { interlocks, proof, twin }) => {
    test('names interlocks that there are', () => {
      const known = (row: string) => INTERLOCKS.some(({ id }) => id === row || id.startsWith(`${row}-`));
      expect(interlocks.filter((row) => !known(row))).toEqual([]);
    });

    test('names a proof and a twin, and each is a test that there is', () => {
      expect(proof).not.toEqual([]);
      expect(twin).not.toEqual([]);
      const missing = [...proof, ...twin].filter(([file, title]) => {
        const text = textOf(file);
        return !text.includes(title) && !text.includes(title.replaceAll("'", "\\'"));
      });
      expect(missing).toEqual([]);
    });
  },
);

test('every interlock answers a hazard', () => {
  const named = HAZARDS.flatMap(({ interlocks }) => interlocks);
  const unnamed = INTERLOCKS.filter(({ id }) => !named.some((row) => id === row || id.startsWith(`${row}-`)));
  expect(unnamed.map(({ id }) => id)).toEqual([]);
});
