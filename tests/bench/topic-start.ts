// Cold against warm: from the start of a process to the first scan, and how fast jobs get faster.
import { freshProcess } from './fresh.ts';
import { median, type Row, repeated, type Topic } from './row.ts';

const STARTS = 5;
const PROCESSES = 3;
const JOBS = [1, 2, 5, 10];

async function measure(): Promise<readonly Row[]> {
  const starts = await repeated(STARTS, () => freshProcess(1, 'split'));
  const processes = await repeated(PROCESSES, () => freshProcess(Math.max(...JOBS), 'plain'));
  const { simulatedMs } = processes[0]!;
  return [
    { what: 'process start to code loaded', value: median(starts.map((s) => s.loadedAtMs)), unit: 'ms' },
    { what: '  to job prepared', value: median(starts.map((s) => s.preparedAtMs)), unit: 'ms' },
    { what: '  to first scan', value: median(starts.map((s) => s.split!.firstScanAtMs)), unit: 'ms' },
    ...JOBS.map((count) => {
      const wallMs = median(processes.map(({ jobsMs }) => jobsMs[count - 1]!));
      return {
        what: `job number ${count} in one process`,
        value: wallMs / 1000,
        unit: 's',
        timesRealTime: simulatedMs / wallMs,
      };
    }),
  ];
}

export const start: Topic = { name: 'start', title: 'Cold start and warm-up', measure };
