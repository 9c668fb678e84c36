// One scenario made into a job on the simulated bench, and run to its end.
import type { Equipment } from '../../controller/equipment.ts';
import type { Blocker } from '../../controller/notice.ts';
import { planJob } from '../../controller/plan.ts';
import { jobResult } from '../../controller/result.ts';
import type { SaturationCurve } from '../../controller/saturation.ts';
import { openJob } from '../../controller/scan.ts';
import type { Bench } from '../../sim/bench.ts';
import { createBench } from '../../sim/bench.ts';
import { drawBuild } from '../../sim/build.ts';
import { findFluid } from '../../sim/fluids/fluid.ts';
import { FluidTables } from '../../sim/fluids/tables.ts';
import { PROFILES } from '../../sim/profiles.ts';
import { equipmentFor } from '../scenario/equipment.ts';
import { checkRoom } from '../scenario/room.ts';
import type { Scenario } from '../scenario/scenario.ts';
import type { RunFacts } from './document.ts';
import { type Observer, type Pacing, runVirtual, ScanLoop } from './loop.ts';
import { SimulatedOperator } from './operator.ts';
import { saturationCurve } from './saturation.ts';

/** What is built once for a refrigerant and shared by every run with it. */
export type FluidData = { readonly tables: FluidTables; readonly curve: SaturationCurve };

/** @throws Error for a name that is not in the list of fluids; scenarios have been checked against that list. */
export function fluidData(refrigerant: string): FluidData {
  const fluid = findFluid(refrigerant);
  if (fluid === undefined) throw new Error(`no fluid data for ${refrigerant}`);
  const tables = new FluidTables(fluid);
  return { tables, curve: saturationCurve(fluid, tables) };
}

/** A scenario with everything it needs, checked and ready. */
export type Session = {
  readonly scenario: Scenario;
  readonly equipment: Equipment;
  readonly bench: Bench;
  /** The curve of the ticket's refrigerant, for the plan. */
  readonly curve: SaturationCurve;
  readonly tablesMs: number;
};

/**
 * @param fluids builds or remembers the data of a refrigerant.
 * @throws InputError when what the scenario puts into vehicle or tank does not fit there.
 */
export function prepare(
  scenario: Scenario,
  source: string,
  fluids: (refrigerant: string) => FluidData,
  wallClockMs: () => number,
): Session {
  const startedMs = wallClockMs();
  const plant = fluids(scenario.tank.refrigerant);
  const asked =
    scenario.ticket.refrigerant === scenario.tank.refrigerant ? plant : fluids(scenario.ticket.refrigerant);
  const tablesMs = wallClockMs() - startedMs;
  checkRoom(scenario, plant.curve, source);
  const { seed, weather, vehicle, tank } = scenario;
  const build = drawBuild(PROFILES[scenario.equipment.profile], seed, scenario.build);
  return {
    scenario,
    equipment: equipmentFor(scenario.equipment, tank, plant.curve),
    bench: createBench({ seed, weather, vehicle, tank, build }, plant.tables),
    curve: asked.curve,
    tablesMs,
  };
}

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
