// One prepared scenario planned as a job and run to its end.
import { type AfterCut, isLeftOpen } from '../../controller/after-cut.ts';
import type { Blocker } from '../../controller/notice.ts';
import { jobResult } from '../../controller/result.ts';
import { type ControllerState, openJob } from '../../controller/scan.ts';
import { lookAfterCut } from './after-cut.ts';
import type { RunFacts } from './document.ts';
import { type FaultHistory, FaultSchedule, powerWasLost } from './faults.ts';
import { identify, sampledIn } from './identifier.ts';
import {
  type Journal,
  type Observer,
  type Pacing,
  runVirtual,
  SCAN_MS,
  ScanLoop,
  type VirtualRun,
} from './loop.ts';
import { SimulatedOperator } from './operator.ts';
import type { JobSession } from './prepare.ts';
import { planSession } from './tank-look.ts';

function refused(
  { scenario, bench, tablesMs }: JobSession,
  blockers: readonly Blocker[],
  faults: readonly FaultHistory[],
): RunFacts {
  const times = { simulatedMs: bench.nowMs(), wallMs: 0, tablesMs };
  const truth = bench.truth();
  const within = bench.within();
  return { outcome: 'refused', ticket: scenario.ticket, blockers, faults, truth, within, ...times };
}

/** The records of a job that is kept. */
export type Recorder = {
  /** What stands against another job by what has been recorded. */
  blockers(): readonly Blocker[];
  /** Opens the job's record, before anything is commanded. */
  begin(state: ControllerState): Journal;
};

export type Onlookers = {
  /** Left out, nothing is kept. */
  readonly recorder?: Recorder | undefined;
  readonly observers: readonly Observer[];
  readonly pacing: Pacing;
  /** Called with the loop before its first scan, for whoever wants to send it events. */
  readonly started?: (loop: ScanLoop) => void;
  /** Scans until the job has ended; left out: as fast as the processor goes. */
  readonly drive?: (loop: ScanLoop) => Promise<VirtualRun>;
};

/** By then every valve has shut and what was in flight has come to rest: the truth is told. */
export const VALVES_SHUT_MS = 5_000;

/** When the mains come back, in a scenario that says so. */
function powerBackAtMs(histories: readonly FaultHistory[]): number | undefined {
  const cut = histories.find(({ planned }) => planned.fault.fault === 'power-lost');
  if (cut?.onAtMs === undefined || cut.planned.forMs === undefined) return undefined;
  return Math.ceil((cut.onAtMs + cut.planned.forMs) / SCAN_MS) * SCAN_MS;
}

/** The simulated operator at this session's bench. */
export const operatorAt = ({ scenario, bench, tankCurve }: JobSession): SimulatedOperator =>
  new SimulatedOperator(
    {
      operate: (action) => bench.operate(action),
      catchBottleM3: () => bench.catchBottleM3(),
      repair: { openVehicle: (open) => bench.openVehicle(open), forMs: scenario.repairMs },
      identify: () => identify(sampledIn(scenario), scenario.identifier, tankCurve),
      leakedKg: () => bench.truth().leakedKg,
    },
    scenario.operatorDelayMs,
  );

/** Plans the job and, unless it is refused, runs it to its end. */
export async function runSession(session: JobSession, onlookers: Onlookers): Promise<RunFacts> {
  const { scenario, equipment, bench, tablesMs } = session;
  let loop: ScanLoop | undefined;
  const schedule = new FaultSchedule(scenario.faults, (fault, on) => {
    bench.switchFault(fault, on);
    if (fault.fault === 'power-lost') loop?.die();
  });
  // What is wrong from the start is so before anyone looks.
  schedule.look(bench.nowMs(), []);
  const planned = planSession(session);
  const recorded = onlookers.recorder?.blockers() ?? [];
  if (!planned.ok) return refused(session, [...planned.blockers, ...recorded], schedule.histories);
  if (recorded.length > 0) return refused(session, recorded, schedule.histories);
  const operator = operatorAt(session);
  const state = openJob(planned.plan, equipment, bench.nowMs());
  const observers = [...onlookers.observers];
  const journal = onlookers.recorder?.begin(state);
  const begun = new ScanLoop({ rig: bench, state, operator, observers, journal });
  loop = begun;
  if (scenario.faults.length > 0) observers.push(({ nowMs }) => schedule.look(nowMs, begun.state.visits));
  onlookers.started?.(begun);
  schedule.look(bench.nowMs(), state.visits);
  if (powerWasLost(schedule.histories)) begun.die();
  const { simulatedMs, wallMs } = await (onlookers.drive?.(begun) ??
    runVirtual(begun, bench, onlookers.pacing));
  if (powerWasLost(schedule.histories)) bench.advanceTo(bench.nowMs() + VALVES_SHUT_MS);
  const backAtMs = powerBackAtMs(schedule.histories);
  let afterCut: AfterCut | undefined;
  if (backAtMs !== undefined) {
    bench.advanceTo(Math.max(bench.nowMs(), backAtMs));
    schedule.look(bench.nowMs(), loop.state.visits);
    afterCut = lookAfterCut(begun.state, bench);
  }
  const leftOpen = !powerWasLost(schedule.histories) && isLeftOpen(begun.state);
  const afterStop = leftOpen ? lookAfterCut(begun.state, bench) : undefined;
  const result = jobResult(begun.state);
  return {
    outcome: result.outcome === 'completed' ? 'completed' : 'stopped',
    ticket: scenario.ticket,
    result,
    blockers: [],
    ...(afterCut === undefined ? {} : { afterCut }),
    ...(afterStop === undefined ? {} : { afterStop }),
    faults: schedule.histories,
    truth: bench.truth(),
    within: bench.within(),
    simulatedMs,
    wallMs,
    tablesMs,
  };
}
