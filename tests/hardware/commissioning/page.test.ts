// The page on commissioning against the lines.
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { lineOf } from '../../../hardware/commissioning/lines/index.ts';
import { LINE_IDS } from '../../../hardware/commissioning/record.ts';
import { PAGE, pageWith } from './page.ts';

const page = readFileSync(PAGE, 'utf8');

test('the page of commissioning is up to date: `npm run commissioning` would not change it', () => {
  expect(pageWith(page)).toBe(page);
});

test('the lines on the page are in the order in which they are worked through, each after what it needs', () => {
  for (const [index, id] of LINE_IDS.entries())
    for (const need of lineOf(id).needs)
      expect(LINE_IDS.indexOf(need), `${id} needs ${need}`).toBeLessThan(index);
});
