import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { campaignJob } from '../../../app/bench/campaign-job.ts';
import { checkPlan } from '../../../app/bench/drawn.ts';
import { MEASURES, RATES } from '../../../app/bench/figures.ts';
import { toPlan } from '../../../app/bench/plan.ts';
import { boundText } from '../../../app/bench/printed-comparison.ts';
import { SHORT_PLAN } from './short-plan.ts';

const page = readFileSync(new URL('../../../docs/campaigns.md', import.meta.url), 'utf8');

test('the plan on the page is one', () => {
  const [, example = ''] = /```json\n([\s\S]*?)```/.exec(page) ?? [];
  const { plan, jobs } = toPlan(JSON.parse(example), 'the page');
  expect(jobs).toBe(500);
  checkPlan(plan, 'the page');
  for (const key of Object.keys(plan)) expect(page).toMatch(new RegExp(`^\\| \`${key}\` +\\|`, 'm'));
});

test('the page has every figure with its bound', () => {
  const figures = [
    ...MEASURES.map((measure) => ({ figure: { measure }, ...measure })),
    ...RATES.map((rate) => ({ figure: { rate }, ...rate })),
  ];
  expect(new Set(figures.map(({ id }) => id)).size).toBe(figures.length);
  for (const one of figures) {
    const [, says, bound] =
      new RegExp(`^\\| \`${one.id}\` +\\| (.*?) +\\| (.*?) +\\|$`, 'm').exec(page) ?? [];
    expect({ says, bound }).toEqual({ says: one.says, bound: boundText(one) });
  }
});

test('the page has every key that a line may have', async () => {
  const row = await campaignJob(toPlan(SHORT_PLAN, 'short').plan, 3, 1);
  const named = Object.keys(row);
  expect(named.length).toBeGreaterThan(8);
  for (const key of named) expect(page).toContain(`\`${key}\``);
});
