// What this job draws out of the machine's bottles of oil and dye, and why it must not.
import type { Equipment } from './equipment.ts';
import type { Blocker } from './notice.ts';
import { dyeFits, LIQUIDS, type Liquid, type Service, type Ticket } from './ticket.ts';

type Reason = Omit<Blocker, 'code'>;

/** Why the oil in this machine's bottle must not go into this vehicle, or nothing. */
function oilUnfit(ticket: Ticket, { oil }: Equipment): Reason | undefined {
  if (ticket.electricCompressor && oil?.kind === 'PAG') {
    return {
      text: 'The oil bottle holds PAG, the vehicle has an electric compressor, and PAG conducts: it would ruin the insulation of its windings.',
      remedy: `Use a machine that holds ${ticket.oil.kind === 'PAG' ? "the vehicle's own oil" : ticket.oil.kind} alone, or leave the oil allowance at 0 and add the oil by hand.`,
    };
  }
  if (oil === undefined || oil.kind === ticket.oil.kind) return undefined;
  return {
    text: `The oil bottle holds ${oil.kind}, the ticket asks for ${ticket.oil.kind}.`,
    remedy: `Use a machine with ${ticket.oil.kind} in its bottle, or correct the ticket.`,
  };
}

function dyeUnfit(ticket: Ticket): Reason | undefined {
  if (dyeFits(ticket)) return undefined;
  return {
    text: 'The ticket asks for dye, the vehicle has an electric compressor, and what carries a dye may conduct: it could ruin the insulation of its windings.',
    remedy:
      "Leave the dye at 0; or, where the vehicle's maker allows the dye in this bottle, say in the ticket that it is approved.",
  };
}

const unfit = (liquid: Liquid, ticket: Ticket, equipment: Equipment): Reason | undefined =>
  liquid === 'oil' ? oilUnfit(ticket, equipment) : dyeUnfit(ticket);

/** What is drawn in, in its order; `drains`: there may be oil to be given back. */
export function addsOf(ticket: Ticket, equipment: Equipment, drains: boolean): readonly Liquid[] {
  const wanted = {
    oil: (drains && ticket.service === 'whole') || ticket.oil.addM3 > 0,
    dye: ticket.dye.addM3 > 0,
  };
  return LIQUIDS.filter(
    (liquid) =>
      wanted[liquid] &&
      equipment[liquid] !== undefined &&
      equipment.fitted.includes(`${liquid}Valve`) &&
      unfit(liquid, ticket, equipment) === undefined,
  );
}

/** Services that put oil and dye into an evacuated system. */
const ADDS: readonly Service[] = ['whole', 'evacuate-and-charge'];

/** Beyond the most it is a mistake: of dye 5 to 10 mL are common practice. */
const WORDS = {
  oil: {
    mostM3: 500e-6,
    amount: 'An oil allowance',
    give: 'Give the allowance for the changed components in millilitres.',
    none: 'the oil allowance at 0',
  },
  dye: {
    mostM3: 50e-6,
    amount: 'A dose of dye',
    give: 'Give the dose in millilitres; 5 to 10 mL are usual.',
    none: 'the dye at 0',
  },
} as const;

/** What the ticket asks for by itself must be possible; oil that is only drained can be replaced by hand. */
export const bottleBlockers = (ticket: Ticket, equipment: Equipment): Blocker[] =>
  LIQUIDS.flatMap((liquid) => blockersOf(liquid, ticket, equipment));

function blockersOf(liquid: Liquid, ticket: Ticket, equipment: Equipment): Blocker[] {
  const { addM3 } = ticket[liquid];
  const { mostM3, amount, give, none } = WORDS[liquid];
  if (!(Number.isFinite(addM3) && addM3 >= 0 && addM3 <= mostM3)) {
    return [
      {
        code: `${liquid}-implausible`,
        text: `${amount} of ${(addM3 * 1e6).toFixed(0)} mL is outside 0 mL to ${mostM3 * 1e6} mL.`,
        remedy: give,
      },
    ];
  }
  if (addM3 === 0) return [];
  if (!ADDS.includes(ticket.service)) {
    return [
      {
        code: `${liquid}-not-added`,
        text: `The ticket asks for ${liquid}, but the service ${ticket.service} adds none: ${liquid} goes into an evacuated system, before its charge.`,
        remedy: `Leave ${none}, or choose the service whole.`,
      },
    ];
  }
  const reason = unfit(liquid, ticket, equipment);
  if (reason !== undefined) return [{ code: `${liquid}-unfit`, ...reason }];
  const { dye } = equipment;
  if (liquid === 'dye' && dye !== undefined) return bottleTooEmpty(ticket, dye);
  if (equipment[liquid] !== undefined) return [];
  return [
    {
      code: 'figure-missing',
      text: `The ticket asks for ${liquid}, and nothing is known of how this machine adds it.`,
      remedy: `Measure the machine's ${liquid} flow and line film, or leave ${none}.`,
    },
  ];
}

/** Less than a drop: figures in millilitres do not sum exactly. */
const DROP_M3 = 1e-9;

/** A dry line keeps a part of the dose back; oil that is asked for has wetted it before. */
function bottleTooEmpty(ticket: Ticket, dye: NonNullable<Equipment['dye']>): Blocker[] {
  const filmM3 = ticket.oil.addM3 > 0 ? 0 : dye.lineFilmM3;
  if (ticket.dye.addM3 + filmM3 <= dye.bottleM3 + DROP_M3) return [];
  const shown = (volumeM3: number): string => `${Number((volumeM3 * 1e6).toFixed(1))} mL`;
  const line = filmM3 === 0 ? '' : ` and ${shown(filmM3)} for the walls of its line`;
  return [
    {
      code: 'dye-above-bottle',
      text: `The ticket asks for ${shown(ticket.dye.addM3)} of dye${line}, and its bottle holds ${shown(dye.bottleM3)}.`,
      remedy: 'Fill the bottle of dye and say what it holds, or ask for less.',
    },
  ];
}
