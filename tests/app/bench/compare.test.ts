import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { builtInPlan } from '../../../app/bench/built-in-plan.ts';
import { headerOf, lineOf } from '../../../app/bench/campaign-file.ts';
import type { JobRow } from '../../../app/bench/campaign-job.ts';
import { compareCampaigns } from '../../../app/bench/compare.ts';
import { seedOfJob } from '../../../app/bench/drawn.ts';
import { compare } from '../../../app/cli/compare.ts';
import { dispatch } from '../../../app/cli/dispatch.ts';
import { Random } from '../../../sim/random.ts';
import { fakeTerminal } from '../fake-terminal.ts';

const folder = mkdtempSync(path.join(tmpdir(), 'coldbench-compare-'));
afterAll(() => rmSync(folder, { recursive: true }));

const { plan } = builtInPlan();
const hundredth = (value: number): number => Math.round(100 * value) / 100;

/** A job with figures about as large as real ones are. */
function rowOf(campaignSeed: number, job: number): JobRow {
  const seed = seedOfJob(campaignSeed, job);
  const random = new Random(seed, 'made up');
  const recoverMin = hundredth(15 + 20 * random.uniform());
  const evacuateMin = hundredth(18 + 60 * random.uniform() ** 4);
  const completed = random.uniform() < 0.95;
  return {
    job,
    seed,
    outcome: completed ? 'completed' : 'stopped',
    ...(completed ? { chargeErrorG: hundredth(1.3 * random.normal()) } : {}),
    netErrorG: hundredth(1.5 * random.normal()),
    netUncertaintyG: hundredth(3 + 3 * random.uniform()),
    recoveredErrorG: hundredth(1.5 * random.normal()),
    recoveredUncertaintyG: 4,
    residualG: hundredth(6 + Math.exp(random.normal())),
    hold: { verdict: 'tight', held: 'right' },
    recoverMin,
    evacuateMin,
    totalMin: recoverMin + evacuateMin + 30,
    prompts: 5 + Math.floor(3 * random.uniform()),
    lostG: hundredth(4 + 4 * random.uniform()),
    tankFill: 0.5,
    ...(random.uniform() < 0.3 ? { trips: ['IL-17'], faults: ['hose-off'] } : {}),
  };
}

const JOBS = 60;

function campaignOf(seed: number, changed: (row: JobRow) => JobRow = (row) => row, jobs = JOBS) {
  const rows = Array.from({ length: jobs }, (_, index) => changed(rowOf(seed, index + 1)));
  return { header: headerOf({ logic: 'test', seed, jobs, plan }), rows };
}

const regressedIn = (...[before, after, bounds = new Map()]: Partial<Parameters<typeof compareCampaigns>>) =>
  compareCampaigns(before!, after!, bounds, 0.99)
    .figures.filter(({ regressed }) => regressed)
    .map(({ id }) => id);

const biased = (row: JobRow): JobRow =>
  row.chargeErrorG === undefined ? row : { ...row, chargeErrorG: row.chargeErrorG + 5 };
const slower =
  (share: number) =>
  (row: JobRow): JobRow => ({ ...row, recoverMin: row.recoverMin! * (1 + share) });
const harmed = (row: JobRow): JobRow => {
  const { trips, ...others } = row;
  return trips === undefined ? row : { ...others, harm: { 'air-compressed': 0.2 } };
};

describe('on the same jobs', () => {
  const before = campaignOf(1);

  test.each([
    ['a 5 g bias of the charge', biased, ['charge-error']],
    ['a lost interlock', harmed, ['harmed']],
    ['a recovery that takes a tenth longer', slower(0.1), ['recovery-time']],
  ])('%s is seen, and nothing else', (_, changed, ids) => {
    expect(regressedIn(before, campaignOf(1, changed))).toEqual(ids);
  });

  test('what stays within its bound is no regression, however sure it is', () => {
    expect(regressedIn(before, campaignOf(1, slower(0.03)))).toEqual([]);
    const bounds = new Map([['recovery-time', { byPercent: 2 }]]);
    expect(regressedIn(before, campaignOf(1, slower(0.03)), bounds)).toEqual(['recovery-time']);
  });

  test('what has become better is none either', () => {
    expect(regressedIn(campaignOf(1, biased), before)).toEqual([]);
    expect(regressedIn(campaignOf(1, slower(0.1)), before)).toEqual([]);
    // Where harm has gone because an interlock trips again, the trips are more.
    expect(regressedIn(campaignOf(1, harmed), before)).toEqual(['tripped']);
  });

  test('a figure without a bound is shown and not judged', () => {
    const comparison = compareCampaigns(
      before,
      campaignOf(1, biased),
      new Map([['charge-error', undefined]]),
      0.99,
    );
    const charge = comparison.figures.find(({ id }) => id === 'charge-error');
    expect(charge).toMatchObject({ regressed: false });
    expect(charge?.difference).toBeGreaterThan(2);
  });

  test('the same figures are told to be the same', () => {
    const { equal, paired, figures } = compareCampaigns(before, campaignOf(1), new Map(), 0.99);
    expect({ equal, paired }).toEqual({ equal: true, paired: true });
    expect(figures.every(({ difference }) => difference === 0)).toBe(true);
  });

  test('a few jobs say nothing of means', () => {
    const [few, worse] = [campaignOf(1, undefined, 6), campaignOf(1, biased, 6)];
    expect(regressedIn(few, worse)).toEqual([]);
    expect(compareCampaigns(few, worse, new Map(), 0.99).figures[0]?.difference).toBeUndefined();
  });
});

describe('on other jobs', () => {
  test('twenty runs of the same code raise no alarm', () => {
    const before = campaignOf(100, undefined, 40);
    for (let seed = 101; seed <= 120; seed++)
      expect({ seed, ids: regressedIn(before, campaignOf(seed, undefined, 40)) }).toEqual({ seed, ids: [] });
  });

  test('large changes are seen by their means and shares', () => {
    const before = campaignOf(1);
    const comparison = compareCampaigns(before, campaignOf(2, biased), new Map(), 0.99);
    expect(comparison).toMatchObject({ paired: false, unpairedBecause: 'seed 2, not 1' });
    expect(comparison.figures.filter(({ regressed }) => regressed).map(({ id }) => id)).toEqual([
      'charge-error',
    ]);
    expect(regressedIn(before, campaignOf(2, harmed))).toEqual(['harmed']);
  });
});

describe('on the command line', () => {
  function file(name: string, { header, rows }: ReturnType<typeof campaignOf>): string {
    writeFileSync(path.join(folder, name), [lineOf(header), ...rows.map(lineOf)].join(''));
    return path.join(folder, name);
  }
  const a = file('a.jsonl', campaignOf(1));
  const b = file('b.jsonl', campaignOf(1, biased));
  const other = file('other.jsonl', campaignOf(2));

  async function called(...args: string[]) {
    const terminal = fakeTerminal();
    const status = await dispatch([compare], ['compare', ...args], terminal);
    return { status, out: terminal.output(), err: terminal.errors() };
  }

  test('a regression ends with status 1 and is named, none with 0', async () => {
    const worse = await called(a, b);
    expect(worse.status).toBe(1);
    expect(worse.out).toContain('The same jobs in both: paired differences.');
    expect(worse.out).toMatch(/charge-error .* {2}REGRESSED/);
    expect(worse.out).toMatch(/REGRESSED: charge-error\n$/);
    const same = await called(a, a);
    expect(same.status).toBe(0);
    expect(same.out).toContain('Every figure of every job is the same.');
    expect(same.out).toMatch(/No regression\.\n$/);
    expect((await called(b, a)).status).toBe(0);
  });

  test('a bound that is given decides', async () => {
    expect((await called(a, b, '--bound', 'charge-error=10g')).status).toBe(0);
    expect((await called(a, b, '--bound', 'charge-error=none')).status).toBe(0);
    expect((await called(a, b, '--bound', 'charge-error=10g,prompts=0.2')).out).toMatch(/prompts .* 0\.2\n/);
  });

  test('jobs that are not the same are compared by means and shares, and that is told', async () => {
    const { status, out } = await called(a, other);
    expect(status).toBe(0);
    expect(out).toContain('Not the same jobs (B has seed 2, not 1)');
  });

  test('--json is the comparison', async () => {
    const { out } = await called(a, b, '--json');
    const { paired, figures } = JSON.parse(out);
    expect(paired).toBe(true);
    expect(figures.filter(({ regressed }: { regressed: boolean }) => regressed)).toHaveLength(1);
  });

  test.each([
    [[], 'give two files of coldbench campaign'],
    [[a], 'give a second file'],
    [[a, path.join(folder, 'none')], 'there is no such file'],
    [[a, b, '--bound', 'charge-eror=1g'], 'did you mean charge-error?'],
    [[a, b, '--bound', 'charge-error=1kg'], "'1kg' is no limit; write 1g, 5% or none"],
    [[a, b, '--bound', 'harmed=5%'], "'5%' is no limit; write 1points or none"],
    [[a, b, '--bound', 'charge-error=-1g'], 'is no limit'],
    [[a, b, '--confidence', '100'], '--confidence must be 50 to 99.9'],
    [[a, b, '--out', path.join(folder, 'x')], '--out goes with --logic'],
    [[a, b, '--logic', folder], '--logic makes the second file'],
    [[a, '--logic', folder], 'there is no Coldbench in it'],
  ])('%j is one line and status 2', async (args, words) => {
    const { status, out, err } = await called(...args);
    expect({ status, out }).toEqual({ status: 2, out: '' });
    expect(err).toMatch(/^coldbench: [^\n]+\n$/);
    expect(err).toContain(words);
  });

  test('a file that is not complete is refused', async () => {
    const torn = path.join(folder, 'torn.jsonl');
    writeFileSync(torn, readFileSync(a, 'utf8').slice(0, -30));
    expect((await called(a, torn)).err).toContain('jobs 60 to 60 are missing');
  });
});
