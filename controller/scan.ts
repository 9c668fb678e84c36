// One turn of the controller: readings → estimates → sequence → wanted commands → interlocks → permitted commands.
import { fallByTrip, heedVerdict } from './by-hand.ts';
import { haltChart, isFinished, openChart, runningStage } from './chart-state.ts';
import type { Equipment } from './equipment.ts';
import { NEVER_JOINED } from './estimates/joined.ts';
import { NOTHING_KEPT } from './estimates/kept.ts';
import { openScale } from './estimates/scale-state.ts';
import { type Seen, see } from './estimates/seen.ts';
import { updateEstimates } from './estimates/update.ts';
import { NO_DRIFT } from './estimates/zero-drift.ts';
import { guard } from './guard.ts';
import { hookupOf } from './hookup.ts';
import { openMemory } from './interlocks/memory.ts';
import { reasonOf } from './interlocks/reason.ts';
import type { LedgerEntry } from './ledger.ts';
import type { Notice } from './notice.ts';
import { NO_NOTICES, type NoticeDraft, noticeOf } from './notices.ts';
import type { OperatorEvent } from './operator.ts';
import type { Plan } from './plan.ts';
import { runSequence } from './sequence.ts';
import { type Commands, OUTPUTS, type Output, type Readings, SAFE_COMMANDS } from './signals.ts';
import { enterStage } from './stages/index.ts';
import { inDoubtOf } from './stages/recovered.ts';
import { kilopascals } from './stages/stage.ts';
import type { Accounts, ControllerState, Estimates } from './state.ts';

export type { ControllerState } from './state.ts';

export type ScanResult = {
  readonly state: ControllerState;
  /** What the rig shall do from now on. */
  readonly commands: Commands;
  /** New ones of this scan; the state keeps all. */
  readonly notices: readonly Notice[];
  readonly ledgerEntries: readonly LedgerEntry[];
};

const NO_ACCOUNTS: Omit<Accounts, 'hoseForce'> = {
  weighed: undefined,
  cycles: [],
  recoveryStartedAtMs: undefined,
  repair: undefined,
  weighedFirst: undefined,
  tankExcessFirstPa: undefined,
  recoveredKg: undefined,
  recoveredUncertaintyKg: undefined,
  underPressureKg: 0,
  recoveredOverMs: 0,
  chargedKg: undefined,
  purgedKg: undefined,
  hoseRecoveredKg: undefined,
  weighedBeforeCharge: undefined,
  netChargeKg: undefined,
  uncertaintyKg: undefined,
  lostTrack: false,
  evacuation: undefined,
  evacuations: 0,
  hold: undefined,
  suspected: undefined,
  fill: undefined,
  targetKg: undefined,
  emptyYetSampled: false,
  scaleMovesKg: undefined,
  kept: NOTHING_KEPT,
  keptBeforeCharge: undefined,
  oil: { emptied: 0 },
  dye: { emptied: 0 },
  leakCheck: undefined,
  recoveryBefore: undefined,
  performance: undefined,
  identification: undefined,
  hosesCleared: false,
  hosesSafe: false,
  engineOfNoHelp: false,
  highSideZeroPa: 0,
};

/** A job about to begin, or a machine without one when the plan has no stage: nothing known, nothing on. */
export function openJob(plan: Plan, equipment: Equipment, nowMs: number): ControllerState {
  const chart = openChart(plan.stages);
  const first = runningStage(chart);
  return {
    plan,
    equipment,
    fitting: Object.fromEntries(
      OUTPUTS.map((output) => [output, equipment.fitted.includes(output) ? 'fitted' : 'not-fitted']),
    ) as { [O in Output]: 'fitted' | 'not-fitted' },
    chart,
    stage: first === undefined ? undefined : enterStage(first, nowMs),
    haltedAtMs: undefined,
    prompt: undefined,
    seen: undefined,
    estimates: {
      scale: openScale(),
      drift: NO_DRIFT,
      cellWarmerK: 0,
      joined: NEVER_JOINED,
      silentSinceMs: undefined,
      path: 'shut',
      pathChangedAtMs: nowMs,
      drawsSinceMs: undefined,
      manifold: undefined,
      circuit: undefined,
    },
    accounts: { ...NO_ACCOUNTS, hoseForce: { kgPerPa: 0, sdKgPerPa: equipment.scale.hoseForceKgPerPaSd } },
    memory: openMemory(nowMs, equipment.tankRestedMs),
    judged: undefined,
    held: undefined,
    byHand: undefined,
    handJournal: [],
    visits: first === undefined ? [] : [{ stage: first, startedAtMs: nowMs }],
    notices: [],
    ledger: [],
  };
}

/**
 * One turn. Pure: the same arguments give the same answer, and no argument is changed. Never throws: a fault of the
 * controller itself trips like any other.
 */
export function scan(
  state: ControllerState,
  readings: Readings,
  nowMs: number,
  operatorEvents: readonly OperatorEvent[],
): ScanResult {
  const atMs = Number.isFinite(nowMs) ? nowMs : state.memory.lastScanMs;
  try {
    return turn(state, readings, atMs, operatorEvents);
  } catch (error) {
    return faulted(state, error, atMs);
  }
}

function turn(
  state: ControllerState,
  readings: Readings,
  nowMs: number,
  operatorEvents: readonly OperatorEvent[],
): ScanResult {
  const seen: Seen = see(readings, state.equipment, nowMs);
  const estimates = knowingOfLoss(updateEstimates(state, seen, nowMs), state);
  const accounts = inDoubtOf(state.accounts, state.estimates.drift.kgPerS, estimates.drift.kgPerS);
  const sequenced = runSequence({ ...state, seen, estimates, accounts }, nowMs, operatorEvents);
  const guarded = guard(sequenced.state, sequenced.wanted, operatorEvents, nowMs);
  const { permitted: commands } = guarded;
  const heeded = heedVerdict(guarded.state, nowMs);
  const next = heeded?.state ?? guarded.state;
  const fell = heeded?.notices ?? NO_NOTICES;
  const ledgerEntries = sequenced.ledger;
  const found = newlyFound(state, estimates, seen, nowMs);
  const silent = sequenced.notices === NO_NOTICES && guarded.notices === NO_NOTICES;
  if (silent && fell === NO_NOTICES && found === NO_NOTICES) {
    return { state: next, commands, notices: NO_NOTICES, ledgerEntries };
  }
  const notices = [...found, ...sequenced.notices, ...guarded.notices, ...fell].map((draft) =>
    noticeOf(draft, nowMs, hookupOf(state.plan)),
  );
  return {
    state: { ...next, notices: [...next.notices, ...notices] },
    commands,
    notices,
    ledgerEntries,
  };
}

/** Rows that find a shut tank losing or fed through a seat. */
const LOSING: ReadonlySet<string> = new Set(['IL-40', 'IL-41']);

/** While such a trip stands, what the scale falls by is what the tank loses, and no zero that runs away. */
function knowingOfLoss(estimates: Estimates, { estimates: before, memory }: ControllerState): Estimates {
  if (memory.trip === undefined || !LOSING.has(memory.trip.row)) return estimates;
  return { ...estimates, drift: { ...before.drift, from: undefined } };
}

/** One frame may be lost, and one scan late; the board does not wait so long (estimate). */
const SILENT_MS = 1_500;

/** What the estimates have just found out, told once. */
function newlyFound(
  { estimates: before, memory }: ControllerState,
  { drift, joined, silentSinceMs }: Estimates,
  { highSidePa, lowSidePa }: Seen,
  nowMs: number,
): readonly NoticeDraft[] {
  const isSilent = (atMs: number): boolean => atMs - (silentSinceMs ?? Number.POSITIVE_INFINITY) >= SILENT_MS;
  const silent = isSilent(nowMs) && !isSilent(memory.lastScanMs);
  const drifts = drift.kgPerS > 0 && before.drift.kgPerS === 0;
  const apart = joined.apartPa > 0 && before.joined.apartPa === 0;
  if (!silent && !drifts && !apart) return NO_NOTICES;
  return [
    ...(silent ? [{ code: 'rig-silent', with: { seconds: (SILENT_MS / 1000).toFixed(1) } } as const] : []),
    ...(drifts
      ? [{ code: 'scale-drifts', with: { rate: (drift.kgPerS * 60_000).toFixed(1) } } as const]
      : []),
    ...(apart
      ? [
          {
            code: 'sides-disagree',
            with: { high: kilopascals(highSidePa ?? 0), low: kilopascals(lowSidePa ?? 0) },
          } as const,
        ]
      : []),
  ];
}

/** Our own bug: everything off, and a latched trip that names it. */
function faulted(state: ControllerState, error: unknown, nowMs: number): ScanResult {
  const reason = `controller fault: ${error instanceof Error ? error.message : String(error)}`;
  const trip = state.memory.trip ?? { row: 'controller', reason, atMs: nowMs };
  const first = state.memory.trip === undefined;
  const { hazard, remedy } = reasonOf(trip.row);
  const notices = first
    ? [
        noticeOf(
          { code: 'tripped', with: { row: trip.row, reason, hazard, remedy } },
          nowMs,
          hookupOf(state.plan),
        ),
      ]
    : [];
  const halted = isFinished(state.chart) ? state.chart : haltChart(state.chart);
  const left = state.byHand === undefined ? state : fallByTrip(state, trip.row, nowMs);
  return {
    state: {
      ...left,
      chart: halted,
      haltedAtMs: state.haltedAtMs ?? nowMs,
      prompt: undefined,
      judged: undefined,
      memory: {
        ...state.memory,
        trip,
        lastScanMs: nowMs,
        compressorOffSinceMs: state.memory.compressorOffSinceMs ?? nowMs,
      },
      notices: first ? [...state.notices, ...notices] : state.notices,
    },
    commands: SAFE_COMMANDS,
    notices,
    ledgerEntries: [],
  };
}
