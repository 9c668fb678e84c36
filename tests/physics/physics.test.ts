// The physics against the outside: every check is a test, and the page on physics shows them as they are.
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { type Check, meets } from './check.ts';
import { TOPICS } from './checks/index.ts';
import { PAGE, pageWithTables } from './page.ts';
import { PARAMETERS } from './parameters.ts';
import { rounded } from './table.ts';

const ROOT = new URL('../../', import.meta.url);

describe.each(TOPICS)('$heading', ({ checks }) => {
  test.each(checks)('$id: $title', (check) => {
    const obtained = check.obtain();
    expect(meets(check, obtained), `expected ${check.expected} ${check.unit}, obtained ${obtained}`).toBe(
      true,
    );
  });
});

test('no two checks have the same id', () => {
  const ids = TOPICS.flatMap(({ checks }) => checks.map(({ id }) => id));
  expect(new Set(ids).size).toBe(ids.length);
});

describe('a check', () => {
  const check: Check = {
    id: 'example',
    title: 'An example',
    source: 'none',
    unit: 'm',
    expected: -2,
    tolerance: { relative: 0.01 },
    obtain: () => -2,
  };

  test.each([-1.981, -2, -2.019])('of −2 within 1 %% is met by %d', (obtained) => {
    expect(meets(check, obtained)).toBe(true);
  });

  test.each([-1.97, -2.03, 2, Number.NaN, Number.POSITIVE_INFINITY])(
    'of −2 within 1 %% is NOT met by %d',
    (obtained) => {
      expect(meets(check, obtained)).toBe(false);
    },
  );

  test('shows figures down to a fraction of its tolerance and no further', () => {
    expect(rounded(-2.00456, check)).toBe('−2.005');
    expect(rounded(571_706.9, { ...check, expected: 571_700, tolerance: { relative: 1e-4 } })).toBe('571707');
    expect(rounded(-1e-9, { ...check, expected: 0, tolerance: { absolute: 0.01 } })).toBe('0.000');
    expect(rounded(7.5712e-9, { ...check, expected: 7.57e-9 })).toBe('7.571e−9');
  });
});

test('the page on physics is up to date: `npm run physics` would not change it', () => {
  const page = readFileSync(new URL(PAGE, ROOT), 'utf8');
  expect(pageWithTables(page)).toBe(page);
});

test.each(PARAMETERS.flatMap(({ parameters }) => parameters))(
  'the page on physics gives "$what" as it stands in $file',
  ({ file, code }) => {
    const squeeze = (text: string) => text.replaceAll(/\s+/g, '');
    expect(squeeze(readFileSync(new URL(file, ROOT), 'utf8'))).toContain(squeeze(code));
  },
);
