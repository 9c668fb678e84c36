// `coldbench campaign`: many drawn jobs on the simulated bench, over all processors, kept in a file and summed up.
import { closeSync, openSync, writeFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { BUILT_IN_FILE, builtInPlan } from '../bench/built-in-plan.ts';
import { runCampaign } from '../bench/campaign.ts';
import { type Header, headerOf, jobsOf, lineOf, type Shard } from '../bench/campaign-file.ts';
import { campaignJob } from '../bench/campaign-job.ts';
import { checkPlan, scenarioOfJob } from '../bench/drawn.ts';
import { logicVersion } from '../bench/logic-version.ts';
import { MOST_JOBS, readPlan } from '../bench/plan.ts';
import { printedSummary } from '../bench/printed-summary.ts';
import { splitArguments } from './arguments.ts';
import { seedFrom, wholeFrom } from './bench-arguments.ts';
import { CampaignBar } from './campaign-progress.ts';
import { type CliCommand, InputError, type Terminal } from './command.ts';
import { EXIT } from './exit.ts';

const HELP = `Usage: coldbench campaign [PLAN.json] [--jobs N] [--seed S] [--workers K] [--shard I/N]
                          [--out FILE] [--report FILE.html]
       coldbench campaign [PLAN.json] [--seed S] --job N [--print-scenario]
       coldbench campaign --print-plan

Runs many jobs on the simulated bench, each drawn from the plan by a seed of its own, and prints what they come to:
quantiles, shares, and the worst jobs with the command that runs each of them again. Without a plan the built-in one is
used: cars and vans of all sizes on the good machine. docs/campaigns.md has the keys of a plan.

  --jobs N          how many (default: the plan's own number, else 100)
  --seed S          the seed of the whole campaign, 0 to 4294967295 (default 1); job N has the same seed in every shard
  --workers K       threads (default: as many as there are processors)
  --shard I/N       only the Ith of N parts; coldbench merge makes one file of them all
  --out FILE        a line for every job, in their order. A file that is there is gone on with, if it is the same campaign
  --report FILE     one HTML page with tables and plots, for print
  --job N           run this job alone and print its line
  --print-scenario  with --job: print its scenario instead, for coldbench run -
  --print-plan      print the built-in plan, to start one of your own from

The same plan, seed and number of jobs give the same file, byte for byte, however many threads and shards.
Ctrl-C stops; what is done stays in the file, and the same command goes on.

Exit status: 0 all jobs were run, whatever became of them, 1 stopped before, 2 bad input.
`;

const OPTIONS = {
  jobs: { type: 'string' },
  seed: { type: 'string' },
  workers: { type: 'string' },
  shard: { type: 'string' },
  out: { type: 'string' },
  report: { type: 'string' },
  job: { type: 'string' },
  'print-scenario': { type: 'boolean' },
  'print-plan': { type: 'boolean' },
} as const;

const MOST_WORKERS = 256;
const MOST_SHARDS = 100_000;

function shardFrom(text: string | undefined): Shard | undefined {
  if (text === undefined) return undefined;
  const [index = 0, of = 0] = (/^([1-9]\d*)\/([1-9]\d*)$/.exec(text) ?? []).slice(1).map(Number);
  if (of === 0 || index > of || of > MOST_SHARDS)
    throw new InputError(`--shard must be a part of a whole such as 2/8, counted from 1, not '${text}'`);
  return { index, of };
}

type Asked = {
  readonly path: string | undefined;
  readonly seed: number;
  readonly jobs: number | undefined;
  readonly workers: number;
  readonly shard: Shard | undefined;
  readonly out: string | undefined;
  readonly report: string | undefined;
  readonly job: number | undefined;
  readonly printScenario: boolean;
  readonly printPlan: boolean;
};

function readArguments(args: readonly string[]): Asked {
  const { values, positionals } = splitArguments(args, OPTIONS, 1);
  const asked: Asked = {
    path: positionals[0],
    seed: seedFrom(values.get('seed')) ?? 1,
    jobs: wholeFrom(values, 'jobs', MOST_JOBS),
    workers: wholeFrom(values, 'workers', MOST_WORKERS) ?? availableParallelism(),
    shard: shardFrom(values.get('shard')),
    out: values.get('out'),
    report: values.get('report'),
    job: wholeFrom(values, 'job', MOST_JOBS),
    printScenario: values.has('print-scenario'),
    printPlan: values.has('print-plan'),
  };
  checkTogether(asked);
  return asked;
}

function checkTogether({ job, printScenario, out, report, shard, path }: Asked): void {
  if (printScenario && job === undefined)
    throw new InputError('--print-scenario prints the scenario of one job; name it with --job N');
  if (job !== undefined && (out ?? report ?? shard) !== undefined)
    throw new InputError('--job runs one job and prints it; leave --out, --report and --shard out');
  if (path !== undefined && (out === path || report === path))
    throw new InputError(`${path} is the plan and would be overwritten; write to another file`);
  if (out !== undefined && out === report)
    throw new InputError('--out and --report name the same file; give each its own');
}

/** A word that a shell would take apart is put in quotes. */
const quoted = (word: string): string =>
  /^[\w./+:@%-]+$/.test(word) ? word : `'${word.replaceAll("'", "'\\''")}'`;

const commandFor = ({ path, seed }: Asked): string =>
  `npx coldbench campaign${path === undefined ? '' : ` ${quoted(path)}`} --seed ${seed}`;

function planFor({ path }: Asked) {
  const { plan, jobs } = path === undefined ? builtInPlan() : readPlan(path);
  checkPlan(plan, path ?? 'the built-in plan');
  return { plan, jobs };
}

const DEFAULT_JOBS = 100;

function headerFor(asked: Asked): Header {
  const { plan, jobs: planned } = planFor(asked);
  const jobs = asked.jobs ?? planned ?? DEFAULT_JOBS;
  const { seed, shard } = asked;
  if (shard !== undefined && shard.of > jobs)
    throw new InputError(
      `--shard ${shard.index}/${shard.of}: ${jobs} jobs have at most ${jobs} shards; take fewer`,
    );
  return headerOf({ logic: logicVersion(), seed, jobs, plan }, shard);
}

async function runOne(asked: Asked, job: number, terminal: Terminal): Promise<number> {
  const { plan } = planFor(asked);
  if (asked.printScenario)
    terminal.out(`${JSON.stringify(scenarioOfJob(plan, asked.seed, job), undefined, 2)}\n`);
  else terminal.out(lineOf(await campaignJob(plan, asked.seed, job)));
  return EXIT.completed;
}

/** Without a page it is only seen whether one could be written: nobody wants to hear after an hour that it cannot. */
function writeReport(path: string, page?: string): void {
  try {
    if (page === undefined) closeSync(openSync(path, 'a'));
    else writeFileSync(path, page);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    throw new InputError(
      `cannot write the report to ${path} (${code}); give --report a file that can be written`,
    );
  }
}

function wayOn({ jobs, shard, out }: Asked, command: string): string {
  if (out === undefined) return 'nothing was kept: --out FILE keeps what is done';
  const more = [
    jobs === undefined ? '' : ` --jobs ${jobs}`,
    shard === undefined ? '' : ` --shard ${shard.index}/${shard.of}`,
  ];
  return `go on with: ${command}${more.join('')} --out ${quoted(out)}`;
}

const clockMs = (): number => performance.now();

async function runAll(asked: Asked, terminal: Terminal): Promise<number> {
  const wanted = headerFor(asked);
  if (asked.report !== undefined) writeReport(asked.report);
  const bar = new CampaignBar(terminal, clockMs);
  const stop = new AbortController();
  const stopListening = terminal.onInterrupt?.(() => stop.abort());
  const command = commandFor(asked);
  try {
    const { out, workers } = asked;
    const { header, tally, progress } = await runCampaign({
      header: wanted,
      workers,
      out,
      stop: stop.signal,
      progress: (at) => bar.show(at),
    });
    bar.end();
    if (progress.done < progress.jobs) {
      terminal.err(
        `coldbench: stopped after ${progress.done} of ${progress.jobs} jobs; ${wayOn(asked, command)}\n`,
      );
      return EXIT.stopped;
    }
    const { summary } = tally;
    const again = (job: number): string => `${command} --job ${job}`;
    terminal.out(printedSummary(summary, again));
    if (asked.report !== undefined) {
      const { campaignReport } = await import('../bench/campaign-report.ts');
      writeReport(asked.report, campaignReport(header, jobsOf(header), summary, again));
    }
    return EXIT.completed;
  } finally {
    stopListening?.();
  }
}

export const campaign: CliCommand = {
  name: 'campaign',
  summary: 'many drawn jobs on the simulated bench: quantiles, shares, the worst seeds',
  help: HELP,
  async run(args: readonly string[], terminal: Terminal): Promise<number> {
    const asked = readArguments(args);
    if (asked.printPlan) {
      terminal.out(`${JSON.stringify(BUILT_IN_FILE, undefined, 2)}\n`);
      return EXIT.completed;
    }
    return asked.job === undefined ? runAll(asked, terminal) : runOne(asked, asked.job, terminal);
  },
};
