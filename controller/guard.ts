// The last word: wanted commands against the interlocks, and what that does to memory and sequence.

import { isFinished } from './chart-state.ts';
import type { Seen } from './estimates/seen.ts';
import { classify, reclassify } from './interlocks/bands.ts';
import { mayRun } from './interlocks/engine-watch.ts';
import { type Memory, noteCommands, type Trip } from './interlocks/memory.ts';
import { noteReadings } from './interlocks/note-readings.ts';
import { type Permission, permit, type Refusal } from './interlocks/permit.ts';
import { because, reasonOf, reasonOfRefusal } from './interlocks/reason.ts';
import { type Remembered, recall, sameRemembered } from './interlocks/remembered.ts';
import { INTERLOCKS } from './interlocks/table.ts';
import { NO_NOTICES, type NoticeDraft } from './notices.ts';
import type { OperatorEvent } from './operator.ts';
import { type Commands, SAFE_COMMANDS } from './signals.ts';
import type { ControllerState, Judged } from './state.ts';
import { follow } from './statechart.ts';
import { bandInput, isDenseInflow, toldOf } from './told-interlocks.ts';

export type Guarded = {
  readonly state: ControllerState;
  readonly permitted: Commands;
  readonly notices: readonly NoticeDraft[];
};

/** Held back longer than this is worth telling: timers of a few seconds are not (estimate). */
const TELL_MS = 10_000;
/** Rows whose refusal the sequence expects and waits for. */
const EXPECTED: ReadonlySet<string> = new Set(['IL-02', 'IL-16']);

/** Who is asked to warm the vehicle may start its engine at any time, and says only when it stands again. */
const noteAsked = (memory: Memory, { prompt }: ControllerState, nowMs: number): Memory =>
  prompt?.id === 'warm-vehicle' ? { ...memory, engineWatch: mayRun(nowMs) } : memory;

type Judgement = {
  readonly noted: Memory;
  /** The one before when nothing has changed. */
  readonly judged: Judged;
  readonly trip: Permission['trip'];
};

/** What the interlocks say to a wanted word now; nothing is done about it. */
export function judge(
  state: ControllerState,
  seen: Seen,
  wanted: Commands,
  events: readonly OperatorEvent[],
  nowMs: number,
): Judgement {
  const bands = reclassify(state.judged?.bands, bandInput(state, seen, wanted));
  const news = { seen, denseInflow: isDenseInflow(state), told: toldOf(state, seen, bands) };
  const noted = noteAsked(noteReadings(state.memory, news, events, nowMs), state, nowMs);
  const minimumOffMs = state.equipment.compressor.minimumOffMs;
  const remembered = recalled(state.judged?.remembered, noted, nowMs, minimumOffMs);
  const last = state.judged;
  const same =
    last !== undefined && last.wanted === wanted && last.bands === bands && last.remembered === remembered;
  if (same) return { noted, judged: last, trip: undefined };
  const { permitted, refusals, trip } = permit(wanted, bands, remembered, state.fitting);
  return { noted, judged: { wanted, bands, remembered, permitted, refusals }, trip };
}

export function guard(
  state: ControllerState,
  wanted: Commands,
  events: readonly OperatorEvent[],
  nowMs: number,
): Guarded {
  const { seen } = state;
  if (seen === undefined) return { state, permitted: SAFE_COMMANDS, notices: NO_NOTICES };
  const { noted, judged, trip } = judge(state, seen, wanted, events, nowMs);
  if (trip === undefined || noted.trip !== undefined) {
    const memory = noteCommands(noted, judged.permitted, undefined, nowMs);
    return tellHeld({ ...state, memory, judged }, judged, nowMs);
  }
  return tripped({ ...state, judged }, noted, { ...trip, atMs: nowMs }, nowMs);
}

function recalled(
  before: Remembered | undefined,
  memory: Memory,
  nowMs: number,
  minimumOffMs: number,
): Remembered {
  const remembered = recall(memory, nowMs, minimumOffMs);
  return before !== undefined && sameRemembered(before, remembered) ? before : remembered;
}

/** Rows that find refrigerant gone past every weighing. */
const LOSES_TRACK: ReadonlySet<string> = new Set(['IL-41', 'IL-46']);

function tripped(state: ControllerState, noted: Memory, trip: Trip, nowMs: number): Guarded {
  const memory = noteCommands(noted, SAFE_COMMANDS, trip, nowMs);
  const { row, hazard, remedy } = reasonOf(trip.row);
  const figures = { row, reason: trip.reason, hazard, remedy };
  return {
    state: {
      ...state,
      memory,
      accounts: LOSES_TRACK.has(trip.row) ? { ...state.accounts, lostTrack: true } : state.accounts,
      chart: follow(state.chart, 'tripped'),
      haltedAtMs: isFinished(state.chart) ? state.haltedAtMs : (state.haltedAtMs ?? nowMs),
      prompt: undefined,
    },
    permitted: SAFE_COMMANDS,
    notices: [{ code: 'tripped', with: figures }],
  };
}

/** Something wanted and not permitted for long is a fact the operator needs. */
function tellHeld(state: ControllerState, { permitted, refusals }: Judged, nowMs: number): Guarded {
  const unexpected = refusals.find(({ row }) => !EXPECTED.has(row));
  if (unexpected === undefined) {
    return {
      state: state.held === undefined ? state : { ...state, held: undefined },
      permitted,
      notices: NO_NOTICES,
    };
  }
  const held = state.held ?? { sinceMs: nowMs, told: false };
  if (held.told || nowMs - held.sinceMs < TELL_MS) {
    return { state: held === state.held ? state : { ...state, held }, permitted, notices: NO_NOTICES };
  }
  return {
    state: { ...state, held: { ...held, told: true } },
    permitted,
    notices: [heldNotice(unexpected, refusals)],
  };
}

function heldNotice(first: Refusal, refusals: readonly Refusal[]): NoticeDraft {
  const reason = reasonOfRefusal(first);
  const { row } = first;
  const outputs = refusals.filter((refusal) => refusal.row === row).map(({ output }) => output);
  return {
    code: reason.unknown === undefined ? 'held-by-interlock' : 'held-by-unknown',
    with: {
      row,
      outputs: [...new Set(outputs)].join(', '),
      because: because(reason),
      remedy: reason.remedy,
    },
  };
}

/** Every output is off, the cause of the trip can be read, and with the latch lifted nothing would trip at once. */
export function mayReset(state: ControllerState, nowMs: number): boolean {
  const { seen, equipment, memory, judged, fitting } = state;
  if (seen === undefined || (judged !== undefined && Object.values(judged.permitted).some(({ on }) => on))) {
    return false;
  }
  const bands = classify(bandInput(state, seen, SAFE_COMMANDS));
  const row = INTERLOCKS.find(({ id }) => id === memory.trip?.row);
  if (row?.reads.bands.some((band) => bands[band] === 'unknown')) return false;
  const remembered = recall({ ...memory, trip: undefined }, nowMs, equipment.compressor.minimumOffMs);
  return permit(SAFE_COMMANDS, bands, remembered, fitting).trip === undefined;
}
