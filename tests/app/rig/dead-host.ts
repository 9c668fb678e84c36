// A host that dies in the middle of a job on a rig, and what a new one finds.
import { type LeftOpen, readLeftOpen } from '../../../app/records/left-open.ts';
import { JobRecorder } from '../../../app/records/recorder.ts';
import type { Looked, ResumeParts } from '../../../app/records/resume.ts';
import type { Store } from '../../../app/records/store.ts';
import { runRigJob } from '../../../app/rig/job.ts';
import { lookOnRig } from '../../../app/rig/resume.ts';
import type { ScanLoop, ScanSeen } from '../../../app/run/loop.ts';
import { operatorAt } from '../../../app/run/session.ts';
import type { Stage } from '../../../controller/stages.ts';
import type { VirtualMachine } from './virtual-machine.ts';

export const calendar = (): number => Date.UTC(2026, 5, 1);
const throwing = (problem: Error): never => {
  throw problem;
};

export type Dies = (seen: ScanSeen, loop: ScanLoop) => boolean;
export const at =
  (timeMs: number): Dies =>
  ({ nowMs }) =>
    nowMs >= timeMs;
/** So long after a stage has begun. */
export const inStage =
  (stage: Stage, afterMs: number): Dies =>
  ({ nowMs }, { state }) =>
    state.visits.some((visit) => visit.stage === stage && nowMs >= visit.startedAtMs + afterMs);

/** A job on a rig whose host dies; the board drops everything by itself. */
export async function hostDies(far: VirtualMachine, store: Store, dies: Dies): Promise<void> {
  const { session, time } = far;
  const { scenario, equipment } = session;
  const kept = {
    name: scenario.name,
    ticket: scenario.ticket,
    machine: "rig 'the test'",
    equipment,
    origin: { kind: 'rig', port: '/dev/ttyX', file: 'rig.json' } as const,
  };
  let loop: ScanLoop | undefined;
  await runRigJob(
    { name: scenario.name, ticket: scenario.ticket, equipment, rig: far.rig(), time },
    {
      operator: operatorAt(session),
      observers: [
        (seen) => {
          if (dies(seen, loop!)) loop!.die();
        },
      ],
      tell: () => {},
      recorder: new JobRecorder({ store, calendar, kept, tell: () => {} }),
      started: (begun) => {
        loop = begun;
      },
    },
  );
  await time.sleep(5_000);
}

export async function lookedAgain(far: VirtualMachine, store: Store) {
  const left = readLeftOpen(store, undefined)!;
  const rig = far.rig();
  await far.time.sleep(2_000);
  const on = { rig, time: far.time };
  const untilMs = far.time.nowMs() + 3_000;
  while (far.time.nowMs() < untilMs) {
    rig.tick();
    await far.time.sleep(50);
  }
  return { left, on, looked: await lookOnRig(left, on) };
}

export const resumeParts = (store: Store, left: LeftOpen, looked: Looked): ResumeParts => ({
  store,
  calendar,
  left,
  looked,
  failed: throwing,
});
