// The guard itself against every forbidden combination, point by point over the full product of what can matter.
import { describe, expect, test } from 'vitest';
import { enumerate, grouped, touching } from './enumerate.ts';
import { FORBIDDEN } from './forbidden.ts';
import { type Forbidden, RECOVERING } from './never.ts';

const names = (members: readonly Forbidden[]): string => members.map(({ name }) => name).join('; ');

describe('What the guard permits, over all that combinations and the rows touching them read', () => {
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

  test('what is allowed is found to be permitted', () => {
    const [group] = grouped([RECOVERING]);
    expect(enumerate(group!).got).not.toEqual([]);
  });
});
