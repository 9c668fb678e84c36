// One scan of a charge without a job around it: what its functions are given, and the weighing it counts from.
import type { Weighing } from '../../../controller/estimates/masses.ts';
import type { ScaleState } from '../../../controller/estimates/scale-state.ts';
import { type Seen, see } from '../../../controller/estimates/seen.ts';
import { type LossWatch, NOT_WEIGHED } from '../../../controller/interlocks/loss-watch.ts';
import { openJob } from '../../../controller/scan.ts';
import { stageInput } from '../../../controller/stage-input.ts';
import { enterCharge, stepCharge } from '../../../controller/stages/charge.ts';
import type { ChargeData } from '../../../controller/stages/data-charge.ts';
import type { StageInput } from '../../../controller/stages/stage.ts';
import type { Accounts, Estimates } from '../../../controller/state.ts';
import type { Ticket } from '../../../controller/ticket.ts';
import { EQUIPMENT, planFor } from './machine.ts';
import { readingsAt } from './readings.ts';

/** What the tank of the test machine weighs before anything is given, net. */
const BEFORE_KG = 8;

export const weighing = (over: Partial<Weighing> = {}): Weighing => ({
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
  ...over,
});

export const charging = (over: Partial<ChargeData> = {}): ChargeData => ({
  ...enterCharge(0),
  reference: weighing(),
  targetKg: 0.6,
  ...over,
});

export type Given = Omit<Partial<StageInput>, 'seen' | 'accounts' | 'estimates'> & {
  readonly ticket?: Partial<Ticket>;
  readonly seen?: Partial<Seen>;
  readonly accounts?: Partial<Accounts>;
  readonly estimates?: Partial<Estimates>;
  readonly scale?: Partial<ScaleState>;
  /** What has left the tank since it was weighed, by a scale that is trusted. */
  readonly gaveKg?: number;
};

/** A calm machine with a trusted scale, and whatever a test says otherwise. */
export function scanOf(given: Given = {}): StageInput {
  const { ticket, seen, accounts, estimates, scale, gaveKg = 0, equipment = EQUIPMENT, ...rest } = given;
  const plan = given.plan ?? planFor({ service: 'evacuate-and-charge', ...ticket }, equipment);
  const nowMs = given.nowMs ?? 0;
  const opened = openJob(plan, equipment, 0);
  const input = stageInput({ ...opened, seen: see(readingsAt(nowMs), equipment, nowMs) }, [], nowMs);
  const massKg = BEFORE_KG - gaveKg;
  const counts = equipment.scale.zeroCounts + massKg * equipment.scale.countsPerKg;
  return {
    ...input,
    ...rest,
    seen: { ...input.seen, ...seen },
    accounts: { ...input.accounts, ...accounts },
    estimates: {
      ...input.estimates,
      ...estimates,
      scale: { ...input.estimates.scale, trust: 'trusted', massKg, counts, atMs: nowMs, ...scale },
    },
  };
}

/** Codes of what a step tells, in order. */
export const told = ({ notices = [] }: { notices?: readonly { readonly code: string }[] }): string[] =>
  notices.map(({ code }) => code);

/** The outputs that are on. */
export const on = (commands: { readonly [output: string]: { readonly on: boolean } }): string[] =>
  Object.keys(commands).filter((output) => commands[output]!.on);

/** A weighing whose last reading comes in this scan, at half a minute. */
const ending = (counts = 2_100_000) => ({
  sinceMs: 0,
  quietSinceMs: 0,
  samples: 9,
  sum: 9 * counts,
  lastAtMs: 29_900,
});
export const weighed = (data: Partial<ChargeData>, given: Given = {}) =>
  stepCharge(
    charging({ weighing: ending(2_100_000 - (given.gaveKg ?? 0) * 100_000), ...data }),
    scanOf({ nowMs: 30_000, ...given }),
  );

/** A scale watched with everything shut: it falls so fast, evenly, with the noise of the test machine. */
export const restFalling = (kgPerS: number): LossWatch => ({
  ...NOT_WEIGHED,
  sinceMs: 0,
  noiseKg: 0.0004,
  blocks: [0, 1, 2, 3].map((block) => ({ kg: BEFORE_KG - 12.5 * block * kgPerS, hoseSdKg: 0 })),
});
