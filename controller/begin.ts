// Plans a job by its ticket and by what the tank shows while every valve is still shut: all that stands against it at once.
import type { Equipment } from './equipment.ts';
import { netMassKg } from './estimates/scale.ts';
import { type Seen, see } from './estimates/seen.ts';
import { hookupOf } from './hookup.ts';
import type { Blocker } from './notice.ts';
import { noticeOf } from './notices.ts';
import { draftPlan, type Planned, planJob } from './plan.ts';
import type { SaturationCurve } from './saturation.ts';
import type { Readings } from './signals.ts';
import { tankUnfit } from './stages/tank-fit.ts';
import type { Ticket } from './ticket.ts';

export type TankAtRest = {
  /** Absent while the scale says nothing: then only the job itself, which weighs before it opens a valve, can tell. */
  readonly netKg: number | undefined;
  readonly seen: Seen;
  /** Of what the tank holds, which need not be what the ticket asks for. */
  readonly curve: SaturationCurve;
};

/** Nothing was recovered before a job. */
const NOTHING_YET = { recoveredKg: undefined, leakCheck: undefined };

/** @param looks readings one after the other; the mass is their median, the rest is the last one's. None is a mistake of the caller. */
export function tankAtRest(
  looks: readonly [Readings, ...Readings[]],
  equipment: Equipment,
  curve: SaturationCurve,
  nowMs: number,
): TankAtRest {
  const counts = looks
    .map(({ scaleCounts }) => (scaleCounts.ok ? scaleCounts.value : Number.NaN))
    .filter(Number.isFinite)
    .sort((a, b) => a - b);
  const middle = counts[counts.length >> 1];
  const seen = see(looks[looks.length - 1]!, equipment, nowMs);
  return { netKg: middle === undefined ? undefined : netMassKg(middle, equipment), seen, curve };
}

/**
 * As `planJob`, and what is wrong with the tank's content beside what is wrong with the ticket. Air that the job itself begins
 * to purge is judged after that, before a path opens.
 */
export function planWithTank(
  ticket: Ticket,
  equipment: Equipment,
  curve: SaturationCurve,
  tank: TankAtRest,
): Planned {
  const planned = planJob(ticket, equipment, curve);
  const draft = draftPlan(ticket, equipment, tank.curve);
  if (draft === undefined || tank.netKg === undefined) return planned;
  const input = { plan: draft, equipment, seen: tank.seen, accounts: NOTHING_YET };
  const unfit: readonly Blocker[] = tankUnfit(input, tank.netKg)
    .filter(({ code }) => code !== 'air-in-tank' || !draft.stages.includes('purge-air'))
    .map((found) => {
      const { code, text, remedy } = noticeOf(found, 0, hookupOf(draft));
      return { code, text, remedy };
    });
  if (unfit.length === 0) return planned;
  return { ok: false, blockers: planned.ok ? unfit : [...planned.blockers, ...unfit] };
}
