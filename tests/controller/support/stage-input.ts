// What a stage is shown in one scan, and what it answers: for tests that step a stage by itself.
import type { Equipment } from '../../../controller/equipment.ts';
import type { Weighing } from '../../../controller/estimates/masses.ts';
import { hoseGaugePa } from '../../../controller/estimates/pressures.ts';
import type { ScaleState } from '../../../controller/estimates/scale-state.ts';
import { type Seen, see } from '../../../controller/estimates/seen.ts';
import type { ConfirmedPrompt, OperatorEvent } from '../../../controller/operator.ts';
import type { Plan } from '../../../controller/plan.ts';
import { openJob } from '../../../controller/scan.ts';
import { commandsOf, OFF, ON, type Output } from '../../../controller/signals.ts';
import { stageInput } from '../../../controller/stage-input.ts';
import type { WeighingInProgress } from '../../../controller/stages/data-common.ts';
import type { StageInput } from '../../../controller/stages/stage.ts';
import type { Accounts, Estimates } from '../../../controller/state.ts';
import type { Ticket } from '../../../controller/ticket.ts';
import { EQUIPMENT, planFor } from './machine.ts';
import { readingsAt } from './readings.ts';
import { countsOf, TANK_KG, weighingOf } from './weighings.ts';

/** Nothing is given but what the test is about; the rest is a calm machine long after the start of its job. */
export type Given = Partial<Omit<StageInput, 'seen' | 'accounts' | 'estimates'>> & {
  readonly ticket?: Partial<Ticket>;
  readonly seen?: Partial<Seen>;
  readonly accounts?: Partial<Accounts>;
  readonly scale?: Partial<ScaleState>;
  readonly estimates?: Partial<Estimates>;
  /** What the interlocks let through last scan. */
  readonly on?: readonly Output[];
};

export const NOW_MS = 10_000_000;
const CALM: Seen = see(readingsAt(NOW_MS), EQUIPMENT, NOW_MS);

const PLANS = new Map<string, Plan>();

/** A plan is the same for the same ticket and machine, and costs more than all the rest. */
function planOf(ticket: Partial<Ticket>, equipment: Equipment): Plan {
  const key = JSON.stringify([ticket, equipment]);
  const plan = PLANS.get(key) ?? planFor(ticket, equipment);
  PLANS.set(key, plan);
  return plan;
}

export function shown(given: Given = {}): StageInput {
  const { ticket = {}, equipment = EQUIPMENT, seen, accounts, scale, estimates, on = [], ...rest } = given;
  const { nowMs = NOW_MS, plan = planOf(ticket, equipment) } = given;
  const state = openJob(plan, equipment, 0);
  const rested: ScaleState = {
    ...state.estimates.scale,
    trust: 'trusted',
    counts: countsOf(TANK_KG, equipment),
    massKg: TANK_KG,
    slowMassKg: TANK_KG,
    atMs: nowMs,
    ...estimates?.scale,
    ...scale,
  };
  return {
    ...stageInput({ ...state, seen: { ...CALM, ...seen } }, [], nowMs),
    estimates: { ...state.estimates, ...estimates, scale: rested },
    accounts: { ...state.accounts, ...accounts },
    permitted: commandsOf((output) => (on.includes(output) ? ON : OFF)),
    compressorRestLeftMs: 0,
    compressorRested: true,
    ...rest,
  };
}

export const says = (prompt: ConfirmedPrompt): Pick<StageInput, 'answers'> => ({
  answers: [{ type: 'confirmed', prompt }],
});

export const entered = (volumeM3: number): Pick<StageInput, 'answers'> => ({
  answers: [{ type: 'entered', prompt: 'read-catch-bottle', volumeM3 } satisfies OperatorEvent],
});

/** A weighing that the very next scan completes; what it has summed so far is what the scale shows then. */
export const almostWeighed = (
  kg = TANK_KG,
  nowMs = NOW_MS,
  hosePa = hoseGaugePa(CALM),
): WeighingInProgress => ({
  sinceMs: nowMs - 9_000,
  quietSinceMs: nowMs - 9_000,
  samples: 59,
  sum: 59 * countsOf(kg),
  hosePaSum: 59 * hosePa,
  lastAtMs: nowMs - 100,
});

/** A tank that was weighed ten minutes ago. */
export const weighing = (kg: number, more: Partial<Weighing> = {}): Weighing =>
  weighingOf(kg, { atMs: NOW_MS - 600_000, ...more });
