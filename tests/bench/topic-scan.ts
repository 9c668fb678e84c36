// One scan of the controller, cold and warm.
import { freshProcess } from './fresh.ts';
import { prepareFullJob, runSplitJob } from './job.ts';
import { median, type Row, repeated, type Topic } from './row.ts';

const FRESH_RUNS = 5;
const WARM_UP_RUNS = 3;
const RUNS = 5;
/** A controller on a real machine has this long from one scan to the next. */
const SCAN_US = 100_000;
/** What is promised of a scan on one core. */
const MEAN_US = 4;
const P99_US = 50;

const meanUs = (scansMs: readonly number[]): number =>
  (1000 * scansMs.reduce((sum, ms) => sum + ms, 0)) / scansMs.length;

/** 99 of a hundred scans take no longer. */
function nearlyAllUs(scansMs: readonly number[]): number {
  const sorted = Float64Array.from(scansMs).sort();
  return 1000 * sorted[Math.floor(0.99 * sorted.length)]!;
}

async function measure(): Promise<readonly Row[]> {
  const cold = await repeated(FRESH_RUNS, () => freshProcess(1, 'split'));
  await repeated(WARM_UP_RUNS, () => runSplitJob(prepareFullJob()));
  const warm = await repeated(RUNS, () => runSplitJob(prepareFullJob()));
  const coldUs = median(cold.map(({ split }) => split!.earlyScanUs));
  const warmUs = median(warm.map(({ scansMs }) => meanUs(scansMs)));
  const p99Us = median(warm.map(({ scansMs }) => nearlyAllUs(scansMs)));
  const longestUs = 1000 * median(warm.map(({ scansMs }) => Math.max(...scansMs)));
  return [
    { what: 'mean of the first 5,000 scans', value: coldUs, unit: 'µs', timesRealTime: SCAN_US / coldUs },
    {
      what: 'mean, warm',
      value: warmUs,
      unit: 'µs',
      timesRealTime: SCAN_US / warmUs,
      limit: { atMost: MEAN_US },
    },
    {
      what: 'p99, warm',
      value: p99Us,
      unit: 'µs',
      timesRealTime: SCAN_US / p99Us,
      limit: { atMost: P99_US },
    },
    { what: 'longest of a job, warm', value: longestUs, unit: 'µs', timesRealTime: SCAN_US / longestUs },
  ];
}

export const scan: Topic = { name: 'scan', title: 'One scan (clock included)', measure };
