// `npm run campaign-proof`: campaigns of the real command line are killed, sharded, merged and compared; with --keep what
// they come to takes its place in docs/campaign-proof.md. `--only kills` and the like do a part. It fails where anything is
// not as it must be.
import { spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { Random } from '../../../../sim/random.ts';
import { SHORT_PLAN } from '../short-plan.ts';
import { PLANTED, PLANTED_IN, type Planted, withPlanted } from './planted.ts';

const PAGE = fileURLToPath(new URL('../../../../docs/campaign-proof.md', import.meta.url));
const LAUNCHER = fileURLToPath(new URL('../../../../app/coldbench.js', import.meta.url));

const { values } = parseArgs({
  options: {
    jobs: { type: 'string', default: '96' },
    runs: { type: 'string', default: '20' },
    kills: { type: 'string', default: '15' },
    only: { type: 'string' },
    keep: { type: 'boolean', default: false },
  },
});
const JOBS = Number(values.jobs);
const RUNS = Number(values.runs);
const KILLS = Number(values.kills);
const TORN_SHARE = 0.3;

const PLANS = { ...PLANTED_IN, short: SHORT_PLAN } as const;
type PlanName = keyof typeof PLANS;

const folder = mkdtempSync(path.join(tmpdir(), 'coldbench-proof-'));
const at = (name: string): string => path.join(folder, name);
const planFile = (plan: PlanName): string => at(`${plan}.json`);

function called(...args: readonly string[]): { status: number | null; out: string } {
  const { status, stdout } = spawnSync(process.execPath, [LAUNCHER, ...args], {
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  return { status, out: stdout };
}

function campaign(
  plan: PlanName,
  seed: number,
  jobs: number,
  name: string,
  ...more: readonly string[]
): string {
  const args = [
    'campaign',
    planFile(plan),
    '--seed',
    String(seed),
    '--jobs',
    String(jobs),
    '--out',
    at(name),
  ];
  const { status } = called(...args, ...more);
  if (status !== 0) throw new Error(`${args.join(' ')} ended with ${status}`);
  return at(name);
}

type Row = { readonly what: string; readonly must: string; readonly found: string; readonly holds: boolean };

type Told = {
  readonly figures: readonly {
    readonly id: string;
    readonly before: number;
    readonly after: number;
    readonly difference: number;
    readonly low: number;
    readonly high: number;
    readonly regressed: boolean;
  }[];
};

async function planted(one: Planted): Promise<Row> {
  const base = campaign(one.plan, 1, JOBS, `base ${one.plan}.jsonl`);
  const { status, out } = await withPlanted(one, async (other) =>
    called('compare', base, '--logic', other, '--json'),
  );
  const { figures } = JSON.parse(out) as Told;
  const named = figures.filter(({ regressed }) => regressed);
  const shown = named.map(({ id, before, after, low, high }) => {
    const [a, b, from, to] = [before, after, low, high].map((value) => value.toFixed(2));
    return `\`${id}\` ${a} → ${b} (by ${from} to ${to})`;
  });
  return {
    what: `${one.name}; ${JOBS} jobs, ${one.plan}`,
    must: `status 1, \`${one.shows}\` named`,
    found: `status ${status}: ${shown.join(', ')}`,
    holds: status === 1 && named.some(({ id }) => id === one.shows),
  };
}

/** The same code on other seeds, each against the first: only chance differs. */
function sameCode(): Row {
  const base = campaign('built-in', 1, JOBS, 'base built-in.jsonl');
  let alarms = 0;
  for (let seed = 2; seed <= RUNS + 1; seed++) {
    const file = campaign('built-in', seed, JOBS, `seed ${seed}.jsonl`);
    const { status, out } = called('compare', base, file);
    process.stderr.write(`seed ${seed}: status ${status}\n`);
    if (status !== 0) {
      alarms++;
      process.stderr.write(out);
    }
  }
  return {
    what: `the same code on other seeds, ${RUNS} runs of ${JOBS} jobs against another ${JOBS}`,
    must: 'no alarm',
    found: `${alarms} alarms`,
    holds: alarms === 0,
  };
}

function sameSeeds(): Row {
  const base = campaign('built-in', 1, JOBS, 'base built-in.jsonl');
  const again = campaign('built-in', 1, JOBS, 'again.jsonl', '--workers', '1');
  const equal = readFileSync(base).equals(readFileSync(again));
  const { status } = called('compare', base, again);
  return {
    what: `the same code on the same seeds, ${JOBS} jobs, with one thread and with all`,
    must: 'the same bytes, no alarm',
    found: `${equal ? 'the same bytes' : 'other bytes'}, status ${status}`,
    holds: equal && status === 0,
  };
}

const LOOK_EVERY_MS = 10;
/** A few lines of jobs, so that the kill comes between one and several of them. */
const MOST_GROWTH_BYTES = 900;
const MOST_DELAY_MS = 300;

const bytesIn = (file: string): number => statSync(file, { throwIfNoEntry: false })?.size ?? 0;

/** Ends with the process, which is killed at a random moment after its file has grown. */
function killedOnce(args: readonly string[], file: string, random: Random): Promise<boolean> {
  const killAtBytes = bytesIn(file) + 1 + MOST_GROWTH_BYTES * random.uniform();
  const delayMs = MOST_DELAY_MS * random.uniform();
  const child = spawn(process.execPath, [LAUNCHER, ...args], { stdio: 'ignore' });
  const watch = setInterval(() => {
    if (bytesIn(file) < killAtBytes) return;
    clearInterval(watch);
    setTimeout(() => child.kill('SIGKILL'), delayMs);
  }, LOOK_EVERY_MS);
  return new Promise((resolve) =>
    child.on('exit', (_, signal) => {
      clearInterval(watch);
      resolve(signal === 'SIGKILL');
    }),
  );
}

/** Killed by SIGKILL again and again on its way, then left to come to its end. */
async function killed(): Promise<Row> {
  const jobs = 60;
  const whole = campaign('short', 1, jobs, 'whole.jsonl');
  const random = new Random(1, 'kills');
  const file = at('killed.jsonl');
  const args = ['campaign', planFile('short'), '--seed', '1', '--jobs', String(jobs), '--out', file];
  const doneAtKills: number[] = [];
  let torn = 0;
  for (let run = 0; run < KILLS && (await killedOnce(args, file, random)); run++) {
    const bytes = readFileSync(file);
    doneAtKills.push(bytes.toString('utf8').split('\n').length - 2);
    if (random.uniform() >= TORN_SHARE) continue;
    // What a machine that dies may do to a line that was being written.
    writeFileSync(file, bytes.subarray(0, bytes.length - Math.ceil(60 * random.uniform())));
    torn++;
  }
  const { status } = called(...args);
  const equal = readFileSync(whole).equals(readFileSync(file));
  return {
    what: `${jobs} short jobs killed ${doneAtKills.length} times by SIGKILL, with ${doneAtKills.join(', ')} jobs done, ${torn} times with the last line torn as well; then gone on with`,
    must: 'the bytes of a run that nobody killed',
    found: `status ${status}, ${equal ? 'the same bytes' : 'other bytes'}`,
    holds: status === 0 && equal,
  };
}

function sharded(): Row {
  const whole = campaign('short', 1, 60, 'whole.jsonl');
  const shards = ['1/4', '2/4', '3/4', '4/4'].map((shard) =>
    campaign('short', 1, 60, `shard-${shard[0]}.jsonl`, '--shard', shard),
  );
  const { status } = called('merge', ...shards.reverse(), '--out', at('merged.jsonl'));
  const equal = readFileSync(whole).equals(readFileSync(at('merged.jsonl')));
  return {
    what: '60 short jobs in four shards, merged in the wrong order',
    must: 'the bytes of the run without shards',
    found: `status ${status}, ${equal ? 'the same bytes' : 'other bytes'}`,
    holds: status === 0 && equal,
  };
}

const pageOf = (rows: readonly Row[]): string => `# What campaigns and comparisons were put through

Written by \`npm run campaign-proof -- --keep\`, which takes about half an hour on two processors. Planted are changes of one line
in a copy of the checkout, which \`compare --logic\` is given; \`tests/app/bench/proof/planted.ts\` has them. Intervals hold
at 99 %.

| what | must | found | |
| --- | --- | --- | --- |
${rows.map(({ what, must, found, holds }) => `| ${what} | ${must} | ${found} | ${holds ? 'holds' : 'FAILS'} |`).join('\n')}
`;

async function main(): Promise<void> {
  for (const [name, plan] of Object.entries(PLANS)) writeFileSync(at(`${name}.json`), JSON.stringify(plan));
  const rows: Row[] = [];
  const add = (row: Row): void => {
    rows.push(row);
    process.stderr.write(`${row.holds ? 'holds' : 'FAILS'}: ${row.what}: ${row.found}\n`);
  };
  const parts: { readonly [name: string]: () => Promise<void> | void } = {
    shards: () => add(sharded()),
    kills: async () => add(await killed()),
    planted: async () => {
      for (const one of PLANTED) add(await planted(one));
    },
    'same-seeds': () => add(sameSeeds()),
    'same-code': () => add(sameCode()),
  };
  for (const [name, part] of Object.entries(parts))
    if (values.only === undefined || values.only === name) await part();
  const page = pageOf(rows);
  process.stdout.write(page);
  if (values.keep && values.only === undefined) writeFileSync(PAGE, page);
  process.exitCode = rows.every(({ holds }) => holds) ? 0 : 1;
}

try {
  await main();
} finally {
  rmSync(folder, { recursive: true, force: true });
}
