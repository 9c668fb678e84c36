// The records: ten thousand jobs listed, searched and opened; and what keeping a job costs.
import { mkdtempSync, rmSync } from 'node:fs';
import path from 'node:path';
import { clockMs } from '../../app/bench/whole-jobs.ts';
import { listJobs, readJob } from '../../app/records/jobs.ts';
import { benchRecorder } from '../../app/records/keep.ts';
import { entriesOfJob } from '../../app/records/ledger.ts';
import { Store } from '../../app/records/store.ts';
import { runSession } from '../../app/run/session.ts';
import { madeJob } from '../app/records/made.ts';
import { MEMORY } from '../memory.ts';
import { PACING, prepareFullJob, runJob } from './job.ts';
import { median, type Row, repeated, type Topic } from './row.ts';

const JOBS = 10_000;
const TIMES = 15;
const RUNS = 5;
const WARM_UP_RUNS = 6;
const COLOURS = ['red', 'blue', 'green', 'white', 'black'];

async function timed(work: () => unknown): Promise<number> {
  const times = await repeated(TIMES, async () => {
    const fromMs = clockMs();
    work();
    return clockMs() - fromMs;
  });
  return median(times);
}

function fill(store: Store): void {
  store.write(() => {
    for (let job = 0; job < JOBS; job++)
      madeJob(store, {
        name: `${COLOURS[job % COLOURS.length]} car ${job}`,
        at: new Date(Date.UTC(2020, 0, 1) + job * 3_600_000).toISOString(),
      });
  });
}

const threadMs = (): number => {
  const { user, system } = process.threadCpuUsage();
  return (user + system) / 1000;
};

async function recordedMs(
  folder: string,
  run: number,
): Promise<{ wallMs: number; cpuMs: number; writes: number }> {
  const store = new Store(path.join(folder, `job-${run}.db`));
  try {
    const session = prepareFullJob();
    const recorder = benchRecorder(store, session, 'the bench', { tell: () => {}, failed: () => {} });
    const startedMs = threadMs();
    const { wallMs } = await runSession(session, { recorder, observers: [], pacing: PACING });
    const { n } = store.one('SELECT count(*) AS n FROM journal')!;
    return { wallMs, cpuMs: threadMs() - startedMs, writes: Number(n) };
  } finally {
    store.close();
  }
}

async function measure(): Promise<readonly Row[]> {
  const folder = mkdtempSync(path.join(MEMORY, 'coldbench-bench-'));
  try {
    const file = path.join(folder, 'many.db');
    const store = new Store(file);
    fill(store);
    const listed = { atMost: 50 };
    const rows: Row[] = [
      {
        what: 'newest 50 of 10,000 jobs',
        value: await timed(() => listJobs(store, {})),
        unit: 'ms',
        limit: listed,
      },
      {
        what: 'a job found by two words',
        value: await timed(() => listJobs(store, { words: ['blue', '4321'] })),
        unit: 'ms',
        limit: listed,
      },
      {
        what: 'a word that no job has',
        value: await timed(() => listJobs(store, { words: ['lorry'] })),
        unit: 'ms',
        limit: listed,
      },
      {
        what: 'one job opened, with its ledger',
        value: await timed(() => [readJob(store, 5_000), entriesOfJob(store, 5_000)]),
        unit: 'ms',
        limit: { atMost: 200 },
      },
      {
        what: 'the file opened',
        value: await timed(() => new Store(file).close()),
        unit: 'ms',
        limit: { atMost: 200 },
      },
    ];
    store.close();
    let count = 0;
    await repeated(WARM_UP_RUNS, () => recordedMs(folder, count++));
    const pairs = await repeated(RUNS, async () => ({
      kept: await recordedMs(folder, count++),
      plain: await runJob(prepareFullJob()),
    }));
    const kept = pairs.map((pair) => pair.kept);
    const plain = pairs.map((pair) => pair.plain);
    return [
      ...rows,
      { what: 'a whole job that is kept', value: median(kept.map(({ wallMs }) => wallMs)) / 1000, unit: 's' },
      { what: '  its processor time', value: median(kept.map(({ cpuMs }) => cpuMs)), unit: 'ms' },
      { what: '  rows of its journal', value: kept[0]!.writes, unit: '' },
      { what: 'a whole job that is not', value: median(plain.map(({ wallMs }) => wallMs)) / 1000, unit: 's' },
      { what: '  its processor time', value: median(plain.map(({ threadMs: ms }) => ms)), unit: 'ms' },
    ];
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

export const records: Topic = { name: 'records', title: 'Records', measure };
