// The ticket made concrete: which stages, which targets, or every reason why not.
import type { Equipment } from './equipment.ts';
import type { Blocker } from './notice.ts';
import { unfitting, unreadable } from './plan-blockers.ts';
import type { SaturationCurve } from './saturation.ts';
import type { Stage } from './stages.ts';
import * as targets from './targets.ts';
import type { Ticket } from './ticket.ts';

/** Plain data; the controller knows nothing else of what was asked. */
export type Plan = {
  readonly ticket: Ticket;
  readonly service: BuiltService;
  readonly stages: readonly Stage[];
  readonly curve: SaturationCurve;
  readonly identify: Numbers<typeof targets.IDENTIFY>;
  readonly settle: Numbers<typeof targets.SETTLE>;
  readonly recover: Numbers<typeof targets.RECOVER>;
  readonly rest: Numbers<typeof targets.REST>;
  readonly evacuate: Numbers<typeof targets.EVACUATE>;
  readonly hold: Numbers<typeof targets.HOLD>;
  readonly charge: Numbers<typeof targets.CHARGE>;
  readonly hoses: Numbers<typeof targets.HOSES>;
  readonly weighing: Numbers<typeof targets.WEIGHING>;
  readonly times: Numbers<typeof targets.TIMES>;
};
type Numbers<T> = { readonly [K in keyof T]: number };

export type BuiltService = 'whole' | 'recover' | 'evacuate-and-charge';

const SERVICE_STAGES: { readonly [S in BuiltService]: readonly Stage[] } = {
  whole: ['identify', 'settle', 'recover', 'rest', 'evacuate', 'hold', 'charge', 'recover-hoses'],
  recover: ['identify', 'settle', 'recover', 'rest', 'recover-hoses'],
  'evacuate-and-charge': ['settle', 'evacuate', 'hold', 'charge', 'recover-hoses'],
};

export type Planned =
  | { readonly ok: true; readonly plan: Plan }
  | { readonly ok: false; readonly blockers: readonly Blocker[] };

/** Every blocker at once: the operator mends them in one go. Needs no readings. */
export function planJob(ticket: Ticket, equipment: Equipment, curve: SaturationCurve): Planned {
  const unusable = unreadable(ticket, equipment, curve);
  if (unusable.length > 0) return { ok: false, blockers: unusable };
  const { service } = ticket;
  if (service === 'leak-check' || service === 'fill-tank') {
    return {
      ok: false,
      blockers: [
        {
          code: 'service-not-available',
          text: `The service ${service} is not available on this machine.`,
          remedy: `Choose one of ${Object.keys(SERVICE_STAGES).join(', ')}.`,
        },
        ...unfitting(ticket, equipment, curve),
      ],
    };
  }
  const blockers = unfitting(ticket, equipment, curve);
  if (blockers.length > 0) return { ok: false, blockers };
  return {
    ok: true,
    plan: {
      ticket,
      service,
      stages: SERVICE_STAGES[service],
      curve,
      identify: targets.IDENTIFY,
      settle: targets.SETTLE,
      recover: targets.RECOVER,
      rest: targets.REST,
      evacuate: targets.EVACUATE,
      hold: targets.HOLD,
      charge: targets.CHARGE,
      hoses: targets.HOSES,
      weighing: targets.WEIGHING,
      times: targets.TIMES,
    },
  };
}
