// How the cost grows with the length of a job: the same job with a longer evacuation.

import { identify } from '../../app/run/identifier.ts';
import { runVirtual, ScanLoop } from '../../app/run/loop.ts';
import { SimulatedOperator } from '../../app/run/operator.ts';
import { type Plan, planJob } from '../../controller/plan.ts';
import { openJob } from '../../controller/scan.ts';
import { type JobTimes, PACING, prepareFullJob } from './job.ts';
import { median, type Row, repeated, type Topic } from './row.ts';

const WARM_UP_RUNS = 8;
const RUNS = 5;
const FACTORS = [1, 2, 4];

/** Off by more, the job is not as long as its row says. */
const LENGTH_SHARE = 0.02;

/** The first evacuation takes the added time: no vacuum is deep enough to end it before. */
function stretched(plan: Plan, addedMs: number): Plan {
  const { evacuate } = plan;
  const { unopenedMostMs, timeoutMs } = evacuate;
  return {
    ...plan,
    evacuate: {
      ...evacuate,
      targetPa: 0,
      unopenedMostMs: unopenedMostMs + addedMs,
      timeoutMs: timeoutMs + addedMs,
    },
  };
}

async function longerJob(addedMs: number): Promise<JobTimes> {
  const { scenario, equipment, bench, curve } = prepareFullJob();
  const planned = planJob(scenario.ticket, equipment, curve);
  if (!planned.ok) throw new Error('the full job was refused');
  const operator = new SimulatedOperator(
    {
      operate: (action) => bench.operate(action),
      catchBottleM3: () => bench.catchBottleM3(),
      identify: () => identify(scenario.vehicle!, scenario.identifier, curve),
      leakedKg: () => bench.truth().leakedKg,
    },
    scenario.operatorDelayMs,
  );
  const state = openJob(stretched(planned.plan, addedMs), equipment, bench.nowMs());
  const loop = new ScanLoop({ rig: bench, state, operator, observers: [] });
  return runVirtual(loop, bench, PACING);
}

async function measure(): Promise<readonly Row[]> {
  const rows: Row[] = [];
  const [{ simulatedMs: plainMs }] = (await repeated(WARM_UP_RUNS, () => longerJob(0))) as [JobTimes];
  for (const factor of FACTORS) {
    const runs = await repeated(RUNS, () => longerJob((factor - 1) * plainMs));
    const { simulatedMs } = runs[0]!;
    if (Math.abs(simulatedMs / (factor * plainMs) - 1) > LENGTH_SHARE)
      throw new Error(`${simulatedMs} ms are not ${factor} × ${plainMs} ms`);
    const wallMs = median(runs.map((run) => run.wallMs));
    rows.push(
      {
        what: `${factor} × as long: ${(simulatedMs / 60_000).toFixed(0)} simulated minutes`,
        value: wallMs / 1000,
        unit: 's',
        timesRealTime: simulatedMs / wallMs,
      },
      { what: '  per simulated second', value: (1000 * wallMs) / (simulatedMs / 1000), unit: 'µs' },
    );
  }
  return rows;
}

export const length: Topic = { name: 'length', title: 'Growth with the length of the job, warm', measure };
