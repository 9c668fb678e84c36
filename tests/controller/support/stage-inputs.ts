// What a stage is shown, made of the few things that a test is about: everything else is unknown, shut and new.
import { NEVER_JOINED } from '../../../controller/estimates/joined.ts';
import { NOTHING_KEPT } from '../../../controller/estimates/kept.ts';
import type { Weighing } from '../../../controller/estimates/masses.ts';
import { openScale, type ScaleState } from '../../../controller/estimates/scale-state.ts';
import type { Seen } from '../../../controller/estimates/seen.ts';
import { NO_DRIFT } from '../../../controller/estimates/zero-drift.ts';
import type { Plan } from '../../../controller/plan.ts';
import type { Commands, Output } from '../../../controller/signals.ts';
import type { WeighingInProgress } from '../../../controller/stages/data-common.ts';
import { type StageInput, want } from '../../../controller/stages/stage.ts';
import type { Accounts, Estimates } from '../../../controller/state.ts';
import type { Ticket } from '../../../controller/ticket.ts';
import { EQUIPMENT, planFor } from './machine.ts';

/** A room at 20 °C and sea level; no pressure has a value. */
export const UNSEEN: Seen = {
  highSidePa: undefined,
  lowSidePa: undefined,
  tankPa: undefined,
  manifoldPa: undefined,
  manifoldOverSpan: false,
  vehicleVacuumPa: undefined,
  barometerPa: 101_325,
  tankTemperatureK: 293.15,
  ambientK: 293.15,
  ventK: undefined,
  scaleCounts: undefined,
  scaleAtMs: undefined,
  heardAtMs: undefined,
  emergencyStop: 'clear',
  highPressureSwitch: 'clear',
  fanFlow: 'clear',
  gasAlarm: 'not-fitted',
};

export type Given = Partial<Omit<StageInput, 'seen' | 'accounts' | 'estimates' | 'permitted' | 'plan'>> & {
  readonly ticket?: Partial<Ticket>;
  readonly plan?: Plan;
  readonly seen?: Partial<Seen>;
  readonly accounts?: Partial<Accounts>;
  readonly estimates?: Partial<Estimates>;
  /** What the interlocks let through. */
  readonly on?: readonly Output[];
};

const NEW_ACCOUNTS: Partial<Accounts> = {
  hoseForce: { kgPerPa: 0, sdKgPerPa: EQUIPMENT.scale.hoseForceKgPerPaSd },
  cycles: [],
  evacuations: 0,
  kept: NOTHING_KEPT,
  highSideZeroPa: 0,
};

const PLANS = new Map<string, Plan>();

/** A plan is the same for the same ticket, and costs more than all the rest. */
function planOf(ticket: Partial<Ticket>): Plan {
  const key = JSON.stringify(ticket);
  const plan = PLANS.get(key) ?? planFor(ticket);
  PLANS.set(key, plan);
  return plan;
}

export function inputOf(given: Given = {}): StageInput {
  const { ticket = {}, plan, seen, accounts, estimates, on = [], ...others } = given;
  return {
    nowMs: 0,
    equipment: EQUIPMENT,
    answers: [],
    engine: 'off',
    ...others,
    plan: plan ?? planOf(ticket),
    seen: { ...UNSEEN, ...seen },
    accounts: { ...NEW_ACCOUNTS, ...accounts },
    estimates: { ...estimates },
    permitted: want(...on),
  } as unknown as StageInput;
}

/** The outputs that are on, in the order of the machine. */
export const outputsOn = (commands: Commands): readonly Output[] =>
  (Object.keys(commands) as Output[]).filter((output) => commands[output].on);

/** A tank of 8 kg on a scale that has come to rest, and the weighing of it. */
export const TRUSTED: ScaleState = {
  ...openScale(),
  trust: 'trusted',
  counts: 2_100_000,
  massKg: 8,
  slowMassKg: 8,
};
export const WEIGHED: Weighing = {
  counts: 2_100_000,
  meanSdKg: 0.0002,
  cellWarmerK: 0,
  driftKgPerS: 0,
  offsetKg: 0,
  bumps: 0,
  undecidedVarianceKg2: 0,
  hoseGaugePa: 0,
  hoseDoubtPa: 0,
  ambientK: 293.15,
  atMs: 0,
};
/** A weighing that needs one more sample and no more time. */
export const NEARLY_WEIGHED: WeighingInProgress = {
  sinceMs: 0,
  quietSinceMs: 0,
  samples: 9,
  sum: 9 * 2_100_000,
  lastAtMs: 59_900,
};
/** The scan that ends it. */
export const weighedNow = (counts = 2_100_000): Given => ({
  nowMs: 60_000,
  estimates: {
    scale: { ...TRUSTED, counts, atMs: 60_000 },
    joined: NEVER_JOINED,
    drift: NO_DRIFT,
    cellWarmerK: 0,
  },
});
