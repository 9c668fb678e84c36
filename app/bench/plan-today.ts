// The plan that a recorded job would get today, and in what it is another one.
import { type Plan, planJob } from '../../controller/plan.ts';
import { findFluid } from '../../sim/fluids/fluid.ts';
import { fluidData } from '../run/prepare.ts';
import type { Opening } from './recording.ts';

export type PlanToday = {
  /** Absent where today's planner refuses the ticket, or where nobody planned: the machine was worked by hand. */
  readonly plan: Plan | undefined;
  /** Where in the plan something is otherwise: `recover.stopPa 60000, today 55000`. */
  readonly otherwise: readonly string[];
};

const isTree = (value: unknown): value is { readonly [key: string]: unknown } =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

function* differing(then: unknown, today: unknown, path: string): Generator<string> {
  if (isTree(then) && isTree(today)) {
    const keys = new Set([...Object.keys(then), ...Object.keys(today)]);
    for (const key of keys) yield* differing(then[key], today[key], path === '' ? key : `${path}.${key}`);
    return;
  }
  const [one, other] = [JSON.stringify(then), JSON.stringify(today)];
  if (one === other) return;
  yield path.startsWith('curve') ? `${path} of the refrigerant's data` : `${path} ${one}, today ${other}`;
}

export function planToday({ plan, equipment }: Opening): PlanToday {
  const { service, ticket } = plan;
  if (service === 'by-hand') return { plan: undefined, otherwise: [] };
  if (findFluid(ticket.refrigerant) === undefined)
    return { plan: undefined, otherwise: [`no data of ${ticket.refrigerant} today`] };
  const planned = planJob(ticket, equipment, fluidData(ticket.refrigerant).curve);
  if (!planned.ok)
    return { plan: undefined, otherwise: planned.blockers.map(({ code }) => `refused today: ${code}`) };
  return { plan: planned.plan, otherwise: [...differing(plan, planned.plan, '')] };
}
