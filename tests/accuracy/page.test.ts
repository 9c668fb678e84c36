// The page of results against the results that are kept.
import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { PAGE, PLOTS, page, plots } from './topic.ts';
import { TOPICS } from './topics.ts';

test('the page of results is up to date: `npm run accuracy:page` would not change it', () => {
  expect(readFileSync(PAGE, 'utf8')).toBe(page(TOPICS));
});

test('its plots are those that the kept results make, and no others', () => {
  const kept = readdirSync(PLOTS).map((file) => [file, readFileSync(new URL(file, PLOTS), 'utf8')]);
  expect(kept).toEqual(plots(TOPICS).map(({ name, svg }) => [`${name}.svg`, svg]));
});
