// What the tests of the records share: a small store with jobs in it, and recorded runs on the bench.
import { mkdtempSync } from 'node:fs';
import path from 'node:path';
import { clockMs, fluidOnce, PACING } from '../../../app/bench/whole-jobs.ts';
import { benchRecorder } from '../../../app/records/keep.ts';
import type { JobRecorder } from '../../../app/records/recorder.ts';
import { Store } from '../../../app/records/store.ts';
import type { RunFacts } from '../../../app/run/document.ts';
import type { ScanLoop, ScanSeen } from '../../../app/run/loop.ts';
import { prepare, type Session } from '../../../app/run/prepare.ts';
import { runSession } from '../../../app/run/session.ts';
import { toScenario } from '../../../app/scenario/scenario.ts';
import { MEMORY } from '../../memory.ts';

let folder: string | undefined;
export const recordsFolder = (): string => {
  folder ??= mkdtempSync(path.join(MEMORY, 'coldbench-records-'));
  return folder;
};

let files = 0;
export const newFile = (): string => {
  files += 1;
  return path.join(recordsFolder(), `${files}.db`);
};

/** A small car: little to recover, little to charge. */
export const CAR = {
  name: 'a small car',
  seed: 4,
  weather: { ambientC: 25 },
  ticket: { refrigerant: 'R-134a', nominalChargeG: 400, engine: 'cannot-run' },
  vehicle: { chargeG: 300, volumeL: 1.5 },
  tank: { contentKg: 8 },
  operator: { delayS: 2 },
};

export type Recorded = {
  readonly session: Session;
  readonly recorder: JobRecorder;
  readonly facts: RunFacts;
  readonly loop: ScanLoop | undefined;
  readonly told: readonly string[];
};

export type Hooks = {
  readonly look?: (seen: ScanSeen, loop: ScanLoop, session: Session) => void;
  readonly prepared?: (session: Session) => void;
};

/** One job kept in a store; it ends, or its process is as good as dead once `look` lets the loop die. */
export async function recordedRun(store: Store, file: object = CAR, hooks: Hooks = {}): Promise<Recorded> {
  const session = prepare(toScenario(file, 'the test'), 'the test', fluidOnce, clockMs);
  hooks.prepared?.(session);
  const told: string[] = [];
  let loop: ScanLoop | undefined;
  const recorder = benchRecorder(store, session, 'the test', {
    tell: (text) => told.push(text),
    failed: () => loop?.die(),
  });
  const facts = await runSession(session, {
    recorder,
    pacing: PACING,
    started: (begun) => {
      loop = begun;
    },
    observers: [(seen) => hooks.look?.(seen, loop!, session)],
  });
  return { session, recorder, facts, loop, told };
}

export async function completeRun(store: Store, file: object = CAR): Promise<Recorded> {
  const run = await recordedRun(store, file);
  run.recorder.finish(run.loop!.state, run.facts);
  return run;
}

export const withStore = async <T>(file: string, work: (store: Store) => T | Promise<T>): Promise<T> => {
  const store = new Store(file);
  try {
    return await work(store);
  } finally {
    store.close();
  }
};
