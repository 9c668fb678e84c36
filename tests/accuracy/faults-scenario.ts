// The cases of the campaign of faults: every plant fault, in every stage, at three moments; and the jobs in which they strike.
import { OUTPUTS, type Output } from '../../controller/signals.ts';
import { STAGES, type Stage } from '../../controller/stages.ts';
import { FAULT_NAMES, FAULTS, type FaultName } from '../../sim/faults.ts';
import type { ProfileName } from '../../sim/profiles.ts';

/** One fault, with the output that it strikes where it strikes one. */
export type Strike = { readonly fault: FaultName; readonly output?: Output };

const STRIKES: readonly Strike[] = FAULT_NAMES.flatMap((fault) =>
  FAULTS[fault].output === true ? OUTPUTS.map((output) => ({ fault, output })) : [{ fault }],
);

export const nameOf = ({ fault, output }: Strike): string =>
  output === undefined ? fault : `${fault} ${output}`;

/** Shares of how long the stage lasts when nothing is wrong. The first comes first, so that a short run is a thin one. */
export const MOMENTS = [0.5, 0.02, 0.9] as const;

export type Case = { readonly strike: Strike; readonly stage: Stage; readonly share: number };

const casesAt = (share: number, strikes: readonly Strike[]): readonly Case[] =>
  strikes.flatMap((strike) => STAGES.map((stage) => ({ strike, stage, share })));

/** An output that is welded or dead is so whenever the stage uses it: one moment is enough. */
const [MIDDLE, ...OTHERS] = MOMENTS;
const ALL: readonly Case[] = [
  ...casesAt(MIDDLE, STRIKES),
  ...OTHERS.flatMap((share) =>
    casesAt(
      share,
      STRIKES.filter(({ output }) => output === undefined),
    ),
  ),
];
export const CASES = ALL.length;
/** So many have struck at the first moment. */
export const FIRST_CASES = STRIKES.length * STAGES.length;

/** @param index from 1. */
export const caseOf = (index: number): Case => ALL[(index - 1) % CASES]!;

export const JOBS = ['whole', 'evacuate-and-charge', 'fill-tank'] as const;
export type JobName = (typeof JOBS)[number];

const FIRST: readonly Stage[] = ['identify', 'purge-air', 'settle', 'recover', 'rest', 'drain-oil'];

/** A fault that strikes early stays on through all that follows; later stages need no recovery before them. */
export const jobFor = (stage: Stage): JobName =>
  stage === 'fill' ? 'fill-tank' : FIRST.includes(stage) ? 'whole' : 'evacuate-and-charge';

export const NOMINAL_G = 300;
/** A kilogram and the charge below its limit: hardly more than the machine begins a recovery with. */
const NEARLY_FULL_KG = 15.9;

/** A small warm vehicle, so that thousands of jobs are short; every stage that the machine has comes in one of them. */
export function faultsScenario(profile: ProfileName, job: JobName, faults: readonly object[]) {
  const refrigerant = 'R-134a';
  const common = { seed: 4, weather: { ambientC: 20 }, equipment: profile, operator: { delayS: 5 }, faults };
  if (job === 'fill-tank') {
    return {
      ...common,
      ticket: { service: job, refrigerant, fillKg: 0.2, cylinderKg: 12 },
      cylinder: { contentKg: 12 },
      tank: { contentKg: 8 },
    };
  }
  return {
    ...common,
    ticket: {
      service: job,
      refrigerant,
      nominalChargeG: NOMINAL_G,
      engine: 'can-run',
      repair: true,
      leakCheck: true,
      oil: { addMl: 10 },
      dyeMl: 5,
    },
    vehicle: {
      chargeG: job === 'whole' ? 250 : 0,
      volumeL: 1.5,
      oilG: 30,
      accumulatorHeatCapacityJPerK: 2000,
      accumulatorUaWPerK: 10,
    },
    tank: job === 'whole' ? { contentKg: NEARLY_FULL_KG, airG: 3, restedH: 12 } : { contentKg: 8 },
    repair: { hours: 0.1 },
  };
}
