// What a stage is shown in one scan, and what it answers: for tests that step a stage by itself.
import type { Equipment } from '../../../controller/equipment.ts';
import type { Weighing } from '../../../controller/estimates/masses.ts';
import type { ScaleState } from '../../../controller/estimates/scale-state.ts';
import { type Seen, see } from '../../../controller/estimates/seen.ts';
import type { ConfirmedPrompt, OperatorEvent } from '../../../controller/operator.ts';
import { openJob } from '../../../controller/scan.ts';
import { type Commands, commandsOf, OFF, ON, OUTPUTS, type Output } from '../../../controller/signals.ts';
import { stageInput } from '../../../controller/stage-input.ts';
import type { WeighingInProgress } from '../../../controller/stages/data-common.ts';
import type { StageInput } from '../../../controller/stages/stage.ts';
import type { Accounts, Estimates } from '../../../controller/state.ts';
import type { Ticket } from '../../../controller/ticket.ts';
import { EQUIPMENT, planFor } from './machine.ts';
import { readingsAt } from './readings.ts';

/** Nothing is given but what the test is about; the rest is a calm machine long after the start of its job. */
export type Given = Partial<
  Omit<StageInput, 'plan' | 'equipment' | 'seen' | 'accounts' | 'estimates' | 'permitted'>
> & {
  readonly ticket?: Partial<Ticket>;
  readonly equipment?: Equipment;
  readonly seen?: Partial<Seen>;
  readonly accounts?: Partial<Accounts>;
  readonly scale?: Partial<ScaleState>;
  readonly estimates?: Partial<Omit<Estimates, 'scale'>>;
  /** What the interlocks let through last scan. */
  readonly on?: readonly Output[];
};

export const NOW_MS = 10_000_000;
/** The machine's scale by its equipment: 8 kg lie in the tank. */

export const countsOf = (kg: number): number => EQUIPMENT.scale.zeroCounts + kg * EQUIPMENT.scale.countsPerKg;
const CALM: Seen = see(readingsAt(NOW_MS), EQUIPMENT, NOW_MS);

export function shown(given: Given = {}): StageInput {
  const { ticket = {}, equipment = EQUIPMENT, seen, accounts, scale, estimates, on = [], ...rest } = given;
  const { nowMs = NOW_MS } = given;
  const state = openJob(planFor(ticket, equipment), equipment, 0);
  const rested: ScaleState = {
    ...state.estimates.scale,
    trust: 'trusted',
    counts: countsOf(8),
    massKg: 8,
    atMs: nowMs,
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
export const almostWeighed = (kg = 8, nowMs = NOW_MS): WeighingInProgress => ({
  sinceMs: nowMs - 9_000,
  quietSinceMs: nowMs - 9_000,
  samples: 59,
  sum: 59 * countsOf(kg),
  lastAtMs: nowMs - 100,
});

/** A tank that was weighed, calm and without doubt. */
export const weighing = (kg: number, more: Partial<Weighing> = {}): Weighing => ({
  counts: countsOf(kg),
  meanSdKg: 0.0002,
  offsetKg: 0,
  bumps: 0,
  undecidedVarianceKg2: 0,
  hoseGaugePa: 0,
  hoseDoubtPa: 0,
  ambientK: 293.15,
  cellWarmerK: 0,
  driftKgPerS: 0,
  atMs: NOW_MS - 600_000,
  ...more,
});

export const onOf = (commands: Commands): readonly Output[] =>
  OUTPUTS.filter((output) => commands[output].on);

export const codesOf = ({
  notices = [],
}: {
  readonly notices?: readonly { readonly code: string }[];
}): readonly string[] => notices.map(({ code }) => code);
