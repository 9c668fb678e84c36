// Runs one drawn job on the simulated bench, as `coldbench run` does, and holds what it says to the truth.

import { afterRecovery, watchedJob } from '../../app/bench/watched-job.ts';
import { clockMs, fluidOnce } from '../../app/bench/whole-jobs.ts';
import { prepare } from '../../app/run/prepare.ts';
import { toScenario } from '../../app/scenario/scenario.ts';
import { gainOf } from '../../controller/estimates/masses.ts';
import type { ControllerState } from '../../controller/scan.ts';
import type { ProfileName } from '../../sim/profiles.ts';
import type { Truth } from '../../sim/spec.ts';
import { gramsScenario } from './grams-scenario.ts';

/** Grams unless the name says otherwise. Absent is what the job did not come to. */
export type GramsRow = {
  readonly seed: number;
  readonly outcome: string;
  readonly chargeResult?: string;
  readonly minutes: number;
  readonly prompts: number;
  /** In the vehicle at the end less the nominal charge, in the truth. */
  readonly chargeError?: number;
  /** Stated net charge less the truth, and what is stated for it, k = 2. */
  readonly netError?: number;
  readonly netUncertainty?: number;
  /** Indicated recovered mass less what has left the vehicle, and what is stated for it, k = 2. */
  readonly recoveredError?: number;
  readonly recoveredUncertainty?: number;
  readonly causes?: NetCauses;
  readonly notices: readonly string[];
};

/** Where the error of the stated net charge comes from. They sum to it. */
export type NetCauses = {
  /** What the two weighings make too much of the tank's loss. */
  readonly scale: number;
  /** What hoses, manifold, separator and coil hold beyond what was reckoned with. */
  readonly machine: number;
  /** In the vehicle before the charge, with its sign turned: the account begins at nothing. */
  readonly residue: number;
};

const grams = (massKg: number): number => Math.round(massKg * 1e5) / 100;

function causesOf(
  { accounts, equipment }: ControllerState,
  before: Truth,
  after: Truth,
): NetCauses | undefined {
  const { weighedBeforeCharge, weighed, netChargeKg, hoseForce } = accounts;
  if (weighedBeforeCharge === undefined || weighed === undefined || netChargeKg === undefined)
    return undefined;
  const gain = gainOf(weighedBeforeCharge, weighed, equipment, hoseForce);
  const tankGainKg = after.tankRefrigerantKg - before.tankRefrigerantKg;
  const held = (truth: Truth): number => truth.hoseRefrigerantKg + truth.machineRefrigerantKg;
  const reckonedKg = -gain.massKg - netChargeKg;
  return {
    scale: grams(tankGainKg - gain.massKg),
    machine: grams(held(after) - held(before) - reckonedKg),
    residue: grams(-before.vehicleRefrigerantKg),
  };
}

export async function gramsJob(profile: ProfileName, seed: number): Promise<GramsRow> {
  const file = gramsScenario(profile, seed);
  const session = prepare(toScenario(file, file.name), file.name, fluidOnce, clockMs);
  const watched = await watchedJob(session);
  const { facts, initial, marks, prompts, state } = watched;
  const { result, truth } = facts;
  const masses = result?.masses ?? {};
  const { netChargeKg, uncertaintyKg, recoveredKg, recoveredUncertaintyKg } = masses;
  const recovered = afterRecovery(watched);
  const leftKg = recovered && initial.vehicleRefrigerantKg - recovered.vehicleRefrigerantKg;
  const chargeResult = result?.stages.findLast(({ stage }) => stage === 'charge')?.result;
  const before = marks['leak-check'] ?? marks.charge;
  const causes = before === undefined || state === undefined ? undefined : causesOf(state, before, truth);
  return {
    seed,
    outcome: facts.outcome,
    minutes: Math.round(facts.simulatedMs / 6000) / 10,
    prompts,
    ...(chargeResult === undefined ? {} : { chargeResult }),
    ...(before === undefined
      ? {}
      : { chargeError: grams(truth.vehicleRefrigerantKg - file.ticket.nominalChargeG / 1000) }),
    ...(netChargeKg === undefined ? {} : { netError: grams(netChargeKg - truth.vehicleRefrigerantKg) }),
    ...(uncertaintyKg === undefined ? {} : { netUncertainty: grams(uncertaintyKg) }),
    ...(recoveredKg === undefined || leftKg === undefined
      ? {}
      : { recoveredError: grams(recoveredKg - leftKg) }),
    ...(recoveredUncertaintyKg === undefined ? {} : { recoveredUncertainty: grams(recoveredUncertaintyKg) }),
    ...(causes === undefined ? {} : { causes }),
    notices: [...new Set((result?.notices ?? []).map(({ code }) => code))],
  };
}
