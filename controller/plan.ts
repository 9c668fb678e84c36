// The ticket made concrete: which stages, which targets, or every reason why not.
import type { Equipment } from './equipment.ts';
import { isFlammable } from './interlocks/bands.ts';
import { judgesLoss } from './jurisdiction.ts';
import type { Blocker } from './notice.ts';
import { unfitting, unreadable } from './plan-blockers.ts';
import { addsOf } from './plan-bottles.ts';
import type { SaturationCurve } from './saturation.ts';
import { STAGES, type Stage } from './stages.ts';
import { TARGETS, type Targets } from './targets/index.ts';
import type { Liquid, Service, Ticket } from './ticket.ts';

/** Plain data; the controller knows nothing else of what was asked. */
export type Plan = Targets & {
  readonly ticket: Ticket;
  readonly service: Service | 'by-hand';
  /** In their order; none when the machine is only worked by hand. */
  readonly stages: readonly Stage[];
  /** What is drawn out of bottles, in this order. */
  readonly adds: readonly Liquid[];
  /** Why the engine is not used though it could run. */
  readonly engineUnused?: string;
  readonly curve: SaturationCurve;
};

type Stages = readonly [Stage, ...Stage[]];

/**
 * The performance test needs both pressures and comes while both couplers are open; with the engine still running the
 * high coupler is closed and the low side sucks the hoses dry; only then is the low coupler closed, the engine stopped,
 * and what is left in the hoses recovered.
 */
const SERVICE_STAGES: { readonly [S in Service]: Stages } = {
  whole: STAGES,
  'fill-tank': ['identify', 'fill', 'recover-hoses'],
  recover: ['identify', 'purge-air', 'settle', 'recover', 'rest', 'drain-oil', 'recover-hoses'],
  'evacuate-and-charge': [
    'purge-air',
    'settle',
    'repair',
    'evacuate',
    'hold',
    'add-oil',
    'leak-check',
    'charge',
    'verify',
    'clear-hoses',
    'recover-hoses',
  ],
  /** A vehicle under pressure is searched as it stands; only an empty one is evacuated first. */
  'leak-check': ['identify', 'settle', 'evacuate', 'hold', 'leak-check', 'recover', 'rest', 'recover-hoses'],
};

/** Why an engine that could run is left alone, or nothing. */
function engineUnused({ service, engine, electricCompressor, ports }: Ticket): string | undefined {
  if (engine === 'cannot-run' || service === 'recover' || service === 'fill-tank' || service === 'leak-check')
    return undefined;
  if (electricCompressor) {
    return "the vehicle's compressor is electric: no engine turns it, and running it takes the maker's own service mode";
  }
  return ports === 1 ? 'a vehicle with one port has no low side to suck the hose dry' : undefined;
}

/** Nothing is let off out of a tank that is not known to have rested: unknown is never permission. */
const mayPurge = ({ fitted, tank, tankRestedMs = 0 }: Equipment): boolean =>
  fitted.includes('airPurgeValve') && tank.contaminated !== true && tankRestedMs >= TARGETS.purgeAir.restedMs;

/** Partial charge and search before the whole charge: with flammable refrigerant always (SAE J2843, from memory). */
const mustCheck = ({ refrigerant, leakCheck }: Ticket): boolean =>
  leakCheck === true || isFlammable(refrigerant);

/** The drain needs tank vapour over the oil: contaminated refrigerant stays where it is. */
const mayDrain = ({ fitted, tank }: Equipment): boolean =>
  fitted.includes('separatorDrainValve') && tank.contaminated !== true;

/** The stages of the service that apply to this ticket on this machine. */
function stagesOf(
  service: Service,
  ticket: Ticket,
  equipment: Equipment,
  adds: readonly Liquid[],
): readonly Stage[] {
  const engine = ticket.engine === 'can-run' && engineUnused(ticket) === undefined;
  const applies: { readonly [S in Stage]?: boolean } = {
    fill: service === 'fill-tank',
    'purge-air': mayPurge(equipment),
    'drain-oil': mayDrain(equipment),
    // Where the loss is judged, the stage itself finds out whether it is needed.
    repair: ticket.repair || judgesLoss(ticket),
    'add-oil': adds.length > 0,
    'leak-check': service === 'leak-check' || mustCheck(ticket),
    verify: engine,
    'clear-hoses': engine,
  };
  return SERVICE_STAGES[service].filter((stage) => applies[stage] ?? true);
}

/** For a machine that is only worked by hand: no stage, and so nothing that could be refused. */
export const planByHand = (ticket: Ticket, curve: SaturationCurve): Plan => ({
  ticket,
  service: 'by-hand',
  stages: [],
  adds: [],
  curve,
  ...TARGETS,
});

export type Planned =
  | { readonly ok: true; readonly plan: Plan }
  | { readonly ok: false; readonly blockers: readonly Blocker[] };

/** Every blocker at once: the operator mends them in one go. Needs no readings. */
export function planJob(ticket: Ticket, equipment: Equipment, curve: SaturationCurve): Planned {
  const unusable = unreadable(ticket, equipment, curve);
  if (unusable.length > 0) return { ok: false, blockers: unusable };
  const blockers = unfitting(ticket, equipment, curve);
  return blockers.length > 0 ? { ok: false, blockers } : { ok: true, plan: planOf(ticket, equipment, curve) };
}

function planOf(ticket: Ticket, equipment: Equipment, curve: SaturationCurve): Plan {
  const { service } = ticket;
  const unused = engineUnused(ticket);
  const adds = addsOf(ticket, equipment, mayDrain(equipment));
  return {
    // A cylinder hangs on one hose, as a vehicle with one port does.
    ticket: service === 'fill-tank' ? { ...ticket, ports: 1 } : ticket,
    service,
    stages: stagesOf(service, ticket, equipment, adds),
    adds,
    ...(unused === undefined ? {} : { engineUnused: unused }),
    curve,
    ...TARGETS,
  };
}

/** What the job would be if nothing stood against it; nothing where its figures are none. */
export function draftPlan(ticket: Ticket, equipment: Equipment, curve: SaturationCurve): Plan | undefined {
  if (unreadable(ticket, equipment, curve).length > 0) return undefined;
  return planOf(ticket, equipment, curve);
}
