// One job of a campaign: run as `coldbench run` does, watched for harm, and told in a line of figures.

import type { Notice } from '../../controller/notice.ts';
import { type JobResult, jobResult } from '../../controller/result.ts';
import type { Stage } from '../../controller/stages.ts';
import type { HoldAccount } from '../../controller/state.ts';
import { InputError, textOf } from '../cli/command.ts';
import type { RunFacts } from '../run/document.ts';
import type { Outcome } from '../run/document-type.ts';
import { powerWasLost } from '../run/faults.ts';
import { prepare, type Session } from '../run/prepare.ts';
import { type Scenario, toScenario } from '../scenario/scenario.ts';
import { scenarioOfJob, seedOfJob } from './drawn.ts';
import { limitsOf, Watch } from './harm.ts';
import type { CampaignPlan } from './plan.ts';
import { afterRecovery, type WatchedJob, watchedJob } from './watched-job.ts';
import { clockMs, fluidOnce } from './whole-jobs.ts';

/** Grams, minutes and shares. What a job did not come to is absent. */
export type JobRow = {
  readonly job: number;
  readonly seed: number;
  /** `invalid`: what was drawn is no scenario; `broke`: the simulator or the controller threw. */
  readonly outcome: Outcome | 'invalid' | 'broke';
  /** What stopped or refused it, or why there was none. */
  readonly why?: string;
  /** Last stage, and what it ended with. */
  readonly end?: string;
  /** In the vehicle at the end less the nominal charge, in the truth, where the charge was told to be done. */
  readonly chargeErrorG?: number;
  /** Stated net charge less the truth, and what is stated for it, k = 2. */
  readonly netErrorG?: number;
  readonly netUncertaintyG?: number;
  /** Indicated recovered mass less what has left the vehicle, and what is stated for it, k = 2. */
  readonly recoveredErrorG?: number;
  readonly recoveredUncertaintyG?: number;
  /** In the vehicle when the recovery was over. */
  readonly residualG?: number;
  readonly hold?: { readonly verdict: string; readonly held: Held };
  readonly recoverMin?: number;
  readonly evacuateMin?: number;
  readonly totalMin?: number;
  readonly prompts?: number;
  /** Interlocks that tripped, and those that held an output for so long that it was told. */
  readonly trips?: readonly string[];
  readonly holding?: readonly string[];
  /** To the room by pump, purge, drain or a fault; a leak of the vehicle is its own. */
  readonly lostG?: number;
  /** Most that the tank held, of its limit. */
  readonly tankFill?: number;
  /** What the truth was harmed by, and how badly: kg, Pa, or a count. */
  readonly harm?: { readonly [kind: string]: number };
  /** Faults that came on. */
  readonly faults?: readonly string[];
};

/** The verdict of the hold against the truth; `unknown` where a fault or a repair leaves no plain truth. */
export type Held = 'right' | 'missed' | 'false-alarm' | 'inconclusive' | 'unknown';

const AFTER_THE_END_MS = 1_500;
const MINUTE_MS = 60_000;

const hundredth = (value: number): number => Math.round(value * 100) / 100;
const grams = (massKg: number): number => hundredth(1000 * massKg);

/** The row that a notice names, where it is about an interlock. */
export const interlockIn = ({ text }: Pick<Notice, 'text'>): string | undefined =>
  /nterlock (\S+)/.exec(text)?.[1];

const given = <K extends string, T>(key: K, value: T | undefined): { readonly [N in K]?: T } =>
  (value === undefined ? {} : { [key]: value }) as { [N in K]?: T };

const minutesIn = ({ stages }: JobResult, among: readonly Stage[]): number | undefined => {
  const done = stages.filter(({ stage, endedAtMs }) => among.includes(stage) && endedAtMs !== undefined);
  const totalMs = done.reduce((sum, { startedAtMs, endedAtMs }) => sum + endedAtMs! - startedAtMs, 0);
  return done.length === 0 ? undefined : hundredth(totalMs / MINUTE_MS);
};

function heldAgainst(
  { vehicle }: Scenario,
  { verdict, detectionLimitKgPerYear }: HoldAccount,
  facts: RunFacts,
): Held {
  const struck = facts.faults.some(({ onAtMs }) => onAtMs !== undefined);
  if (vehicle === undefined || vehicle.repair !== undefined || struck) return 'unknown';
  if (verdict === 'inconclusive') return 'inconclusive';
  const { leakKgPerYear, holeDiameterM } = vehicle;
  if (verdict === 'leak') return leakKgPerYear > 0 || holeDiameterM > 0 ? 'right' : 'false-alarm';
  return leakKgPerYear >= detectionLimitKgPerYear || holeDiameterM > 0 ? 'missed' : 'right';
}

function massesOf(watched: WatchedJob, result: JobResult, nominalKg: number) {
  const { initial, marks, facts } = watched;
  const { netChargeKg, uncertaintyKg, recoveredKg, recoveredUncertaintyKg } = result.masses;
  const inVehicleKg = facts.truth.vehicleRefrigerantKg;
  const after = afterRecovery(watched);
  const leftKg = after && initial.vehicleRefrigerantKg - after.vehicleRefrigerantKg;
  const recovered =
    recoveredKg === undefined || leftKg === undefined ? undefined : grams(recoveredKg - leftKg);
  const charged = result.stages.some((visit) => visit.stage === 'charge' && visit.result === 'charged');
  return {
    ...given('chargeErrorG', charged ? grams(inVehicleKg - nominalKg) : undefined),
    ...given('netErrorG', netChargeKg === undefined ? undefined : grams(netChargeKg - inVehicleKg)),
    ...given('netUncertaintyG', uncertaintyKg === undefined ? undefined : grams(uncertaintyKg)),
    ...given('recoveredErrorG', recovered),
    ...given(
      'recoveredUncertaintyG',
      recoveredUncertaintyKg === undefined ? undefined : grams(recoveredUncertaintyKg),
    ),
    ...given(
      'residualG',
      marks.recover === undefined || after === undefined ? undefined : grams(after.vehicleRefrigerantKg),
    ),
  };
}

function courseOf(result: JobResult, scenario: Scenario, { facts, prompts }: WatchedJob) {
  const last = result.stages.at(-1);
  const { hold, notices } = result;
  const holding = notices
    .filter(({ code }) => code === 'held-by-interlock')
    .flatMap((told) => interlockIn(told) ?? []);
  return {
    ...given('end', last === undefined ? undefined : `${last.stage}: ${last.result ?? 'left open'}`),
    ...given(
      'hold',
      hold === undefined ? undefined : { verdict: hold.verdict, held: heldAgainst(scenario, hold, facts) },
    ),
    ...given('recoverMin', minutesIn(result, ['recover', 'rest'])),
    ...given('evacuateMin', minutesIn(result, ['evacuate'])),
    totalMin: hundredth(facts.simulatedMs / MINUTE_MS),
    prompts,
    ...(holding.length === 0 ? {} : { holding: [...new Set(holding)] }),
  };
}

/** The last thing that was told, but that the hoses may come off. */
const reasonIn = ({ notices }: JobResult): string | undefined =>
  notices.findLast(({ code }) => code !== 'hoses-safe')?.code;

/** Looks at the truth scan by scan, and once more when the machine has had time to come to rest. */
async function watchHarm(session: Session) {
  const { bench, equipment, scenario } = session;
  const limits = limitsOf(
    scenario.equipment.profile,
    equipment.tank.fillLimitKg,
    scenario.ticket.nominalChargeKg,
  );
  const watch = new Watch(limits, bench.inspect());
  const trips = new Set<string>();
  let mostTankKg = 0;
  const watched = await watchedJob(session, (state) => {
    const now = bench.inspect();
    watch.look(now, state);
    mostTankKg = Math.max(mostTankKg, now.tank.refrigerantKg);
    const row = state.memory.trip?.row;
    if (row !== undefined) trips.add(row);
  });
  bench.advanceTo(bench.nowMs() + AFTER_THE_END_MS);
  watch.lookAtEnd(bench.inspect(), !powerWasLost(watched.facts.faults));
  return { watched, found: watch.found, trips: [...trips], fill: mostTankKg / equipment.tank.fillLimitKg };
}

async function ranRow(scenario: Scenario): Promise<Omit<JobRow, 'job' | 'seed'>> {
  const session = prepare(scenario, scenario.name, fluidOnce, clockMs);
  const { watched, found, trips, fill } = await watchHarm(session);
  const { facts, state } = watched;
  const { outcome, truth, blockers } = facts;
  if (state === undefined) return { outcome, why: blockers.map(({ code }) => code).join(', ') };
  const result = facts.result ?? jobResult(state);
  const struck = facts.faults.filter(({ onAtMs }) => onAtMs !== undefined);
  const lostKg = truth.pumpExhaustKg + truth.purgedKg + truth.ventedKg + truth.spilledKg;
  return {
    outcome,
    ...given('why', outcome === 'stopped' ? reasonIn(result) : undefined),
    ...courseOf(result, scenario, watched),
    ...massesOf(watched, result, scenario.ticket.nominalChargeKg),
    lostG: grams(lostKg),
    tankFill: Math.round(1e4 * fill) / 1e4,
    ...(trips.length === 0 ? {} : { trips }),
    ...(found.length === 0
      ? {}
      : { harm: Object.fromEntries(found.map(({ harm, worst }) => [harm, Number(worst.toPrecision(4))])) }),
    ...(struck.length === 0 ? {} : { faults: struck.map(({ planned }) => planned.fault.fault) }),
  };
}

const firstLine = (error: unknown): string => textOf(error).split('\n')[0] ?? '';

/** One job, whatever becomes of it: what is drawn beyond a scenario's bounds, or breaks, is told in its row. */
export async function campaignJob(plan: CampaignPlan, campaignSeed: number, job: number): Promise<JobRow> {
  const about = { job, seed: seedOfJob(campaignSeed, job) };
  try {
    const scenario = toScenario(scenarioOfJob(plan, campaignSeed, job), `job ${job}`);
    return { ...about, ...(await ranRow(scenario)) };
  } catch (error) {
    return { ...about, outcome: error instanceof InputError ? 'invalid' : 'broke', why: firstLine(error) };
  }
}
