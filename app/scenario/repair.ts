// What a scenario says of the repair, in SI units: refused where no job of its kind comes to one.
import { judgesLoss } from '../../controller/jurisdiction.ts';
import type { Ticket } from '../../controller/ticket.ts';
import type { RepairSpec } from '../../sim/spec.ts';
import { InputError } from '../cli/command.ts';
import { REPAIR_UNSAID, type ScenarioFile } from './schema.ts';

const HOUR_MS = 3_600_000;

/** The job may come to a repair: asked for, or demanded by what the vehicle has lost. */
const mayBeMended = (ticket: Ticket): boolean =>
  ticket.repair || (ticket.service === 'whole' && judgesLoss(ticket));

export type Repair = { readonly spec?: RepairSpec; readonly forMs: number };

/** @throws InputError when the file says what a repair does and there can be none. */
export function repairOf({ repair }: Pick<ScenarioFile, 'repair'>, ticket: Ticket, source: string): Repair {
  const { hours, openMm, stopsLeak } = repair ?? REPAIR_UNSAID;
  const forMs = hours * HOUR_MS;
  if (mayBeMended(ticket)) return { spec: { openDiameterM: openMm / 1000, stopsLeak }, forMs };
  if (repair === undefined) return { forMs };
  throw new InputError(
    `${source}: repair: nothing is mended in this job; write ticket.repair true, or leave repair out`,
  );
}
