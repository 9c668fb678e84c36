// A process of its own that runs the full job so many times and prints what each run took, for the cold figures.
// Usage: node one-process.ts RUNS plain|split
import { clockMs } from '../../app/bench/whole-jobs.ts';
import { prepareFullJob, runJob, runSplitJob } from './job.ts';
import { repeated } from './row.ts';

/** Scans before the compilers have seen much of them. */
const EARLY_SCANS = 5_000;

export type OneProcess = {
  readonly loadedAtMs: number;
  readonly tablesMs: number;
  readonly preparedAtMs: number;
  readonly jobsMs: readonly number[];
  /** Processor time of the thread that runs them, without compilers and collectors beside it. */
  readonly threadMs: readonly number[];
  readonly simulatedMs: number;
  /** Of the first job; only with `split`. */
  readonly split?: {
    readonly firstScanAtMs: number;
    readonly benchMs: number;
    readonly scansMs: number;
    readonly earlyScanUs: number;
  };
};

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);

async function measure(runs: number, split: boolean): Promise<OneProcess> {
  const loadedAtMs = clockMs();
  const session = prepareFullJob();
  const preparedAtMs = clockMs();
  const { tablesMs } = session;
  const start = { loadedAtMs, tablesMs, preparedAtMs };
  if (split) {
    const { wallMs, threadMs, simulatedMs, benchMs, scansMs, firstScanAtMs } = await runSplitJob(session);
    const early = scansMs.slice(0, EARLY_SCANS);
    const earlyScanUs = (1000 * sum(early)) / early.length;
    return {
      ...start,
      jobsMs: [wallMs],
      threadMs: [threadMs],
      simulatedMs,
      split: { firstScanAtMs, benchMs, scansMs: sum(scansMs), earlyScanUs },
    };
  }
  const jobs = await repeated(runs, () => runJob(prepareFullJob()));
  return {
    ...start,
    jobsMs: jobs.map(({ wallMs }) => wallMs),
    threadMs: jobs.map(({ threadMs }) => threadMs),
    simulatedMs: jobs[0]?.simulatedMs ?? 0,
  };
}

const [runs, mode] = process.argv.slice(2);
process.stdout.write(JSON.stringify(await measure(Number(runs), mode === 'split')));
