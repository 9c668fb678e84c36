// Runs one job in which one fault strikes at one moment, and holds what became of it to the truth.

import { interlockIn } from '../../app/bench/campaign-job.ts';
import { clockMs, fluidOnce, PACING } from '../../app/bench/whole-jobs.ts';
import type { RunFacts } from '../../app/run/document.ts';
import { powerWasLost } from '../../app/run/faults.ts';
import type { ScanLoop } from '../../app/run/loop.ts';
import { prepare } from '../../app/run/prepare.ts';
import { runSession } from '../../app/run/session.ts';
import { toScenario } from '../../app/scenario/scenario.ts';
import type { Notice } from '../../controller/notice.ts';
import type { Commands } from '../../controller/signals.ts';
import type { Bench } from '../../sim/bench.ts';
import type { ProfileName } from '../../sim/profiles.ts';
import type { Truth } from '../../sim/spec.ts';
import { fits } from './faults-fitting.ts';
import { type LedgerError, LedgerWatch } from './faults-ledger.ts';
import { caseOf, faultsScenario, type JobName, jobFor, NOMINAL_G, nameOf } from './faults-scenario.ts';

export type FaultRow = {
  readonly seed: number;
  readonly fault: string;
  readonly stage: string;
  readonly share: number;
  /** Absent when the job never came to that moment. */
  readonly ran?: {
    readonly outcome: string;
    /** Last stage, and what it ended with. */
    readonly end: string;
    /** Stages, results or outcome differ from the same job without the fault. */
    readonly changed: boolean;
    /** What was told that the same job without the fault does not tell, in its order. */
    readonly told: readonly string[];
    /** One of them names a fitting cause or remedy. */
    readonly fits: boolean;
    readonly unsafe: readonly string[];
    /** Of the vehicle at the end, beyond its nominal charge. */
    readonly overG: number;
    /** To the room beyond the same job without the fault, by pump, leak, purge, spill or a path of the machine; air into the tank. */
    readonly lostG: number;
    readonly airG: number;
    readonly ledger: readonly LedgerError[];
  };
};

type Ran = {
  readonly facts: RunFacts;
  readonly begun: Truth;
  readonly mostTankKg: number;
  readonly limitKg: number;
  readonly commands: Commands | undefined;
  readonly ledger: readonly LedgerError[];
  /** A minute after the end. */
  readonly later: Truth;
};

const LOOK_MS = 30_000;
const AFTER_MS = 60_000;
/** Whoever is told of a trip or a pause ends the job then; nobody resumes with the fault still on. */
const HALTED_MS = 5 * 60_000;

async function run(file: object): Promise<Ran> {
  const session = prepare(toScenario(file, 'the job'), 'the job', fluidOnce, clockMs);
  const bench: Bench = session.bench;
  const begun = bench.truth();
  const ledger = new LedgerWatch(begun);
  let loop: ScanLoop | undefined;
  let commands: Commands | undefined;
  let mostTankKg = begun.tankRefrigerantKg;
  const facts = await runSession(session, {
    pacing: PACING,
    started: (opened) => {
      loop = opened;
    },
    observers: [
      (seen) => {
        ledger.look(loop!.state, () => bench.truth());
        commands = seen.commands;
        const { haltedAtMs } = loop!.state;
        if (haltedAtMs !== undefined && seen.nowMs === haltedAtMs + HALTED_MS)
          loop!.send({ type: 'aborted' });
        if (seen.nowMs % LOOK_MS === 0) mostTankKg = Math.max(mostTankKg, bench.truth().tankRefrigerantKg);
      },
    ],
  });
  bench.advanceTo(bench.nowMs() + AFTER_MS);
  return {
    facts,
    begun,
    mostTankKg: Math.max(mostTankKg, facts.truth.tankRefrigerantKg),
    limitKg: session.equipment.tank.fillLimitKg,
    commands,
    ledger: loop === undefined ? [] : ledger.errors(loop.state, facts.truth),
    later: bench.truth(),
  };
}

const calm = new Map<string, Promise<Ran>>();

/** The same job with nothing wrong, run once. */
function calmRun(profile: ProfileName, job: JobName): Promise<Ran> {
  const key = `${profile} ${job}`;
  const known = calm.get(key) ?? run(faultsScenario(profile, job, []));
  calm.set(key, known);
  return known;
}

/** A trip or a hold is told with the row that caused it. */
function labelOf({ code, text }: Notice): string {
  const row = interlockIn({ text });
  return row === undefined ? code : `${code} ${row}`;
}

type Told = Pick<Notice, 'text' | 'remedy'> & { readonly label: string };

const counted = (told: readonly Told[]): Map<string, number> =>
  new Map([...Map.groupBy(told, ({ label }) => label)].map(([label, all]) => [label, all.length]));

/** Labels beyond as many of the same as the calm job has. */
function freshOf(all: readonly Told[], before: readonly Told[]): readonly Told[] {
  const left = counted(before);
  return all.filter(({ label }) => {
    const known = left.get(label) ?? 0;
    left.set(label, known - 1);
    return known <= 0;
  });
}

const toldIn = ({ result, blockers }: RunFacts): readonly Told[] => [
  ...blockers.map(({ code, text, remedy }) => ({ label: `refused: ${code}`, text, remedy })),
  ...(result?.notices ?? []).map((notice) => ({ ...notice, label: labelOf(notice) })),
];

/** What any halted or aborted job ends with. */
const ENDINGS: readonly string[] = ['wait-timed-out', 'aborted', 'timed-out'];

const course = ({ outcome, result }: RunFacts): string =>
  [outcome, ...(result?.stages ?? []).map(({ stage, result: end }) => `${stage} ${end}`)].join(', ');

/** Refrigerant that a purge may cost in one session. */
const PURGE_KG = 0.0205;
/** Given off by oil while it is pumped once more. */
const EXHAUST_KG = 0.008;
/** Air that a suction draws in a minute before it is told from vapour: 0.25 L/s. */
const AIR_KG = 0.025;
const OVER_KG = { good: 0.015, hobby: 0.03 } as const;

/** Ways out of the plant; a leak of the vehicle or of a repair is not the machine's. */
const OUT = ['pumpExhaustKg', 'purgedKg', 'ventedKg'] as const;

/** With the couplers open an engine that runs on condenses in the hoses, and that is the vehicle's as well. */
const ON_THE_VEHICLE = ['vehicleRefrigerantKg', 'hoseRefrigerantKg'] as const;

function unsafeIn(profile: ProfileName, ran: Ran, still: Ran): readonly string[] {
  const { truth } = ran.facts;
  const { later, commands, begun } = ran;
  const beyond = (key: keyof Truth): number => truth[key] - still.facts.truth[key];
  const moved = (...keys: readonly (keyof Truth)[]): number =>
    Math.abs(keys.reduce((sum, key) => sum + later[key] - truth[key], 0));
  // Without power nothing is commanded any longer, whatever the last word was.
  const died = powerWasLost(ran.facts.faults);
  const judged: readonly (readonly [string, boolean])[] = [
    ['vented', beyond('ventedKg') > 5e-4],
    ['exhausted', beyond('pumpExhaustKg') > EXHAUST_KG],
    ['purged', truth.purgedKg > PURGE_KG],
    ['spilled', beyond('spilledKg') > 1e-3],
    ['tank over its limit', ran.mostTankKg > ran.limitKg],
    ['air into the tank', truth.tankAirKg - begun.tankAirKg > AIR_KG],
    ['overcharged', truth.vehicleRefrigerantKg > NOMINAL_G / 1000 + OVER_KG[profile]],
    ['commanded at the end', !died && commands !== undefined && Object.values(commands).some(({ on }) => on)],
    ['flows out after the end', OUT.some((key) => moved(key) > 1e-3) || moved(...ON_THE_VEHICLE) > 2e-3],
    ['a gram without a place', Math.abs(truth.massDriftKg) > 1e-6],
  ];
  return judged.filter(([, so]) => so).map(([what]) => what);
}

const lostKg = ({ pumpExhaustKg, leakedKg, purgedKg, spilledKg, ventedKg }: Truth): number =>
  pumpExhaustKg + leakedKg + purgedKg + spilledKg + ventedKg;

const tenth = (value: number): number => Math.round(value * 10) / 10;

export async function faultJob(profile: ProfileName, seed: number): Promise<FaultRow> {
  const { strike, stage, share } = caseOf(seed);
  const job = jobFor(stage);
  const still = await calmRun(profile, job);
  const visit = still.facts.result?.stages.find((one) => one.stage === stage);
  const row = { seed, fault: nameOf(strike), stage, share };
  if (visit?.endedAtMs === undefined) return row;
  const afterS = Math.round(((visit.endedAtMs - visit.startedAtMs) * share) / 100) / 10;
  const ran = await run(faultsScenario(profile, job, [{ ...strike, stage, afterS }]));
  if (ran.facts.outcome !== 'refused' && ran.facts.faults[0]?.onAtMs === undefined) return row;
  const last = ran.facts.result?.stages.at(-1);
  const told = freshOf(toldIn(ran.facts), toldIn(still.facts)).filter(
    ({ label }) => !ENDINGS.includes(label),
  );
  return {
    ...row,
    ran: {
      outcome: ran.facts.outcome,
      end: `${last?.stage ?? 'nowhere'}: ${last?.result ?? 'left open'}`,
      changed: course(ran.facts) !== course(still.facts),
      told: [...new Set(told.map(({ label }) => label))],
      fits: fits(strike.fault, told),
      unsafe: unsafeIn(profile, ran, still),
      overG: tenth(1000 * ran.facts.truth.vehicleRefrigerantKg - NOMINAL_G),
      lostG: tenth(1000 * (lostKg(ran.facts.truth) - lostKg(still.facts.truth))),
      airG: tenth(1000 * (ran.facts.truth.tankAirKg - ran.begun.tankAirKg)),
      ledger: ran.ledger.map(({ of, errorG, saidG }) => ({ of, errorG: tenth(errorG), saidG: tenth(saidG) })),
    },
  };
}
