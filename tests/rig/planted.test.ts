// Regressions planted in copies of the checkout, which `coldbench compare --logic` must catch: minutes, so it runs apart.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { campaign } from '../../app/cli/campaign.ts';
import { compare } from '../../app/cli/compare.ts';
import { dispatch } from '../../app/cli/dispatch.ts';
import { PLANTED, PLANTED_IN, withPlanted } from '../app/bench/proof/planted.ts';
import { fakeTerminal } from '../app/fake-terminal.ts';

const JOBS = '72';
const folder = mkdtempSync(path.join(tmpdir(), 'coldbench-planted-'));
afterAll(() => rmSync(folder, { recursive: true }));
const at = (name: string): string => path.join(folder, name);

async function called(...args: string[]) {
  const terminal = fakeTerminal();
  const status = await dispatch([campaign, compare], args, terminal);
  return { status, out: terminal.output(), err: terminal.errors() };
}

test.each(PLANTED)('$name is caught: $shows', async (planted) => {
  const [plan, base] = [at(`${planted.plan}.json`), at(`${planted.plan}.jsonl`)];
  writeFileSync(plan, JSON.stringify(PLANTED_IN[planted.plan]));
  expect(await called('campaign', plan, '--jobs', JOBS, '--out', base)).toMatchObject({ status: 0, err: '' });
  const compared = await withPlanted(planted, (other) => called('compare', base, '--logic', other));
  expect(compared).toMatchObject({ status: 1, err: '' });
  expect(compared.out).toMatch(new RegExp(`${planted.shows} .* {2}REGRESSED`));
});

test('an unchanged copy is the same in every figure', async () => {
  const base = at('built-in.jsonl');
  const { from } = PLANTED[0]!;
  const nothing = { ...PLANTED[0]!, to: from };
  const compared = await withPlanted(nothing, (other) => called('compare', base, '--logic', other));
  expect(compared.status).toBe(0);
  expect(compared.out).toContain('Every figure of every job is the same.');
});
