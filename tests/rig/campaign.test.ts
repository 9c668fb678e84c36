import {
  copyFileSync,
  existsSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  statSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { runCampaign } from '../../app/bench/campaign.ts';
import { headerOf } from '../../app/bench/campaign-file.ts';
import { campaignJob, type JobRow } from '../../app/bench/campaign-job.ts';
import { logicVersion } from '../../app/bench/logic-version.ts';
import { readPlan, toPlan } from '../../app/bench/plan.ts';
import { inOrder } from '../../app/bench/pool.ts';
import { campaign } from '../../app/cli/campaign.ts';
import { progressLine } from '../../app/cli/campaign-progress.ts';
import { dispatch } from '../../app/cli/dispatch.ts';
import { merge } from '../../app/cli/merge.ts';
import { run } from '../../app/cli/run.ts';
import { SHORT_PLAN } from '../app/bench/short-plan.ts';
import { fakeTerminal } from '../app/fake-terminal.ts';

const folder = mkdtempSync(path.join(tmpdir(), 'coldbench-campaign-'));
afterAll(() => rmSync(folder, { recursive: true }));
const at = (name: string): string => path.join(folder, name);
const text = (name: string): string => readFileSync(at(name), 'utf8');

async function called(...args: string[]) {
  const terminal = fakeTerminal();
  const status = await dispatch([campaign, merge, run], args, terminal);
  return { status, out: terminal.output(), err: terminal.errors() };
}

const PLAN = at('plan.json');
const WHOLE = ['campaign', PLAN, '--seed', '3'];
let whole = '';
let summary = '';

beforeAll(async () => {
  writeFileSync(PLAN, JSON.stringify(SHORT_PLAN));
  const ran = await called(
    ...WHOLE,
    '--workers',
    '2',
    '--out',
    at('whole.jsonl'),
    '--report',
    at('whole.html'),
  );
  expect(ran).toMatchObject({ status: 0, err: '' });
  summary = ran.out;
  whole = text('whole.jsonl');
}, 60_000);

const rows = (): readonly JobRow[] =>
  whole
    .trimEnd()
    .split('\n')
    .slice(1)
    .map((line) => JSON.parse(line));

test('every job has its line, in order, without a clock time, a host or a path', () => {
  expect(rows().map(({ job }) => job)).toEqual([1, 2, 3, 4, 5, 6]);
  expect(rows().filter(({ outcome }) => outcome === 'completed').length).toBeGreaterThan(2);
  expect(whole).not.toContain(folder);
  expect(whole).not.toMatch(/wall|tablesS|20\d\d-\d\d/);
});

describe('what was stopped on its way is gone on with by one thread, no job lost or doubled', () => {
  const bytes = (): number => statSync(at('whole.jsonl')).size;
  const lineEnds = (): number[] => [...whole.matchAll(/\n/g)].map(({ index }) => index + 1);

  test.each([
    ['in the header', () => 40],
    ['in a line', () => lineEnds()[5]! + 25],
    ['when all was done', bytes],
  ])('killed %s', async (_, length) => {
    copyFileSync(at('whole.jsonl'), at('killed.jsonl'));
    truncateSync(at('killed.jsonl'), length());
    const { status, out } = await called(...WHOLE, '--workers', '1', '--out', at('killed.jsonl'));
    expect(status).toBe(0);
    expect(text('killed.jsonl')).toBe(whole);
    expect(out).toBe(summary);
  });

  test('stopped by Ctrl-C it says how to go on, and has kept what it had', async () => {
    const { plan } = readPlan(PLAN);
    const stop = new AbortController();
    const header = headerOf({ logic: logicVersion(), seed: 3, jobs: 6, plan });
    const out = at('stopped.jsonl');
    const progress = ({ done }: { done: number }): void => {
      if (done === 2) stop.abort();
    };
    const ran = await runCampaign({ header, workers: 1, out, stop: stop.signal, progress });
    expect(ran.progress.done).toBe(2);
    expect(whole.startsWith(text('stopped.jsonl'))).toBe(true);
    const onInterrupt = (listener: () => void): (() => void) => {
      listener();
      return () => {};
    };
    const terminal = { ...fakeTerminal(), onInterrupt };
    const status = await dispatch([campaign], [...WHOLE, '--out', out], terminal);
    expect({ status, out: terminal.output() }).toEqual({ status: 1, out: '' });
    expect(terminal.errors()).toBe(
      `coldbench: stopped after 2 of 6 jobs; go on with: npx coldbench campaign ${PLAN} --seed 3 --out ${out}\n`,
    );
    expect(text('stopped.jsonl').length).toBeLessThan(whole.length);
  });
});

test('what another logic has begun is not gone on with, and what it has completed is summed up', async () => {
  const other = whole.replace(/"logic":"[^"]*"/, '"logic":"0.0.1+other"');
  writeFileSync(at('logic.jsonl'), other);
  expect(await called(...WHOLE, '--out', at('logic.jsonl'), '--report', at('logic.html'))).toMatchObject({
    status: 0,
    out: summary,
  });
  expect(text('logic.jsonl')).toBe(other);
  expect(text('logic.html')).toContain('0.0.1+other');
  const begun = other.slice(0, other.indexOf('{"job":4'));
  writeFileSync(at('logic.jsonl'), begun);
  const { status, err } = await called(...WHOLE, '--out', at('logic.jsonl'));
  expect(status).toBe(2);
  expect(err).toMatch(
    /was begun with logic 0\.0\.1\+other, and this is .*; .*go on with the code that began it\n$/,
  );
  expect(text('logic.jsonl')).toBe(begun);
});

describe('shards', () => {
  beforeAll(async () => {
    for (const shard of ['1/3', '2/3', '3/3'])
      await called(...WHOLE, '--workers', '1', '--shard', shard, '--out', at(`shard-${shard[0]}.jsonl`));
  }, 60_000);
  const [one, two, three] = [at('shard-1.jsonl'), at('shard-2.jsonl'), at('shard-3.jsonl')];

  test('merged in any order are what is written without them, byte for byte', async () => {
    const { status } = await called('merge', three, one, two, '--out', at('merged.jsonl'));
    expect(status).toBe(0);
    expect(text('merged.jsonl')).toBe(whole);
    // The whole is there: nothing is run again, and the summary is the same.
    expect((await called(...WHOLE, '--out', at('merged.jsonl'))).out).toBe(summary);
  });

  test('that do not make one campaign are refused by name, and nothing is written', async () => {
    writeFileSync(at('other.jsonl'), text('shard-2.jsonl').replace('"seed":3', '"seed":4'));
    copyFileSync(two, at('torn.jsonl'));
    truncateSync(at('torn.jsonl'), statSync(two).size - 5);
    writeFileSync(at('doubled.jsonl'), text('shard-2.jsonl').replace(/(\{"job":3.*\n)/, '$1$1'));
    const cases: readonly (readonly [readonly string[], string])[] = [
      [[one, three], 'shard 2/3 is missing'],
      [[one], 'shard 2/3, 3/3 are missing'],
      [[one, two, two, three], 'shard-2.jsonl: is shard 2/3, as'],
      [[one, at('other.jsonl'), three], 'seed 4, not 3'],
      [[one, at('torn.jsonl'), three], 'jobs 4 to 4 are missing'],
      [[one, at('doubled.jsonl'), three], 'job 3 stands where job 4 must be'],
      [[one, at('whole.jsonl')], 'is no shard but a whole campaign'],
      [[one, PLAN], 'is not the file of a campaign'],
      [[one, at('none.jsonl')], 'there is no such file'],
      [[], 'give the files to merge'],
    ];
    for (const [files, words] of cases) {
      const { status, err } = await called('merge', ...files, '--out', at('refused.jsonl'));
      expect(err).toMatch(/^coldbench: [^\n]+\n$/);
      expect(err).toContain(words);
      expect(status).toBe(2);
      expect(existsSync(at('refused.jsonl'))).toBe(false);
      expect(existsSync(at('refused.jsonl.unfinished'))).toBe(false);
    }
    expect((await called('merge', one, two, three, '--out', one)).err).toContain('is there already');
  });
});

test('the command of a worst job prints its line again, and its scenario runs to the same figures', async () => {
  const again = /npx coldbench campaign (\S+) --seed 3 --job (\d+)/.exec(summary);
  expect(again?.[1]).toBe(PLAN);
  const job = again![2]!;
  const line = await called(...WHOLE, '--job', job);
  expect(whole).toContain(`\n${line.out}`);
  const row: JobRow = JSON.parse(line.out);
  const { out } = await called(...WHOLE, '--job', job, '--print-scenario');
  writeFileSync(at('job.json'), out);
  const document = JSON.parse((await called('run', at('job.json'), '--json')).out);
  expect(document.outcome).toBe(row.outcome);
  expect(document.simulatedS / 60).toBeCloseTo(row.totalMin!, 1);
});

test('the report has every figure of the summary, and neither a script nor anything from elsewhere', () => {
  const page = text('whole.html');
  expect(page).toContain('short jobs');
  expect(page).not.toMatch(/<script|https?:|<link|<img|20\d\d-\d\d/);
  expect(page.match(/<svg/g)!.length).toBeGreaterThan(4);
  for (const [, figure] of summary.matchAll(/^ {2}(\S.*?),? {2,}/gm))
    expect(page).toContain(figure!.replace(/, (g|min|%)$/, ''));
});

describe('bad input is one line and status 2, and nothing is lost', () => {
  test.each([
    [['--jobs', 'many'], '--jobs must be a whole number'],
    [['--jobs', '0'], '--jobs must be a whole number from 1'],
    [['--workers', '0'], '--workers must be'],
    [['--shard', '3/2'], '--shard must be a part of a whole such as 2/8'],
    [['--shard', '1/2', '--jobs', '1'], '1 jobs have at most 1 shards'],
    [['--seed', '-1'], '--seed'],
    [['--print-scenario'], 'name it with --job N'],
    [['--job', '1', '--out', at('x.jsonl')], '--job runs one job'],
    [['--out', PLAN], 'is the plan and would be overwritten'],
    [['--out', folder], 'is a directory'],
    [['--report', folder], 'cannot write the report'],
    [['--jobs', '8', '--out', at('whole.jsonl')], 'was begun with 6 jobs, not 8'],
    [['--seed', '4', '--out', at('whole.jsonl')], 'was begun with seed 3, not 4'],
    [['--out', at('whole.html')], 'is not the file of a campaign'],
  ])('%j', async (args, words) => {
    const seed = args.includes('--seed') ? [] : ['--seed', '3'];
    const { status, out, err } = await called('campaign', PLAN, ...seed, ...args);
    expect({ status, out }).toEqual({ status: 2, out: '' });
    expect(err).toMatch(/^coldbench: [^\n]+\n$/);
    expect(err).toContain(words);
    expect(text('whole.jsonl')).toBe(whole);
    expect(JSON.parse(readFileSync(PLAN, 'utf8'))).toEqual(SHORT_PLAN);
  });
});

test('a job that is drawn beyond the bounds, or does not fit, is told in its line and ends nothing', async () => {
  const whyOf = async (file: object): Promise<JobRow> =>
    campaignJob(toPlan({ ...SHORT_PLAN, ...file }, 'wild').plan, 3, 1);
  expect(await whyOf({ draws: { 'vehicle.chargeG': { normal: [-500, 10] } } })).toMatchObject({
    outcome: 'invalid',
    why: expect.stringMatching(/^job 1: vehicle\.chargeG must be 0 to 5000 g, not -/),
  });
  expect(await whyOf({ draws: { 'vehicle.chargeG': 4000 } })).toMatchObject({
    outcome: 'invalid',
    why: expect.stringContaining('does not fit vehicle.volumeL 1.2'),
  });
});

test('a worker that breaks is told with its task', async () => {
  const module = new URL(
    'data:text/javascript,export default (n) => { if (n === 2) throw new Error("two"); return n; }',
  );
  const taken: number[] = [];
  const ran = inOrder<number, number>({ module, workers: 2 }, [1, 2, 3], (answer) => void taken.push(answer));
  await expect(ran).rejects.toMatchObject({
    message: 'the task 2 broke its worker',
    cause: { message: 'two' },
  });
  expect(taken).toEqual([1]);
});

test('the bar shows how far, how fast and how long still, by the jobs of this run alone', () => {
  expect(progressLine({ done: 250, before: 250, jobs: 1000 }, 0)).toBe(
    `[${'#'.repeat(6)}${'.'.repeat(18)}] 250 of 1000 jobs`,
  );
  expect(progressLine({ done: 500, before: 250, jobs: 1000 }, 100)).toBe(
    `[${'#'.repeat(12)}${'.'.repeat(12)}] 500 of 1000 jobs, 2.5 a second, 3:20 left`,
  );
  expect(progressLine({ done: 11, before: 1, jobs: 10_011 }, 10)).toContain('2:46:40 left');
});
