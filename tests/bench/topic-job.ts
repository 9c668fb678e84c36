// The whole job: as the first of a fresh process and warm, and where the time goes.
import { freshProcess } from './fresh.ts';
import { prepareFullJob, runJob, runSplitJob } from './job.ts';
import { median, type Row, repeated, type Topic } from './row.ts';

const FRESH_RUNS = 7;
const SPLIT_RUNS = 3;
const WARM_UP_RUNS = 5;
const WARM_RUNS = 9;

/** The limits are stated for a job of this length: 0.5 s and 0.25 s. */
const STATED_MS = 75 * 60_000;

/** On a machine that others use too: the least disturbed run, and what the thread itself worked. */
const undisturbed = (wallsMs: readonly number[], threadsMs: readonly number[]): readonly Row[] => [
  { what: `  fastest of ${wallsMs.length}`, value: Math.min(...wallsMs) / 1000, unit: 's' },
  { what: '  processor time of its thread', value: median(threadsMs) / 1000, unit: 's' },
];

async function cold(): Promise<readonly Row[]> {
  const runs = await repeated(FRESH_RUNS, () => freshProcess(1, 'plain'));
  const splits = await repeated(SPLIT_RUNS, () => freshProcess(1, 'split'));
  const { simulatedMs } = runs[0]!;
  const wallMs = median(runs.map(({ jobsMs }) => jobsMs[0]!));
  return [
    { what: 'simulated time', value: simulatedMs / 60_000, unit: 'min' },
    {
      what: 'first job of a process, scans + simulation',
      value: wallMs / 1000,
      unit: 's',
      timesRealTime: simulatedMs / wallMs,
      limit: { atMost: (0.5 * simulatedMs) / STATED_MS },
    },
    ...undisturbed(
      runs.map(({ jobsMs }) => jobsMs[0]!),
      runs.map(({ threadMs }) => threadMs[0]!),
    ),
    {
      what: '  of it plant and sensors',
      value: median(splits.map(({ split }) => split!.benchMs)) / 1000,
      unit: 's',
    },
    { what: '  of it scans', value: median(splits.map(({ split }) => split!.scansMs)) / 1000, unit: 's' },
  ];
}

async function warm(): Promise<readonly Row[]> {
  await repeated(WARM_UP_RUNS, () => runJob(prepareFullJob()));
  const runs = await repeated(WARM_RUNS, () => runJob(prepareFullJob()));
  const splits = await repeated(WARM_RUNS, () => runSplitJob(prepareFullJob()));
  const { simulatedMs } = runs[0]!;
  const wallMs = median(runs.map((run) => run.wallMs));
  return [
    {
      what: 'warm job, scans + simulation',
      value: wallMs / 1000,
      unit: 's',
      timesRealTime: simulatedMs / wallMs,
      limit: { atMost: (0.25 * simulatedMs) / STATED_MS },
    },
    ...undisturbed(
      runs.map((run) => run.wallMs),
      runs.map((run) => run.threadMs),
    ),
    { what: '  of it plant and sensors', value: median(splits.map((s) => s.benchMs)) / 1000, unit: 's' },
    {
      what: '  of it scans',
      value: median(splits.map((s) => s.scansMs.reduce((sum, ms) => sum + ms, 0))) / 1000,
      unit: 's',
    },
  ];
}

export const job: Topic = {
  name: 'job',
  title: 'Whole job (full-job.json)',
  measure: async () => [...(await cold()), ...(await warm())],
};
