// Runs one drawn job up to what its holds have decided, and keeps what was said beside what is true.

import { clockMs, fluidOnce, PACING } from '../../app/bench/whole-jobs.ts';
import { identify } from '../../app/run/identifier.ts';
import { runVirtual, ScanLoop } from '../../app/run/loop.ts';
import { SimulatedOperator } from '../../app/run/operator.ts';
import { prepare } from '../../app/run/prepare.ts';
import { toScenario } from '../../app/scenario/scenario.ts';
import { runningStage } from '../../controller/chart-state.ts';
import { type Plan, planJob } from '../../controller/plan.ts';
import { jobResult } from '../../controller/result.ts';
import { openJob } from '../../controller/scan.ts';
import type { ProfileName } from '../../sim/profiles.ts';
import { holdsScenario, type Origin, type Population } from './holds-scenario.ts';

/** How the vehicle is evacuated: as the controller does, or once and for the time that is common practice. */
export type Policy = 'adaptive' | 'fixed';

/** Common practice: 20 min for a system that was never open, 45 min for one that was. */
export const FIXED_MS = { unopened: 20 * 60_000, opened: 45 * 60_000 } as const;

/** Which machine does what to whom. */
export type Kind = {
  readonly profile: ProfileName;
  readonly policy: Policy;
  readonly population: Population;
};

export type HoldRow = {
  readonly seed: number;
  readonly origin: Origin;
  readonly ambientC: number;
  /** Free water at the start. */
  readonly waterG: number;
  readonly leakKgPerYear: number;
  /** `none`: the job did not come to a hold, or stopped in it. */
  readonly verdict: string;
  readonly cause?: string;
  readonly limitKgPerYear?: number;
  readonly holds: number;
  /** Watching in the last hold, s. */
  readonly holdS: number;
  readonly pumpedMinutes: number;
  /** All water left in the vehicle, in gas, oil and desiccant. */
  readonly waterLeftG: number;
};

const planFor = (plan: Plan, policy: Policy): Plan =>
  policy === 'adaptive'
    ? plan
    : {
        ...plan,
        evacuate: {
          ...plan.evacuate,
          unopenedMs: FIXED_MS.unopened,
          unopenedMostMs: FIXED_MS.unopened,
          openedMs: FIXED_MS.opened,
          openedMostMs: FIXED_MS.opened,
          enoughPa: 1e5,
        },
      };

/** A simulated operator answers what is asked before the holds have decided; then the job is let go. */
export async function holdsJob({ profile, policy, population }: Kind, seed: number): Promise<HoldRow> {
  const { origin, file } = holdsScenario(profile, seed, population, fluidOnce);
  const scenario = toScenario(file, file.name);
  const { bench, equipment, curve } = prepare(scenario, file.name, fluidOnce, clockMs);
  const planned = planJob(scenario.ticket, equipment, curve);
  if (!planned.ok) throw new Error(`${file.name}: ${planned.blockers[0]?.text}`);
  const operator = new SimulatedOperator(
    {
      operate: (action) => bench.operate(action),
      catchBottleM3: () => bench.catchBottleM3(),
      identify: () => identify(scenario.vehicle!, scenario.identifier, curve),
      leakedKg: () => bench.truth().leakedKg,
    },
    scenario.operatorDelayMs,
  );
  const state = openJob(planFor(planned.plan, policy), equipment, bench.nowMs());
  let waterLeftKg = bench.truth().vehicleWaterKg;
  const look = (): void => {
    const stage = runningStage(loop.state.chart);
    if (stage === 'evacuate') waterLeftKg = bench.truth().vehicleWaterKg;
    const past = policy === 'fixed' ? stage === 'hold' : stage === 'add-oil' || stage === 'charge';
    if (past) loop.die();
  };
  const loop = new ScanLoop({ rig: bench, state, operator, observers: [look] });
  await runVirtual(loop, bench, PACING);
  const result = jobResult(loop.state);
  const held = result.stages.filter(({ stage, endedAtMs }) => stage === 'hold' && endedAtMs !== undefined);
  const last = held.at(-1);
  const { hold } = result;
  const conclusive =
    last !== undefined &&
    result.stages.findLast(({ stage }) => stage === 'evacuate' || stage === 'hold')?.stage === 'hold';
  return {
    seed,
    origin,
    ambientC: Math.round(file.weather.ambientC * 10) / 10,
    waterG: file.vehicle.waterG,
    leakKgPerYear: file.vehicle.leakGPerYear / 1000,
    verdict: conclusive && hold !== undefined ? hold.verdict : 'none',
    ...(hold?.cause === undefined ? {} : { cause: hold.cause }),
    ...(hold === undefined ? {} : { limitKgPerYear: hold.detectionLimitKgPerYear }),
    holds: held.length,
    holdS: last?.endedAtMs === undefined ? 0 : (last.endedAtMs - last.startedAtMs) / 1000,
    pumpedMinutes: result.evacuation?.minutes ?? 0,
    waterLeftG: 1000 * waterLeftKg,
  };
}
