// Every forbidden combination over the whole space of what interlocks can look at: none of it is permitted.
import { describe, expect, test } from 'vitest';
import { INTERLOCKS } from '../../../../controller/interlocks/table.ts';
import { FORBIDDEN } from './forbidden.ts';
import { RECOVERING } from './never.ts';
import { assign, calmPoint, points, restore, search, VARIABLES, variablesOf, WHOLE } from './space.ts';

describe('Over every command word, reading class, memory and fitting there is', () => {
  const named = FORBIDDEN.map((forbidden) => [forbidden.name, forbidden] as const);

  test.each(named)('never: %s', (_, forbidden) => {
    const { gap, settled, refused } = search(forbidden, INTERLOCKS);
    expect(gap).toBeUndefined();
    expect(settled).toBe(WHOLE);
    expect(refused).toBeGreaterThan(0n);
  });
});

describe('What a row does not declare', () => {
  test.each(INTERLOCKS.map((row) => [row.id, row] as const))('changes nothing for %s', (_, row) => {
    const declared = variablesOf(row.reads);
    const others = VARIABLES.filter((variable) => !declared.includes(variable));
    const calm = calmPoint();
    for (const point of points(declared, calmPoint())) {
      const verdict = row.judge(point);
      for (const variable of others) {
        const { name, values } = variable;
        for (const value of values) {
          assign(point, variable, value);
          if (JSON.stringify(row.judge(point)) !== JSON.stringify(verdict))
            expect.fail(`${row.id} looks at ${name}`);
        }
        restore(point, calm, variable);
      }
    }
  });
});

describe('The proof can fail', () => {
  test.each(INTERLOCKS.map(({ id }) => [id]))('without %s something forbidden gets through', (id) => {
    const others = INTERLOCKS.filter((row) => row.id !== id);
    expect(FORBIDDEN.some((forbidden) => search(forbidden, others).gap !== undefined)).toBe(true);
  });

  test('it finds what is permitted, and shows one point of it', () => {
    const { gap } = search(RECOVERING, INTERLOCKS);
    expect(gap?.on).toMatchObject({ compressor: true, recoveryValve: true, vacuumValve: false });
  });
});
