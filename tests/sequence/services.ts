// Which stages each service has, and what leaves one out: as the planner answers when it is asked.
import type { Equipment } from '../../controller/equipment.ts';
import { planJob } from '../../controller/plan.ts';
import type { Stage } from '../../controller/stages.ts';
import { SERVICES, type Service, type Ticket } from '../../controller/ticket.ts';
import { OIL_EQUIPMENT, R134A, TICKET } from '../controller/support/machine.ts';

const OIL = { kind: 'PAG', addM3: 15e-6 } as const;
const DYE = { addM3: 8e-6, approved: true } as const;
/** Everything asked for, on a machine with everything fitted; a service that adds no oil and no dye, or mends nothing, refuses to be asked for it. */
const FULLEST: Ticket = { ...TICKET, engine: 'can-run', leakCheck: true, repair: true, oil: OIL, dye: DYE };
const NO_BOTTLE: Partial<Ticket> = { oil: { ...OIL, addM3: 0 }, dye: { ...DYE, addM3: 0 } };
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
    what: 'a machine without valves for oil and dye',
    ticket: NO_BOTTLE,
    equipment: without('oilValve', 'dyeValve'),
  },
  { what: 'neither oil nor dye asked for', ticket: NO_BOTTLE },
  { what: 'no repair asked for', ticket: NO_REPAIR },
  {
    what: 'no leak check asked for and a refrigerant that does not burn',
    ticket: { leakCheck: false },
  },
];

/** None when the service is refused. */
function stagesFor(service: Service, { ticket, equipment }: Partial<Variation> = {}): readonly Stage[] {
  const fullest = { ...FULLEST, ...ticket };
  const none = { oil: { ...fullest.oil, addM3: 0 }, dye: NO_BOTTLE.dye! };
  for (const less of [{}, none, { ...none, ...NO_REPAIR }]) {
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
