// Runs one drawn job on the simulated bench, as `coldbench run` does, and holds what it says to the truth.
import type { ScanLoop } from '../../app/run/loop.ts';
import { prepare } from '../../app/run/prepare.ts';
import { runSession } from '../../app/run/session.ts';
import { toScenario } from '../../app/scenario/scenario.ts';
import { gainOf } from '../../controller/estimates/masses.ts';
import type { ControllerState } from '../../controller/scan.ts';
import type { Stage } from '../../controller/stages.ts';
import type { ProfileName } from '../../sim/profiles.ts';
import type { Truth } from '../../sim/spec.ts';
import { clockMs, fluidOnce, PACING } from '../whole-jobs.ts';
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

/** The truth at the moment a stage was first entered. */
type Marks = { readonly [S in Stage]?: Truth };

const RECOVERING: readonly Stage[] = ['identify', 'settle', 'recover', 'rest'];

const grams = (massKg: number): number => Math.round(massKg * 1e5) / 100;

/** Vehicle at the end of recovery, whatever came next. */
function recoveredTruthKg(initial: Truth, marks: Marks): number | undefined {
  const stages = Object.keys(marks) as Stage[];
  const next = stages.find((stage) => !RECOVERING.includes(stage));
  const after = next === undefined ? undefined : marks[next];
  return after === undefined ? undefined : initial.vehicleRefrigerantKg - after.vehicleRefrigerantKg;
}

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
  const { bench } = session;
  const initial = bench.truth();
  const marks: { [S in Stage]?: Truth } = {};
  let loop: ScanLoop | undefined;
  let prompts = 0;
  let askedAtMs: number | undefined;
  const facts = await runSession(session, {
    pacing: PACING,
    started: (begun) => {
      loop = begun;
    },
    observers: [
      () => {
        const state = loop?.state;
        const stage = state?.visits.at(-1)?.stage;
        if (stage !== undefined && marks[stage] === undefined) marks[stage] = bench.truth();
        if (state?.prompt !== undefined && state.prompt.askedAtMs !== askedAtMs) prompts++;
        askedAtMs = state?.prompt?.askedAtMs;
      },
    ],
  });
  const { result, truth } = facts;
  const masses = result?.masses ?? {};
  const { netChargeKg, uncertaintyKg, recoveredKg, recoveredUncertaintyKg } = masses;
  const leftKg = recoveredTruthKg(initial, marks);
  const chargeResult = result?.stages.findLast(({ stage }) => stage === 'charge')?.result;
  const before = marks['leak-check'] ?? marks.charge;
  const causes = before === undefined || loop === undefined ? undefined : causesOf(loop.state, before, truth);
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
