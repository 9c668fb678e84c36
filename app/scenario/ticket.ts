// The ticket of a file in SI units, and a ticket that stands in a file of its own.
import type { Ticket } from '../../controller/ticket.ts';
import { InputError } from '../cli/command.ts';
import { jsonFile } from './json-file.ts';
import { checkNoPlan } from './other-kind.ts';
import { firstProblem } from './problems.ts';
import { type AnyFile, fillTicketFileSchema, ticketFileSchema } from './schema.ts';
import { GRAM_KG, MILLILITRE_M3 } from './si.ts';
import { oilKindOf } from './vessels.ts';

export function ticketOf(file: Pick<AnyFile, 'ticket'>): Ticket {
  const { ticket } = file;
  const { service, refrigerant, opened, electricCompressor, engine, ports, oil } = ticket;
  const { fillKg, cylinderKg, cylinderName } = ticket;
  const nominalChargeKg = 'nominalChargeG' in ticket ? ticket.nominalChargeG * GRAM_KG : 0;
  const vehicleAgeYears = 'vehicleAgeYears' in ticket ? ticket.vehicleAgeYears : undefined;
  const leakCheck = 'leakCheck' in ticket ? ticket.leakCheck : false;
  return {
    service,
    refrigerant,
    nominalChargeKg,
    opened,
    repair: ticket.repair,
    repaired: ticket.repaired,
    jurisdiction: ticket.jurisdiction,
    electricCompressor,
    engine,
    warmUp: ticket.warmUp,
    ports,
    oil: { kind: oilKindOf(file), addM3: oil.addMl * MILLILITRE_M3 },
    dye: { addM3: ticket.dyeMl * MILLILITRE_M3, approved: ticket.dyeApproved },
    leakCheck,
    ...(vehicleAgeYears === undefined ? {} : { vehicleAgeYears }),
    ...(fillKg === undefined ? {} : { fillKg }),
    ...(cylinderKg === undefined ? {} : { cylinderKg }),
    ...(cylinderName === undefined ? {} : { cylinderName }),
  };
}

const FILL = 'fill-tank';

/** Whatever else may be wrong with it. */
export function isForFilling(value: unknown): boolean {
  const ticket = (value as { ticket?: { service?: unknown } } | null | undefined)?.ticket;
  return ticket?.service === FILL;
}

/**
 * What is said of filling belongs to filling.
 * @param besides what the file says of it outside the ticket.
 */
export function checkFilling(
  ticket: AnyFile['ticket'],
  besides: { readonly [key: string]: unknown },
  source: string,
): void {
  if (ticket.service === FILL) return;
  const keys = {
    ...besides,
    'ticket.fillKg': ticket.fillKg,
    'ticket.cylinderKg': ticket.cylinderKg,
    'ticket.cylinderName': ticket.cylinderName,
  };
  const misplaced = Object.entries(keys).find(([, value]) => value !== undefined);
  if (misplaced === undefined) return;
  throw new InputError(
    `${source}: ${misplaced[0]} with ticket.service ${ticket.service}: it belongs to the service ${FILL}`,
  );
}

export type NamedTicket = { readonly name: string; readonly ticket: Ticket };

/** What a scenario says of the plant; on a real rig it is found there, and the rest is in the equipment file. */
const OF_THE_SIMULATOR = [
  'vehicle',
  'tank',
  'cylinder',
  'weather',
  'build',
  'faults',
  'operator',
  'repair',
  'seed',
  'equipment',
];

/**
 * @param source for what is said about mistakes in it.
 * @throws InputError naming the key and the remedy.
 */
export function namedTicketFrom(value: unknown, source: string): NamedTicket {
  const schema = isForFilling(value) ? fillTicketFileSchema : ticketFileSchema;
  const parsed = schema.safeParse(value);
  if (!parsed.success) throw new InputError(`${source}: ${firstProblem(parsed.error)}`);
  checkFilling(parsed.data.ticket, {}, source);
  return { name: parsed.data.name, ticket: ticketOf(parsed.data) };
}

/** @throws InputError when the file is missing, unreadable, empty, not JSON or not a ticket. */
export function readTicket(path: string): NamedTicket {
  const value = jsonFile(path, 'ticket', 'a ticket with refrigerant and nominalChargeG');
  checkNoPlan(value, path);
  const foreign = OF_THE_SIMULATOR.find((key) => Object.hasOwn(Object(value), key));
  if (foreign !== undefined)
    throw new InputError(
      `${path}: ${foreign} is for the simulator; a job on a rig takes name and ticket alone, so leave it out`,
    );
  return namedTicketFrom(value, path);
}
