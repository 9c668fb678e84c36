// A whole job that can be stood still at any scan, saved there, and gone on with on another bench.

import { clockMs, fluidOnce } from '../../app/bench/whole-jobs.ts';
import { SCAN_MS, ScanLoop } from '../../app/run/loop.ts';
import type { SimulatedOperator } from '../../app/run/operator.ts';
import { prepare, type Session } from '../../app/run/prepare.ts';
import { operatorAt } from '../../app/run/session.ts';
import { planSession } from '../../app/run/tank-look.ts';
import { toScenario } from '../../app/scenario/scenario.ts';
import { openJob } from '../../controller/scan.ts';
import type { ControllerState } from '../../controller/state.ts';
import type { BenchState } from '../../sim/bench.ts';

export const sessionOf = (file: unknown): Session =>
  prepare(toScenario(file, 'the scenario'), 'the scenario', fluidOnce, clockMs);

/** Everything that a job consists of between two scans, as plain data. */
export type Moment = {
  readonly nowMs: number;
  readonly state: ControllerState;
  readonly bench: BenchState;
  readonly operator: ReturnType<SimulatedOperator['save']>;
};

export class SteppedJob {
  readonly session: Session;
  readonly operator: SimulatedOperator;
  readonly loop: ScanLoop;
  nowMs: number;

  private constructor(session: Session, state: ControllerState, nowMs: number) {
    this.session = session;
    this.operator = operatorAt(session);
    this.loop = new ScanLoop({ rig: session.bench, state, operator: this.operator, observers: [] });
    this.nowMs = nowMs;
  }

  /** @throws Error where the job is refused. */
  static open(session: Session): SteppedJob {
    const planned = planSession(session);
    if (!planned.ok) throw new Error(planned.blockers.map(({ code }) => code).join());
    const nowMs = session.bench.nowMs();
    return new SteppedJob(session, openJob(planned.plan, session.equipment, nowMs), nowMs);
  }

  /** Goes on from a moment of a job with the same scenario; the session's own bench is overwritten. */
  static at(session: Session, moment: Moment): SteppedJob {
    session.bench.restore(moment.bench);
    const job = new SteppedJob(session, moment.state, moment.nowMs);
    job.operator.restore(moment.operator);
    return job;
  }

  save(): Moment {
    const { nowMs, loop, session, operator } = this;
    return { nowMs, state: loop.state, bench: session.bench.save(), operator: operator.save() };
  }

  step() {
    this.nowMs += SCAN_MS;
    this.session.bench.advanceTo(this.nowMs);
    return this.loop.turn(this.nowMs);
  }
}
