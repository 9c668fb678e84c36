// What a scenario may ask for one day and may not ask for yet: refused by name, never accepted and ignored.
import type { Service } from '../../controller/ticket.ts';
import { FITTED } from './fitted.ts';
import { shown } from './quantity.ts';
import type { ScenarioFile } from './schema.ts';

const SERVICES_TO_COME: readonly Service[] = ['leak-check', 'fill-tank'];

/** The first thing asked for that is not built, or undefined. */
export function notBuilt({ ticket, equipment }: ScenarioFile): string | undefined {
  if (SERVICES_TO_COME.includes(ticket.service))
    return `ticket.service ${shown(ticket.service)} is not built yet; write whole, recover or evacuate-and-charge`;
  const absent = equipment.fitted?.find((output) => !FITTED.includes(output));
  if (absent !== undefined)
    return `equipment.fitted: ${absent} is not built yet; choose from ${FITTED.join(', ')}`;
  return undefined;
}
