// What stands against a job on the rig behind the page, looked at while none has begun: ticket, tank and records.
import { planWithTank, tankAtRest } from '../../../controller/begin.ts';
import type { Equipment } from '../../../controller/equipment.ts';
import type { Blocker } from '../../../controller/notice.ts';
import type { Planned } from '../../../controller/plan.ts';
import type { Readings } from '../../../controller/signals.ts';
import type { Ticket } from '../../../controller/ticket.ts';
import type { BoardRig } from '../../../hardware/rig.ts';
import { InputError } from '../../cli/command.ts';
import type { JobRecorder } from '../../records/recorder.ts';
import type { FluidData } from '../../run/prepare.ts';
import { against, NO_TICKET } from './rig-blockers.ts';

/** One reading of the tank may be a spike; the newest of so many are looked at before a job is planned. */
const LOOKS = 9;
/** What stands against a job is looked at anew so often. */
const LOOKED_EVERY_MS = 2_000;

export type BeforeJobParts = {
  readonly rig: BoardRig;
  readonly equipment: Equipment;
  readonly nowMs: () => number;
  readonly fluids: (refrigerant: string) => FluidData;
};

/** The ticket that a job would have, as somebody has written it for this vehicle or as it was left over. */
export type TicketShown = { readonly ticket: Ticket; readonly written: boolean };

export class BeforeJob {
  readonly #parts: BeforeJobParts;
  #looks: readonly Readings[] = [];
  #blockers: readonly Blocker[] = [];
  #lookedMs = Number.NEGATIVE_INFINITY;

  constructor(parts: BeforeJobParts) {
    this.#parts = parts;
  }

  /** As it was last looked at. */
  get blockers(): readonly Blocker[] {
    return this.#blockers;
  }

  /** Each scan's. */
  see(readings: Readings): void {
    this.#looks = [...this.#looks, readings].slice(-LOOKS);
  }

  isDue(nowMs: number): boolean {
    return nowMs - this.#lookedMs >= LOOKED_EVERY_MS;
  }

  /** Something has changed: it is due at once. */
  forget(): void {
    this.#lookedMs = Number.NEGATIVE_INFINITY;
  }

  lookAgain(nowMs: number, shown: TicketShown, recorder: () => JobRecorder): void {
    this.#lookedMs = nowMs;
    this.#blockers = [
      ...unwritten(shown),
      ...against(this.#planned(shown.ticket)),
      ...recordBlockers(recorder),
    ];
  }

  /**
   * The plan of a job that begins now, or nothing where something stands against it.
   * @throws StoreProblem when the records cannot be read.
   */
  planNow(shown: TicketShown, recorder: JobRecorder): (Planned & { readonly ok: true }) | undefined {
    const planned = this.#planned(shown.ticket);
    this.#blockers = [...unwritten(shown), ...against(planned), ...recorder.blockers()];
    return planned?.ok === true && this.#blockers.length === 0 ? planned : undefined;
  }

  #planned(ticket: Ticket): Planned | undefined {
    const { rig, equipment, fluids, nowMs } = this.#parts;
    const [first, ...more] = this.#looks;
    if (first === undefined || more.length < LOOKS - 1 || rig.connection.link.state !== 'ready')
      return undefined;
    const tank = tankAtRest([first, ...more], equipment, fluids(equipment.tank.refrigerant).curve, nowMs());
    return planWithTank(ticket, equipment, fluids(ticket.refrigerant).curve, tank);
  }
}

/** What the vehicle's label says, nobody but a person has read. */
const unwritten = ({ written }: TicketShown): readonly Blocker[] => (written ? [] : [NO_TICKET]);

/** Records that cannot be read stand against a job as well. */
function recordBlockers(recorder: () => JobRecorder): readonly Blocker[] {
  try {
    return recorder().blockers();
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return [{ code: 'records-unread', text: 'The records can not be read.', remedy: error.message }];
  }
}
