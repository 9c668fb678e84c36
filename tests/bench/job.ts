// The job that the benchmarks run, prepared and driven as the command line does it.
import { fileURLToPath } from 'node:url';
import { clockMs, fluidOnce } from '../../app/bench/whole-jobs.ts';
import { prepare, type Session } from '../../app/run/prepare.ts';
import { runSession } from '../../app/run/session.ts';
import { readScenario, type Scenario } from '../../app/scenario/scenario.ts';
import type { Commands } from '../../controller/signals.ts';
import type { Bench } from '../../sim/bench.ts';
import type { HandAction } from '../../sim/spec.ts';

const FULL_JOB = fileURLToPath(new URL('./full-job.json', import.meta.url));

const nextTurn = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));
/** As the command line does it, with a real turn of the event loop: its cost belongs to what is measured. */
export const PACING = { wallClockMs: clockMs, breathe: nextTurn };

export const fullJob = (): Scenario => readScenario(FULL_JOB);
export const prepareFullJob = (): Session => prepare(fullJob(), FULL_JOB, fluidOnce, clockMs);

export type JobTimes = { readonly wallMs: number; readonly simulatedMs: number };

/** With the processor time of this thread, which other work on the machine hardly touches. */
export type JobCost = JobTimes & { readonly threadMs: number };

function threadMs(): number {
  const { user, system } = process.threadCpuUsage();
  return (user + system) / 1000;
}

/** Runs it to its end. A job that does not complete is no measure of one that does. */
export async function runJob(session: Session): Promise<JobCost> {
  const startedMs = threadMs();
  const { outcome, wallMs, simulatedMs } = await runSession(session, { observers: [], pacing: PACING });
  if (outcome !== 'completed') throw new Error(`${FULL_JOB} ended as ${outcome}`);
  return { wallMs, simulatedMs, threadMs: threadMs() - startedMs };
}

/** The same bench with some of its methods replaced. */
const wrapped = (bench: Bench, replaced: Partial<Bench>): Bench => ({
  capabilities: bench.capabilities,
  nowMs: () => bench.nowMs(),
  readings: () => bench.readings(),
  apply: (commands) => bench.apply(commands),
  advanceTo: (timeMs) => bench.advanceTo(timeMs),
  operate: (action) => bench.operate(action),
  openVehicle: (open) => bench.openVehicle(open),
  switchFault: (fault, on) => bench.switchFault(fault, on),
  catchBottleM3: () => bench.catchBottleM3(),
  truth: () => bench.truth(),
  within: () => bench.within(),
  inspect: () => bench.inspect(),
  save: () => bench.save(),
  restore: (state) => bench.restore(state),
  ...replaced,
});

export type SplitTimes = JobCost & {
  /** Time of each scan: from the readings to the commands. */
  readonly scansMs: readonly number[];
  /** Plant and sensors. */
  readonly benchMs: number;
  /** From the start of the process. */
  readonly firstScanAtMs: number;
};

/** The same with a clock at both ends of every scan, which costs some 10 ms a job. */
export async function runSplitJob(session: Session): Promise<SplitTimes> {
  const { bench } = session;
  const scansMs: number[] = [];
  let benchMs = 0;
  let readAtMs = 0;
  let firstScanAtMs = Number.NaN;
  const times = await runJob({
    ...session,
    bench: wrapped(bench, {
      advanceTo: (timeMs) => {
        const startedMs = clockMs();
        bench.advanceTo(timeMs);
        benchMs += clockMs() - startedMs;
      },
      readings: () => {
        const readings = bench.readings();
        readAtMs = clockMs();
        if (scansMs.length === 0) firstScanAtMs = readAtMs;
        return readings;
      },
      apply: (commands) => {
        scansMs.push(clockMs() - readAtMs);
        bench.apply(commands);
      },
    }),
  });
  return { ...times, scansMs, benchMs, firstScanAtMs };
}

/** What a whole job did to the bench: the commands of every scan, and hands in between. */
export type Script = {
  readonly commands: readonly Commands[];
  readonly hands: ReadonlyMap<number, HandAction>;
};

export async function recordScript(): Promise<Script> {
  const session = prepareFullJob();
  const { bench } = session;
  const commands: Commands[] = [];
  const hands = new Map<number, HandAction>();
  await runJob({
    ...session,
    bench: wrapped(bench, {
      operate: (action) => {
        hands.set(commands.length, action);
        bench.operate(action);
      },
      apply: (wanted) => {
        commands.push(wanted);
        bench.apply(wanted);
      },
    }),
  });
  return { commands, hands };
}
