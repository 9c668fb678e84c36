// Before a job: looks at the tank with every valve shut, so that ticket and tank are judged together.
import { planWithTank, tankAtRest } from '../../controller/begin.ts';
import { type Planned, planJob } from '../../controller/plan.ts';
import type { Readings } from '../../controller/signals.ts';
import { SCAN_MS } from './loop.ts';
import type { JobSession } from './prepare.ts';

/** One reading may be a spike. Whoever would refuse a job because of it looks again, and takes the median. */
const LOOKS_AGAIN = 8;

/** The plan, or every reason against it; nothing is commanded meanwhile. */
export function planSession(session: JobSession): Planned {
  const { scenario, equipment, bench, curve } = session;
  const first = bench.readings();
  const planned = withTank(session, [first]);
  if (planned.ok) return planned;
  const byTicket = planJob(scenario.ticket, equipment, curve);
  if (!byTicket.ok && byTicket.blockers.length === planned.blockers.length) return planned;
  const more: Readings[] = [];
  for (let look = 0; look < LOOKS_AGAIN; look += 1) {
    bench.advanceTo(bench.nowMs() + SCAN_MS);
    more.push(bench.readings());
  }
  return withTank(session, [first, ...more]);
}

function withTank(session: JobSession, looks: readonly [Readings, ...Readings[]]): Planned {
  const { scenario, equipment, bench, curve, tankCurve } = session;
  const tank = tankAtRest(looks, equipment, tankCurve, bench.nowMs());
  return planWithTank(scenario.ticket, equipment, curve, tank);
}
