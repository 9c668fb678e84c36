// One scan of the controller, cold and warm.
import { freshProcess } from './fresh.ts';
import { prepareFullJob, runSplitJob } from './job.ts';
import { median, type Row, repeated, type Topic } from './row.ts';

const FRESH_RUNS = 5;
const WARM_UP_RUNS = 3;
const RUNS = 5;
/** A controller on a real machine has this long from one scan to the next. */
const SCAN_US = 100_000;

const meanUs = (scansMs: readonly number[]): number =>
  (1000 * scansMs.reduce((sum, ms) => sum + ms, 0)) / scansMs.length;

async function measure(): Promise<readonly Row[]> {
  const cold = await repeated(FRESH_RUNS, () => freshProcess(1, 'split'));
  await repeated(WARM_UP_RUNS, () => runSplitJob(prepareFullJob()));
  const warm = await repeated(RUNS, () => runSplitJob(prepareFullJob()));
  const coldUs = median(cold.map(({ split }) => split!.earlyScanUs));
  const warmUs = median(warm.map(({ scansMs }) => meanUs(scansMs)));
  const longestUs = 1000 * median(warm.map(({ scansMs }) => Math.max(...scansMs)));
  return [
    { what: 'mean of the first 5,000 scans', value: coldUs, unit: 'µs', timesRealTime: SCAN_US / coldUs },
    { what: 'mean, warm', value: warmUs, unit: 'µs', timesRealTime: SCAN_US / warmUs },
    { what: 'longest of a job, warm', value: longestUs, unit: 'µs', timesRealTime: SCAN_US / longestUs },
  ];
}

export const scan: Topic = { name: 'scan', title: 'One scan (clock included)', measure };
