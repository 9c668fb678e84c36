import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import * as z from 'zod';
import { toScenario } from '../../app/scenario/scenario.ts';
import { scenarioSchema } from '../../app/scenario/schema.ts';

const page = readFileSync(new URL('../../docs/scenario.md', import.meta.url), 'utf8');

function bare(schema: unknown): unknown {
  if (schema instanceof z.ZodDefault || schema instanceof z.ZodPrefault || schema instanceof z.ZodOptional)
    return bare(schema.unwrap());
  return schema instanceof z.ZodPipe ? bare(schema.out) : schema;
}

/** Every key of the schema, with the name of the object it stands in. */
function keys(schema: unknown, section = ''): [section: string, key: string][] {
  const object = bare(schema);
  if (!(object instanceof z.ZodObject)) return [];
  return Object.entries(object.shape).flatMap(([key, inner]): [string, string][] => [
    [section, key],
    ...keys(inner, key),
  ]);
}

test('the page on scenarios has every key in its own section', () => {
  const sections = new Map(
    page.split(/^## /m).map((text) => [/^`?([a-z]+)/.exec(text)?.[1] ?? '', text] as const),
  );
  const all = keys(scenarioSchema);
  expect(all.length).toBeGreaterThan(70);
  for (const [section, key] of all) {
    if (section === 'oil') expect(sections.get('ticket'), `oil.${key}`).toContain(`\`oil.${key}\``);
    else if (section === 'ticket' && key === 'oil') continue;
    else if (section === '') expect(page, key).toMatch(new RegExp(`^\\| \`${key}\` +\\|`, 'm'));
    else expect(sections.get(section), `${section}.${key}`).toContain(`\`${key}\``);
  }
});

test('the examples on the page are scenarios', () => {
  const examples = [...page.matchAll(/```json\n([\s\S]*?)```/g)].map((match) => match[1]!);
  expect(examples.length).toBeGreaterThanOrEqual(2);
  for (const example of examples) expect(() => toScenario(JSON.parse(example), 'the page')).not.toThrow();
});
