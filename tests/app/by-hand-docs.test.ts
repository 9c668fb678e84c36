import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { handLine } from '../../app/cli/hand-lines.ts';

const page = readFileSync(new URL('../../docs/by-hand.md', import.meta.url), 'utf8');

test('every line that the page on work by hand shows can be read', () => {
  const lines = /```text\n([\s\S]*?)```/.exec(page)![1]!.trim().split('\n');
  expect(lines.length).toBeGreaterThan(10);
  for (const line of lines) expect(handLine(line), line).toBeDefined();
});

test('the page shows every kind of line', () => {
  const lines = /```text\n([\s\S]*?)```/.exec(page)![1]!.split('\n').map(handLine);
  const kinds = new Set(lines.map((line) => line?.kind));
  for (const kind of [
    'switch',
    'operate',
    'wait',
    'why',
    'status',
    'stop',
    'reset',
    'begin',
    'quit',
  ] as const)
    expect(kinds).toContain(kind);
});
