// What the machine's hoses are on, and how it is spoken of: two service ports, one, or a supply cylinder.
import type { Plan } from './plan.ts';

export const HOOKUPS = ['two-ports', 'one-port', 'cylinder'] as const;
export type Hookup = (typeof HOOKUPS)[number];

export function hookupOf({ service, ticket }: Pick<Plan, 'service' | 'ticket'>): Hookup {
  if (service === 'fill-tank') return 'cylinder';
  return ticket.ports === 1 ? 'one-port' : 'two-ports';
}

/** For the notices: `{hoses}` and the others are always filled in. */
export const HOOKUP_WORDS = {
  'two-ports': {
    hoses: 'hoses',
    couplers: 'both couplers at the vehicle',
    chargingCoupler: 'the high-side coupler',
    stillOpen: 'at least one coupler is still open and the vehicle is being emptied',
    takeOff: 'Take both couplers off and put the caps on.',
  },
  'one-port': {
    hoses: 'hose',
    couplers: 'the coupler at the vehicle',
    chargingCoupler: 'the coupler',
    stillOpen: 'its coupler is still open and the vehicle is being emptied',
    takeOff: 'Take its coupler off and put the cap on. The low-side hose stays capped.',
  },
  cylinder: {
    hoses: 'hose',
    couplers: "the cylinder's valve",
    chargingCoupler: "the cylinder's valve",
    stillOpen: "the cylinder's valve is still open",
    takeOff:
      "Take the hose off the cylinder and put the cap on the cylinder's valve. An empty non-refillable cylinder is marked as empty and handed in; it is never filled again.",
  },
} as const satisfies { readonly [H in Hookup]: { readonly [word: string]: string } };
