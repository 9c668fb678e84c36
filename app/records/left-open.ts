// Reads a job that was left open out of the records: the controller's last state, its last words, and its simulated bench.
import type { Weighing } from '../../controller/estimates/masses.ts';
import type { Plan } from '../../controller/plan.ts';
import type { ControllerState } from '../../controller/state.ts';
import type { BenchState } from '../../sim/bench.ts';
import type { LeftOff } from '../bench/recording.ts';
import { InputError } from '../cli/command.ts';
import { runningElsewhere } from './holder.ts';
import { type JobRecord, openJobs, readJob } from './jobs.ts';
import { type Used, unpackState, unpackWorld, withDoubt } from './packed.ts';
import { bytesIn, numberIn, type Store, textIn } from './store.ts';

export type LeftOpen = {
  readonly record: JobRecord;
  readonly state: ControllerState;
  readonly used: Used;
  /** This version of the controller has written the state. */
  readonly isOurs: boolean;
  readonly lastWords: { readonly at: string; readonly kind: string; readonly atMs: number };
  readonly lastIntent: readonly string[];
  /** The tank as it was weighed for a choice that was the last word: what went on from there had not read the scale yet. */
  readonly weighedForChoice: Weighing | undefined;
  readonly traceParts: number;
  /** Where a simulated bench stood when it was last written down; absent on a rig. */
  readonly world: { readonly state: BenchState; readonly atMs: number } | undefined;
};

function worldOf(store: Store, job: number): LeftOpen['world'] {
  const row = store.one('SELECT at_ms, state FROM worlds WHERE job = ?', job);
  if (row === undefined) return undefined;
  try {
    return { state: unpackWorld(bytesIn(row, 'state')), atMs: numberIn(row, 'at_ms') };
  } catch {
    throw new InputError(
      `the simulated bench of job ${job} was written by another version and cannot be put back; close the job: --choose close`,
    );
  }
}

/** What a recording of the job needs, once it is taken up, beside plan and equipment. */
export function leftOff({ state, lastIntent }: LeftOpen): LeftOff {
  const { plan: _plan, equipment: _equipment, ...rest } = state;
  return { state: rest, opened: lastIntent };
}

/** @throws InputError when there is none, or when a process is still at it. */
export function readLeftOpen(store: Store, id: number | undefined): LeftOpen | undefined {
  const open = openJobs(store);
  const line = id === undefined ? open[0] : open.find((job) => job.id === id);
  if (line === undefined) return undefined;
  if (id === undefined && open.length > 1)
    throw new InputError(
      `more than one job is open: ${open.map((job) => `${job.id} on ${job.machine}`).join(', ')}; say which with --job N`,
    );
  const record = readJob(store, line.id)!;
  const pid = runningElsewhere(record.holder);
  if (pid !== undefined)
    throw new InputError(
      `job ${line.id} is running in process ${pid}; wait until it is done, or end that first`,
    );
  const packed = store.one('SELECT state FROM checkpoints WHERE job = ?', line.id);
  if (packed === undefined)
    throw new InputError(`job ${line.id} has no state to resume from; see docs/records.md`);
  const plan = JSON.parse(record.plan) as Plan;
  const { state, used, isOurs } = unpackState(bytesIn(packed, 'state'), plan, record.equipment);
  const last = store.one(
    'SELECT written_at, kind, at_ms, body FROM journal WHERE job = ? ORDER BY id DESC',
    line.id,
  );
  const intent = store.one(
    "SELECT body FROM journal WHERE job = ? AND kind = 'intent' ORDER BY id DESC",
    line.id,
  );
  const parts = store.one('SELECT count(*) AS n FROM traces WHERE job = ?', line.id);
  return {
    record,
    state,
    used,
    isOurs,
    lastWords: {
      at: textIn(last, 'written_at'),
      kind: textIn(last, 'kind'),
      atMs: numberIn(last, 'at_ms'),
    },
    lastIntent:
      intent === undefined
        ? []
        : Object.keys((JSON.parse(textIn(intent, 'body')) as { opens: object }).opens),
    weighedForChoice:
      textIn(last, 'kind') === 'chosen'
        ? (JSON.parse(textIn(last, 'body'), withDoubt) as { weighed?: Weighing }).weighed
        : undefined,
    traceParts: numberIn(parts, 'n'),
    world: worldOf(store, line.id),
  };
}
