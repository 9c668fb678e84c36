// Campaigns: how fast jobs of the built-in plan run on one thread and on two, and what memory that takes.
import { builtInPlan } from '../../app/bench/built-in-plan.ts';
import { runCampaign } from '../../app/bench/campaign.ts';
import { headerOf } from '../../app/bench/campaign-file.ts';
import { clockMs } from '../../app/bench/whole-jobs.ts';
import type { Row, Topic } from './row.ts';

const JOBS = 120;
/**
 * Start and end tell nothing of the speed of a long campaign: first there is more to compile, on processors that two threads
 * already fill, and at the end not every thread has a job.
 */
const FROM = 24;
const TO = JOBS - 6;
/** What is promised is a campaign of so many jobs on two processors. */
const PROMISED_JOBS = 1000;
const PROMISED_S = 300;
const PROMISED_MB = 500;
const PROMISED_GAIN = 1.9;

type Run = {
  /** Of a job, while every thread has one. */
  readonly perJobS: number;
  /** Of the process with all its threads, when half the jobs were done and at its most. */
  readonly halfwayMb: number;
  readonly mostMb: number;
};

async function ran(workers: number): Promise<Run> {
  const header = headerOf({ logic: 'bench', seed: 1, jobs: JOBS, plan: builtInPlan().plan });
  let fromMs = 0;
  let toMs = 0;
  let halfwayMb = 0;
  let mostMb = 0;
  await runCampaign({
    header,
    workers,
    out: undefined,
    stop: new AbortController().signal,
    progress: ({ done }) => {
      const mb = process.memoryUsage.rss() / 1e6;
      mostMb = Math.max(mostMb, mb);
      if (done === FROM) fromMs = clockMs();
      if (done === TO) toMs = clockMs();
      if (done === JOBS / 2) halfwayMb = mostMb;
    },
  });
  return { perJobS: (toMs - fromMs) / 1000 / (TO - FROM), halfwayMb, mostMb };
}

async function measure(): Promise<readonly Row[]> {
  const two = await ran(2);
  const one = await ran(1);
  return [
    { what: 'a job on one thread', value: one.perJobS, unit: 's' },
    { what: 'a job on two threads', value: two.perJobS, unit: 's' },
    {
      what: 'one thread over two',
      value: one.perJobS / two.perJobS,
      unit: '×',
      limit: { atLeast: PROMISED_GAIN },
    },
    {
      what: `${PROMISED_JOBS} jobs on two threads, at that speed`,
      value: two.perJobS * PROMISED_JOBS,
      unit: 's',
      limit: { atMost: PROMISED_S },
    },
    { what: 'memory of two threads, halfway', value: two.halfwayMb, unit: 'MB' },
    { what: '  at its most', value: two.mostMb, unit: 'MB', limit: { atMost: PROMISED_MB } },
  ];
}

export const campaign: Topic = { name: 'campaign', title: 'Campaign (built-in plan)', measure };
