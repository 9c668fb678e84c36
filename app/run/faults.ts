// When the faults of a scenario are switched, from the time and from the stages entered so far.
import type { Visit } from '../../controller/state.ts';
import type { Fault } from '../../sim/faults.ts';
import type { PlannedFault } from '../scenario/faults.ts';

/** What became of a planned fault. Never switched on: neither time. On to the end: no `offAtMs`. */
export type FaultHistory = {
  readonly planned: PlannedFault;
  readonly onAtMs?: number;
  readonly offAtMs?: number;
};

export const powerWasLost = (histories: readonly FaultHistory[]): boolean =>
  histories.some(({ planned, onAtMs }) => planned.fault.fault === 'power-lost' && onAtMs !== undefined);

type Span = { readonly onAtMs: number; readonly offAtMs: number };

/** Infinity: not known yet, or never. */
function spanOf({ from, forMs }: PlannedFault, visits: readonly Visit[]): Span {
  const { stage, afterMs } = from;
  const countsFromMs = stage === undefined ? 0 : visits.find((visit) => visit.stage === stage)?.startedAtMs;
  const onAtMs = countsFromMs === undefined ? Number.POSITIVE_INFINITY : countsFromMs + afterMs;
  return { onAtMs, offAtMs: onAtMs + (forMs ?? Number.POSITIVE_INFINITY) };
}

const strikesSame = (one: Fault, other: Fault): boolean =>
  one.fault === other.fault && one.output === other.output;

/** Looked at once a scan; a look costs two comparisons until a stage is entered or a time has come. */
export class FaultSchedule {
  readonly #switchFault: (fault: Fault, on: boolean) => void;
  readonly #histories: FaultHistory[];
  #visits: readonly Visit[] | undefined;
  #nextMs = Number.NEGATIVE_INFINITY;

  constructor(faults: readonly PlannedFault[], switchFault: (fault: Fault, on: boolean) => void) {
    this.#switchFault = switchFault;
    this.#histories = faults.map((planned) => ({ planned }));
  }

  get histories(): readonly FaultHistory[] {
    return this.#histories;
  }

  /** @param visits the stages entered so far; a new list whenever it grows. */
  look(nowMs: number, visits: readonly Visit[]): void {
    if (nowMs < this.#nextMs && visits === this.#visits) return;
    this.#visits = visits;
    this.#nextMs = Number.POSITIVE_INFINITY;
    for (const [index, { planned, onAtMs, offAtMs }] of this.#histories.entries()) {
      if (offAtMs !== undefined) continue;
      const span = spanOf(planned, visits);
      if (onAtMs === undefined && nowMs >= span.onAtMs) this.#switchOn(index, nowMs);
      else if (onAtMs !== undefined && nowMs >= span.offAtMs) this.#switchOff(index, nowMs);
      if (nowMs < span.onAtMs) this.#nextMs = Math.min(this.#nextMs, span.onAtMs);
      else if (nowMs < span.offAtMs) this.#nextMs = Math.min(this.#nextMs, span.offAtMs);
    }
  }

  #switchOn(index: number, nowMs: number): void {
    const { planned } = this.#histories[index]!;
    this.#histories[index] = { planned, onAtMs: nowMs };
    this.#switchFault(planned.fault, true);
  }

  /** The same fault may be planned twice, and the other one may be on still. */
  #switchOff(index: number, nowMs: number): void {
    const { fault } = this.#histories[index]!.planned;
    this.#histories[index] = { ...this.#histories[index]!, offAtMs: nowMs };
    const other = this.#histories.findLast(
      ({ planned, onAtMs, offAtMs }) =>
        strikesSame(planned.fault, fault) && onAtMs !== undefined && offAtMs === undefined,
    );
    this.#switchFault(other?.planned.fault ?? fault, other !== undefined);
  }
}
