// What a scenario may ask for one day and may not ask for yet: refused by name, never accepted and ignored.
import type { Service } from '../../controller/ticket.ts';
import { FITTED } from './fitted.ts';
import { shown } from './quantity.ts';
import type { FillFile, ScenarioFile } from './schema.ts';

const SERVICES_TO_COME: readonly Service[] = ['leak-check'];

/** The first thing asked for that is not built, or undefined. */
export function notBuilt({ ticket, equipment }: ScenarioFile | FillFile): string | undefined {
  if (SERVICES_TO_COME.includes(ticket.service))
    return `ticket.service ${shown(ticket.service)} is not built yet; write whole, recover, evacuate-and-charge or fill-tank`;
  const absent = equipment.fitted?.find((output) => !FITTED.includes(output));
  if (absent !== undefined)
    return `equipment.fitted: ${absent} is not built yet; choose from ${FITTED.join(', ')}`;
  return undefined;
}
