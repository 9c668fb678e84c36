// A job that was left open, taken up again: what it was about, which ways lead on, and the state to go on from.
import { type AfterCut, NEXT_TEXTS } from '../../controller/after-cut.ts';
import { type ChartState, runningStage } from '../../controller/chart-state.ts';
import type { Found } from '../../controller/found-after-cut.ts';
import { openJob } from '../../controller/scan.ts';
import type { StageData } from '../../controller/stages/data.ts';
import { enterStage, resumeStage } from '../../controller/stages/index.ts';
import type { Stage } from '../../controller/stages.ts';
import type { ControllerState, Visit } from '../../controller/state.ts';

export const CHOICES = ['go-on', 'close'] as const;
export type Choice = (typeof CHOICES)[number];

/** Where a job went on when its process ended: the stage, also of a job that was paused then. */
export const stageOf = ({ chart }: ControllerState): Stage | undefined =>
  runningStage(chart) ?? chart.context.interrupted ?? undefined;

/** What is done by 'go-on'; the vacuum of a vehicle that nobody watched is made anew before anything else goes in. */
const GO_ON: { readonly [S in Stage]: string } = {
  identify: 'goes on with the identification',
  fill: 'weighs, and fills on from the cylinder until the tank has what was asked for',
  'purge-air': 'looks at the tank again before any more air is let off',
  settle: 'looks at the pressures anew',
  recover: 'recovers on, counting from the first weighing, then rests and judges as before',
  rest: 'rests and judges anew',
  'drain-oil': 'looks at the separator anew before the drain opens',
  repair: 'waits for the repair',
  evacuate: 'evacuates anew: its time counts from now',
  hold: 'evacuates anew and then holds anew',
  'add-oil': 'goes on; an interrupted dose counts as given whole, so read the bottle and correct by hand',
  'leak-check': 'goes on with the check where it was',
  charge:
    'weighs, and charges only what the vehicle still lacks of its target: what has left the tank is counted by the scale',
  verify: 'asks for the engine and measures anew',
  'clear-hoses': 'clears the hoses anew',
  'recover-hoses': 'recovers the hoses',
};

/** A choice that leads on only while nothing has been taken off. */
const ON_THE_HOSES: readonly Stage[] = ['charge', 'leak-check', 'add-oil', 'evacuate', 'hold'];

export type Offered = { readonly choice: Choice; readonly text: string };

export type Standing = {
  readonly stage: Stage | undefined;
  readonly found: Found | undefined;
  readonly afterCut: AfterCut;
  /** This version of the controller has written the state. */
  readonly isOurs: boolean;
};

/** The ways on from where a job was left. */
export function choicesFor({ stage, found, afterCut, isOurs }: Standing, ended: boolean): readonly Offered[] {
  const other = isOurs ? '' : ' Another version of Coldbench has begun it and alone can go on with it.';
  const close: Offered = {
    choice: 'close',
    text: `closes the job as it stands, with what the scale has found booked as left off. ${NEXT_TEXTS[afterCut.next]}${other}`,
  };
  // What is counted from here is counted by this tank on a platform that nobody has touched.
  if (ended || !isOurs || stage === undefined || found?.isExplained !== true || afterCut.next === 'nothing')
    return [close];
  const sealed = ON_THE_HOSES.includes(stage)
    ? ' Only if the hoses have stayed on the vehicle and nothing was opened since.'
    : '';
  const engine = afterCut.engineMayRun ? ' Only once somebody has seen that the engine stands.' : '';
  return [{ choice: 'go-on', text: `${GO_ON[stage]}.${sealed}${engine}` }, close];
}

/** A vacuum nobody watched is not gone on with. */
function interrupted(stage: Stage): Stage {
  return stage === 'hold' ? 'evacuate' : stage;
}

/** The visit that was left off, and the one that goes on from an earlier stage. */
function reentered(visits: readonly Visit[], stage: Stage, leftMs: number, nowMs: number): readonly Visit[] {
  const last = visits.at(-1);
  const before = last === undefined ? [] : [{ ...last, endedAtMs: leftMs, result: 'left-off' }];
  return [...visits.slice(0, -1), ...before, { stage, startedAtMs: nowMs }];
}

/** When the stage came to a halt: in a pause before, or with its process; a dose under a countdown may have run to its end. */
function haltedAt({ stage, haltedAtMs, memory }: ControllerState): number {
  if (haltedAtMs !== undefined) return haltedAtMs;
  if (stage?.stage !== 'add-oil' || stage.step !== 'dose') return memory.lastScanMs;
  return Math.max(memory.lastScanMs, stage.stepSinceMs + stage.doseMs);
}

/** The stage as it is taken up at this time: the outage counts for none of its deadlines. */
const takenUpAgain = (journal: ControllerState, nowMs: number): StageData | undefined =>
  journal.stage === undefined ? undefined : resumeStage(journal.stage, haltedAt(journal), nowMs);

/**
 * The state to go on from: paused, with every valve shut, as by the journal. Timers and estimates begin anew; what the machine
 * may hold counts as unknown, and the platform as touched once.
 * @param nowMs of the same clock as the journal's, later than its last scan.
 * @param lastOpened what the last intent was about: its scan had not seen it open.
 */
export function recalled(
  journal: ControllerState,
  nowMs: number,
  lastOpened: readonly string[],
): ControllerState {
  const { plan, equipment, chart, memory, estimates, accounts } = journal;
  const outMs = nowMs - (journal.haltedAtMs ?? memory.lastScanMs);
  const startedMs = accounts.recoveryStartedAtMs;
  const fresh = openJob(plan, equipment, nowMs);
  const stage = stageOf(journal);
  const to = stage === undefined ? undefined : interrupted(stage);
  const anew = to !== undefined && (to === 'evacuate' || journal.stage?.stage !== to);
  const paused: ChartState = { value: 'paused', context: { ...chart.context, interrupted: to ?? null } };
  const { offsetKg, bumps } = estimates.scale;
  // What the vehicle was given is told by the scale against an earlier scale: the outage is in it.
  const { trip, engineWatch, purgedMs, tankStirredAtMs, givenWatch } = memory;
  const fed = givenWatch.fed || lastOpened.includes('chargeValve');
  return {
    ...journal,
    fitting: fresh.fitting,
    chart: trip === undefined ? paused : { ...paused, value: 'tripped' },
    stage: anew ? enterStage(to, nowMs) : takenUpAgain(journal, nowMs),
    visits:
      to === undefined || to === stage
        ? journal.visits
        : reentered(journal.visits, to, memory.lastScanMs, nowMs),
    accounts: { ...accounts, recoveryStartedAtMs: startedMs === undefined ? undefined : startedMs + outMs },
    haltedAtMs: nowMs,
    prompt: undefined,
    seen: undefined,
    estimates: {
      ...fresh.estimates,
      scale: { ...fresh.estimates.scale, offsetKg, offsetBeforeKg: offsetKg, bumps: bumps + 1 },
    },
    memory: {
      ...fresh.memory,
      trip,
      engineWatch,
      purgedMs,
      tankStirredAtMs,
      givenWatch: { ...givenWatch, fed },
    },
    judged: undefined,
    held: undefined,
    byHand: undefined,
  };
}
