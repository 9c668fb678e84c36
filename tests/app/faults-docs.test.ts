import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import * as z from 'zod';
import { faultsSchema } from '../../app/scenario/faults.ts';
import { toScenario } from '../../app/scenario/scenario.ts';
import { OUTPUTS } from '../../controller/signals.ts';
import { STAGES } from '../../controller/stages.ts';
import { FAULT_NAMES, FAULTS } from '../../sim/faults.ts';

const page = readFileSync(new URL('../../docs/faults.md', import.meta.url), 'utf8');

/** The rows of the page's tables whose first cell is code, cells trimmed. */
const rows = page
  .split('\n')
  .filter((line) => line.startsWith('| `'))
  .map((line) => line.split('|').map((cell) => cell.trim()));
const rowOf = (name: string): string[] | undefined => rows.find(([, first]) => first === `\`${name}\``);

test('the page has a row for every fault, with its meaning and size', () => {
  for (const name of FAULT_NAMES) {
    const { meaning, size, output } = FAULTS[name];
    const last = size === undefined ? '' : `${size.min} to ${size.max} ${size.unit}, ${size.default}`;
    expect(rowOf(name), name).toEqual(['', `\`${name}\``, meaning, output ? 'names an `output`' : last, '']);
  }
});

test('the page has a row for every key, and no row for anything else', () => {
  if (!(faultsSchema.element instanceof z.ZodObject)) throw new Error('a fault is an object');
  const keys = Object.keys(faultsSchema.element.shape);
  for (const key of keys) expect(rowOf(key), key).toBeDefined();
  expect(rows).toHaveLength(keys.length + FAULT_NAMES.length);
});

test('the page names every stage and every output that a fault may name', () => {
  for (const word of [...STAGES, ...OUTPUTS]) expect(page).toContain(`\`${word}\``);
});

test('the example on the page is a scenario', () => {
  const example = /```json\n([\s\S]*?)```/.exec(page)![1]!;
  expect(toScenario(JSON.parse(example), 'the page').faults).toHaveLength(3);
});
