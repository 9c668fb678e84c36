// `npm run bench`: every performance figure of the project in one run, beside what it was when it was last kept. It prints and
// never judges by its exit status: a busy machine is no fault of the code.
import { execFile } from 'node:child_process';
import { availableParallelism, cpus } from 'node:os';
import { fileURLToPath } from 'node:url';
import { parseArgs, promisify } from 'node:util';
import { tuneForManyJobs } from '../../app/bench/engine.ts';
import {
  type KeptTopic,
  keepBaseline,
  keptOf,
  readBaseline,
  timesWorse,
  WORSE,
  yardstickMs,
} from './baseline.ts';
import { fullyNamed, meets, type Row, type Topic } from './row.ts';
import { board } from './topic-board.ts';
import { campaign } from './topic-campaign.ts';
import { fluids } from './topic-fluids.ts';
import { job } from './topic-job.ts';
import { length } from './topic-length.ts';
import { nodes } from './topic-nodes.ts';
import { page } from './topic-page.ts';
import { plant } from './topic-plant.ts';
import { records } from './topic-records.ts';
import { scan } from './topic-scan.ts';
import { start } from './topic-start.ts';

const TOPICS: readonly Topic[] = [
  job,
  fluids,
  scan,
  plant,
  length,
  nodes,
  start,
  board,
  records,
  campaign,
  page,
];

const USAGE = `Usage: npm run bench [-- [--only NAME] [--json] [--keep]]
NAME is one of: ${TOPICS.map(({ name }) => name).join(', ')}. The last column is how many times worse a figure is than the one
that was kept (tests/bench/baseline.json), figures of time in units of a yardstick that is measured beside them. With --keep
today's take the place of those.
`;

/** Four figures, with an exponent for what is tiny. */
const figure = (value: number): string =>
  value !== 0 && Math.abs(value) < 1e-3
    ? value.toExponential(1)
    : new Intl.NumberFormat('en', { maximumSignificantDigits: 4 }).format(value);

function verdict({ value, limit }: Row): string {
  if (limit === undefined) return '';
  const bound = 'atMost' in limit ? `≤ ${Number(limit.atMost.toPrecision(3))}` : `≥ ${limit.atLeast}`;
  return `${bound} ${meets(value, limit) ? 'pass' : 'MISS'}`;
}

function change(row: Row, kept: KeptTopic | undefined, yardstick: number): string {
  const worse = timesWorse(row, kept, yardstick);
  if (worse === undefined) return '';
  return `${worse.toFixed(2)} × kept${worse > WORSE ? ' WORSE' : ''}`;
}

function printed(rows: readonly Row[], kept: KeptTopic | undefined, yardstick: number): string {
  const named = fullyNamed(rows);
  const lines = rows.map((row, index) => {
    const speed = row.timesRealTime === undefined ? '' : `${figure(row.timesRealTime)} × real time`;
    const columns = [
      row.what.padEnd(48),
      figure(row.value).padStart(9),
      row.unit.padEnd(10),
      speed.padStart(22),
      verdict(row).padEnd(14),
      change(named[index]!, kept, yardstick),
    ];
    return columns.join('  ').trimEnd();
  });
  return `${lines.join('\n')}\n`;
}

/** Nothing when only the usage is asked for; what cannot be read chooses no topic. */
function optionsOf(args: string[]): { json?: boolean; keep?: boolean; only?: string } | undefined {
  const options = {
    json: { type: 'boolean' },
    keep: { type: 'boolean' },
    only: { type: 'string' },
    help: { type: 'boolean' },
  } as const;
  try {
    const { help, ...values } = parseArgs({ args, options }).values;
    return help === true ? undefined : values;
  } catch (error) {
    process.stderr.write(`${(error as Error).message}\n`);
    return { only: '' };
  }
}

type Measured = { readonly topic: string; readonly yardstickMs: number; readonly rows: readonly Row[] };

async function measuredHere(topic: Topic): Promise<Measured> {
  const yardstick = yardstickMs();
  return { topic: topic.name, yardstickMs: yardstick, rows: await topic.measure() };
}

/** What a topic leaves in memory, and what the compiler has learnt from it, is no part of the next. */
async function measuredApart({ name }: Topic): Promise<Measured> {
  const program = fileURLToPath(import.meta.url);
  const { stdout } = await promisify(execFile)(process.execPath, [program, '--only', name, '--json']);
  return (JSON.parse(stdout) as { results: [Measured] }).results[0];
}

async function main(): Promise<void> {
  const values = optionsOf(process.argv.slice(2));
  if (values === undefined) {
    process.stdout.write(USAGE);
    return;
  }
  const chosen = TOPICS.filter(({ name }) => values.only === undefined || name === values.only);
  if (chosen.length === 0) {
    process.stderr.write(USAGE);
    process.exitCode = 2;
    return;
  }
  const machine = `Node ${process.version}, ${availableParallelism()} × ${cpus()[0]?.model ?? 'unknown processor'}`;
  const results: Measured[] = [];
  const baseline = readBaseline();
  if (values.json !== true) process.stdout.write(`${machine}\n`);
  for (const topic of chosen) {
    const measured = await (chosen.length === 1 ? measuredHere(topic) : measuredApart(topic));
    results.push(measured);
    if (values.json !== true)
      process.stdout.write(
        `\n${topic.title}\n${printed(measured.rows, baseline[topic.name], measured.yardstickMs)}`,
      );
  }
  if (values.keep === true)
    keepBaseline(
      Object.fromEntries(
        results.map(({ topic, yardstickMs: ms, rows }) => [topic, keptOf(machine, ms, fullyNamed(rows))]),
      ),
    );
  if (values.json === true) process.stdout.write(`${JSON.stringify({ machine, results }, undefined, 2)}\n`);
}

// A reader that goes away (`npm run bench | head`) ends it quietly.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit();
  throw error;
});

tuneForManyJobs();
await main();
