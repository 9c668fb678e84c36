// Every forbidden combination over the whole space of what interlocks can look at: none of it is permitted.
import { describe, expect, test } from 'vitest';
import { INTERLOCKS } from '../../../../controller/interlocks/table.ts';
import { enumerate, grouped, touching } from './enumerate.ts';
import { FORBIDDEN } from './forbidden.ts';
import type { Forbidden } from './never.ts';
import { assign, calmPoint, points, restore, search, VARIABLES, variablesOf, WHOLE } from './space.ts';

const names = (members: readonly Forbidden[]): string => members.map(({ name }) => name).join('; ');
const named = FORBIDDEN.map((forbidden) => [forbidden.name, forbidden] as const);

describe('Over every command word, reading class, memory and fitting there is', () => {
  test.each(named)('never: %s', (_, forbidden) => {
    const { escape, settled, refused } = search(forbidden, INTERLOCKS);
    expect(escape).toBeUndefined();
    expect(settled).toBe(WHOLE);
    expect(refused).toBeGreaterThan(0n);
  });
});

describe('What the guard permits, point by point over all that combinations and the rows touching them read', () => {
  test.each(grouped(FORBIDDEN).map((group) => [names(group.members), group] as const))(
    'never: %s',
    (_, group) => {
      const { wished, got } = enumerate(group);
      expect(got).toEqual([]);
      expect([...wished].filter(([, times]) => times === 0)).toEqual([]);
    },
  );

  test('no combination is touched by no row', () => {
    expect(FORBIDDEN.filter((forbidden) => touching(forbidden).length === 0)).toEqual([]);
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
    expect(FORBIDDEN.some((forbidden) => search(forbidden, others).escape !== undefined)).toBe(true);
  });

  test('it finds what is permitted, and shows one point of it', () => {
    const recovering: Forbidden = {
      name: 'compressor and recovery valve on',
      outputs: ['compressor', 'recoveryValve'],
      bands: [],
      memory: [],
      fitting: [],
      is: ({ on }) => on.compressor && on.recoveryValve,
    };
    const { escape } = search(recovering, INTERLOCKS);
    expect(escape?.on).toMatchObject({ compressor: true, recoveryValve: true, vacuumValve: false });
    const [group] = grouped([recovering]);
    expect(enumerate(group!).got).not.toEqual([]);
  });
});
