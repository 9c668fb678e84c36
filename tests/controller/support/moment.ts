// One moment of a job, as a test wants it: whatever it does not name is as a job begins.
import type { Equipment } from '../../../controller/equipment.ts';
import type { ScaleState } from '../../../controller/estimates/scale-state.ts';
import { type Seen, see } from '../../../controller/estimates/seen.ts';
import type { Memory } from '../../../controller/interlocks/memory.ts';
import type { Plan } from '../../../controller/plan.ts';
import { type ControllerState, openJob } from '../../../controller/scan.ts';
import type { Commands, Output } from '../../../controller/signals.ts';
import type { StageData } from '../../../controller/stages/data.ts';
import { want } from '../../../controller/stages/stage.ts';
import type { Accounts, Estimates, Judged } from '../../../controller/state.ts';
import type { Ticket } from '../../../controller/ticket.ts';
import { CALM_BANDS, CALM_MEMORY } from './calm.ts';
import { EQUIPMENT, planFor } from './machine.ts';
import { readingsAt, type Values } from './readings.ts';

export type Moment = {
  readonly ticket?: Partial<Ticket>;
  readonly equipment?: Equipment;
  readonly plan?: Plan;
  readonly stage?: StageData;
  /** Whatever differs from a calm machine. */
  readonly values?: Values;
  readonly scale?: Partial<ScaleState>;
  readonly estimates?: Partial<Estimates>;
  readonly accounts?: Partial<Accounts>;
  readonly memory?: Partial<Memory>;
  readonly state?: Partial<ControllerState>;
};

export const seenOf = (values: Values = {}, equipment = EQUIPMENT): Seen =>
  see(readingsAt(0, values), equipment, 0);

export function momentOf(moment: Moment = {}): ControllerState {
  const equipment = moment.equipment ?? EQUIPMENT;
  const opened = openJob(moment.plan ?? planFor(moment.ticket, equipment), equipment, 0);
  const { estimates, stage } = opened;
  return {
    ...opened,
    stage: moment.stage ?? stage,
    seen: seenOf(moment.values, equipment),
    estimates: {
      ...estimates,
      ...moment.estimates,
      scale: { ...estimates.scale, trust: 'trusted', ...moment.scale },
    },
    accounts: { ...opened.accounts, ...moment.accounts },
    memory: { ...opened.memory, ...moment.memory },
    ...moment.state,
  };
}

/** What the interlocks let through last: nothing but the outputs named. */
export const judgedOf = (...on: readonly Output[]): Judged => permittedOf(want(...on));

export const permittedOf = (permitted: Commands): Judged => ({
  wanted: permitted,
  bands: CALM_BANDS,
  remembered: CALM_MEMORY,
  permitted,
  refusals: [],
});
