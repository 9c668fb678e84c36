// Who answers at the page: a person, or the simulated operator in their place.
import { expect, test } from 'vitest';
import { PageOperator } from '../../../app/page/server/page-operator.ts';
import type { Prompt } from '../../../controller/operator.ts';

test('an answer that the simulated operator was quicker than is not kept for a later question', () => {
  const operator = new PageOperator(undefined, { respond: () => [] });
  const prompt: Prompt = { id: 'search-leak', text: '', evidence: '', askedAtMs: 1 };
  const answer = { kind: 'searched', found: true, prompt: prompt.id, askedAtMs: 1 } as const;
  expect(operator.answer(answer, prompt)).toBeUndefined();
  operator.automatic = true;
  operator.respond(prompt, 100);
  operator.automatic = false;
  expect(operator.respond({ ...prompt, askedAtMs: 200 }, 200)).toEqual([]);
  expect(operator.answer({ ...answer, askedAtMs: 200 }, { ...prompt, askedAtMs: 200 })).toBeUndefined();
  expect(operator.respond({ ...prompt, askedAtMs: 200 }, 300)).toEqual([
    { type: 'searched', prompt: 'search-leak', found: true },
  ]);
});
