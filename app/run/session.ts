// One prepared scenario planned as a job and run to its end.
import type { Blocker } from '../../controller/notice.ts';
import { planJob } from '../../controller/plan.ts';
import { jobResult } from '../../controller/result.ts';
import { openJob } from '../../controller/scan.ts';
import type { RunFacts } from './document.ts';
import { type Observer, type Pacing, runVirtual, ScanLoop } from './loop.ts';
import { SimulatedOperator } from './operator.ts';
import type { Session } from './prepare.ts';

function refused({ scenario, bench, tablesMs }: Session, blockers: readonly Blocker[]): RunFacts {
  const times = { simulatedMs: 0, wallMs: 0, tablesMs };
  return { outcome: 'refused', ticket: scenario.ticket, blockers, truth: bench.truth(), ...times };
}

export type Onlookers = {
  readonly observers: readonly Observer[];
  readonly pacing: Pacing;
  /** Called with the loop before its first scan, for whoever wants to send it events. */
  readonly started?: (loop: ScanLoop) => void;
};

/** Plans the job and, unless it is refused, runs it to its end. */
export async function runSession(session: Session, onlookers: Onlookers): Promise<RunFacts> {
  const { scenario, equipment, bench, curve, tablesMs } = session;
  const planned = planJob(scenario.ticket, equipment, curve);
  if (!planned.ok) return refused(session, planned.blockers);
  const operator = new SimulatedOperator(
    { operate: (action) => bench.operate(action), refrigerant: scenario.vehicle.refrigerant },
    scenario.operatorDelayMs,
  );
  const state = openJob(planned.plan, equipment, bench.nowMs());
  const loop = new ScanLoop({ rig: bench, state, operator, observers: onlookers.observers });
  onlookers.started?.(loop);
  const { simulatedMs, wallMs } = await runVirtual(loop, bench, onlookers.pacing);
  const result = jobResult(loop.state);
  return {
    outcome: result.outcome === 'completed' ? 'completed' : 'stopped',
    ticket: scenario.ticket,
    result,
    blockers: [],
    truth: bench.truth(),
    simulatedMs,
    wallMs,
    tablesMs,
  };
}
