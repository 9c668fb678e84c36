import { existsSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { PAGE, page, RESULTS } from './page.ts';
import type { Summary } from './summary.ts';

test('the page of properties is what its kept results make: `npm run properties -- --keep` would not change it', () => {
  expect(existsSync(RESULTS)).toBe(true);
  const kept = JSON.parse(readFileSync(RESULTS, 'utf8'));
  expect(readFileSync(PAGE, 'utf8')).toBe(page(kept));
});

test('in the kept set nothing did harm that is not covered by name', () => {
  const { profiles }: Summary = JSON.parse(readFileSync(RESULTS, 'utf8'));
  for (const { harms } of Object.values(profiles)) {
    for (const [name, { harm }] of Object.entries(harms)) expect(harm, name).toBe(0);
  }
});
