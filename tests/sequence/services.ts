// Which stages each service has, and what leaves one out: as the planner answers when it is asked.
import type { Equipment } from '../../controller/equipment.ts';
import { planJob } from '../../controller/plan.ts';
import type { Stage } from '../../controller/stages.ts';
import { SERVICES, type Service, type Ticket } from '../../controller/ticket.ts';
import { OIL_EQUIPMENT, R134A, TICKET } from '../controller/support/machine.ts';

const OIL = { kind: 'PAG', addM3: 15e-6 } as const;
/** Everything asked for, on a machine with everything fitted; a service that adds no oil or mends nothing refuses to be asked for it. */
const FULLEST: Ticket = { ...TICKET, engine: 'can-run', leakCheck: true, repair: true, oil: OIL };
const WITHOUT_OIL: Partial<Ticket> = { oil: { ...OIL, addM3: 0 } };
const NO_REPAIR: Partial<Ticket> = { repair: false };

type Variation = { readonly what: string; readonly ticket?: Partial<Ticket>; readonly equipment?: Equipment };

const without = (...outputs: readonly string[]): Equipment => ({
  ...OIL_EQUIPMENT,
  fitted: OIL_EQUIPMENT.fitted.filter((output) => !outputs.includes(output)),
});

/** One thing at a time that the fullest ticket has and another has not. */
const VARIATIONS: readonly Variation[] = [
  { what: 'an engine that cannot run', ticket: { engine: 'cannot-run' } },
  { what: 'one service port', ticket: { ports: 1 } },
  {
    what: 'an electric compressor',
    ticket: { electricCompressor: true, oil: { ...OIL, kind: 'POE' } },
    equipment: { ...OIL_EQUIPMENT, oil: { ...OIL_EQUIPMENT.oil!, kind: 'POE' } },
  },
  { what: 'a machine without a separator drain', equipment: without('separatorDrainValve') },
  {
    what: 'a machine without an oil valve',
    ticket: WITHOUT_OIL,
    equipment: without('oilValve'),
  },
  { what: 'no oil asked for', ticket: WITHOUT_OIL },
  { what: 'no repair asked for', ticket: NO_REPAIR },
  {
    what: 'no leak check asked for and a refrigerant that does not burn',
    ticket: { leakCheck: false },
  },
];

/** None when the service is refused. */
function stagesFor(service: Service, { ticket, equipment }: Partial<Variation> = {}): readonly Stage[] {
  const fullest = { ...FULLEST, ...ticket };
  const noOil = { oil: { ...fullest.oil, addM3: 0 } };
  for (const less of [{}, noOil, { ...noOil, ...NO_REPAIR }]) {
    const asked = { ...fullest, ...less, service };
    const planned = planJob(asked, equipment ?? OIL_EQUIPMENT, R134A);
    if (planned.ok) return planned.plan.stages;
  }
  return [];
}

export type ServiceRow = {
  readonly service: Service;
  /** None when it is not available. */
  readonly stages: readonly Stage[];
  readonly leftOut: readonly { readonly stage: Stage; readonly with: readonly string[] }[];
};

export const SERVICE_ROWS: readonly ServiceRow[] = SERVICES.map((service) => {
  const stages = stagesFor(service);
  const planned = VARIATIONS.map((variation) => ({
    what: variation.what,
    stages: stagesFor(service, variation),
  }));
  const leftOut = stages.flatMap((stage) => {
    const reasons = planned.filter(({ stages }) => !stages.includes(stage)).map(({ what }) => what);
    return reasons.length === 0 ? [] : [{ stage, with: reasons }];
  });
  return { service, stages, leftOut };
});
