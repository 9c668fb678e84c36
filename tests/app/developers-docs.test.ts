import { existsSync, globSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';

const root = new URL('../../', import.meta.url);
const page = readFileSync(new URL('DEVELOPERS.md', root), 'utf8');

test('every file that the page for developers names is there', () => {
  const named = [...page.matchAll(/`((?:app|controller|sim|hardware|tests|docs|\.ci)\/[^`\s]*)`/g)].map(
    (match) => match[1]!,
  );
  expect(named.length).toBeGreaterThan(30);
  for (const path of named) expect(existsSync(fileURLToPath(new URL(path, root))), path).toBe(true);
});

test('every function that the page names beside its file is in that file', () => {
  const pairs = [...page.matchAll(/`(?:[A-Z]\w*\.)?(\w+)(?:\([^`]*\))?`(?: \(|, )`([\w/.-]+\.ts)`/g)];
  expect(pairs.length).toBeGreaterThan(15);
  for (const [, name, path] of pairs)
    expect(readFileSync(new URL(path!, root), 'utf8'), `${name} in ${path}`).toMatch(
      new RegExp(`\\b${name}\\b`),
    );
});

test('the README names every command', () => {
  const readme = readFileSync(new URL('README.md', root), 'utf8');
  const names = globSync(fileURLToPath(new URL('app/cli/*.ts', root))).flatMap((file) =>
    [...readFileSync(file, 'utf8').matchAll(/ name: '(\w+)',\n {2}summary: /g)].map((match) => match[1]!),
  );
  expect(names.length).toBeGreaterThan(15);
  for (const name of names) expect(readme).toMatch(new RegExp(`coldbench ${name}\\b|\`${name}\``));
});
