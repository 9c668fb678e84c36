// Runs the jobs of a campaign that are still to be run, keeps each in its file, and tallies them all.

import { ownModule } from '../own-module.ts';
import { CampaignFile, type Header, jobsOf } from './campaign-file.ts';
import type { JobRow } from './campaign-job.ts';
import type { JobOrder } from './campaign-worker.ts';
import { inOrder } from './pool.ts';
import { Tally } from './summary.ts';

const module = ownModule('campaign-worker', import.meta.url);

export type Campaign = {
  readonly header: Header;
  readonly workers: number;
  /** Left out, only the tally is kept. */
  readonly out: string | undefined;
  readonly stop: AbortSignal;
  /** Called before the first job and after every one. */
  readonly progress: (at: Progress) => void;
};

export type Progress = {
  /** Done altogether, of them by a run before, and how many there are. */
  readonly done: number;
  readonly before: number;
  readonly jobs: number;
};

export type CampaignRun = {
  /** As it stands in the file. */
  readonly header: Header;
  readonly tally: Tally;
  readonly progress: Progress;
};

function* ordersOf({ plan, seed }: Header, first: number, last: number): Generator<JobOrder> {
  for (let job = first; job <= last; job++) yield { job, seed, plan };
}

/**
 * Goes on where the file ends; stops early, with all that is done kept, when it is told to.
 * @throws InputError when the file is that of another campaign or cannot be written.
 */
export async function runCampaign({ header, workers, out, stop, progress }: Campaign): Promise<CampaignRun> {
  const { first, last } = jobsOf(header);
  const tally = new Tally();
  const file = out === undefined ? undefined : CampaignFile.open(out, header, (row) => tally.add(row));
  const before = tally.jobs;
  const at = (): Progress => ({ done: tally.jobs, before, jobs: last - first + 1 });
  try {
    progress(at());
    const orders = ordersOf(header, file?.next ?? first, last);
    const threads = Math.max(1, Math.min(workers, last - first + 1 - before));
    await inOrder<JobOrder, JobRow>({ module, workers: threads, stop }, orders, (row) => {
      file?.out.add(row);
      tally.add(row);
      progress(at());
    });
  } finally {
    file?.out.close();
  }
  return { header: file?.header ?? header, tally, progress: at() };
}
