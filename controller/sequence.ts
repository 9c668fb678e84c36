// The sequence: what the operator said, what the running stage wants, and where its event leads.
import { obeyByHand, passTime } from './by-hand.ts';
import { isFinished, isHalted, runningStage } from './chart-state.ts';
import { mayReset } from './guard.ts';
import { hookupOf } from './hookup.ts';
import type { LedgerEntry } from './ledger.ts';
import { NO_NOTICES, type NoticeDraft } from './notices.ts';
import type { OperatorEvent, PromptId } from './operator.ts';
import { promptOf } from './prompts.ts';
import { type Commands, SAFE_COMMANDS } from './signals.ts';
import type { StageEvent } from './stage-events.ts';
import { stageInput } from './stage-input.ts';
import type { StageData } from './stages/data.ts';
import { takenBack } from './stages/hand-over.ts';
import { enterStage, resumeStage, stepStage } from './stages/index.ts';
import { minutes } from './stages/stage.ts';
import type { Stage } from './stages.ts';
import type { ControllerState, Visit } from './state.ts';
import { follow } from './statechart.ts';
import { afterPrompt, haltLimitMs, stageLimitMs } from './timeouts.ts';
import type { ByHand } from './wishes.ts';

export type Sequenced = {
  readonly state: ControllerState;
  readonly wanted: Commands;
  readonly notices: readonly NoticeDraft[];
  readonly ledger: readonly LedgerEntry[];
};

/** A scan follows at most so many edges: a chart that runs in circles waits for the next scan. */
const EDGES = 4;
const NO_ENTRIES: readonly LedgerEntry[] = [];
const NO_ANSWERS: readonly OperatorEvent[] = [];

export function runSequence(
  state: ControllerState,
  nowMs: number,
  events: readonly OperatorEvent[],
): Sequenced {
  let current: Sequenced = { state, wanted: SAFE_COMMANDS, notices: NO_NOTICES, ledger: NO_ENTRIES };
  if (state.byHand !== undefined) current = obeyDue(current, state.byHand, events, nowMs);
  for (const event of events) current = obey(current, event, events, nowMs);
  if (isFinished(current.state.chart)) current = withdrawn(current);
  if (current.state.byHand !== undefined) return byHand(current, current.state.byHand, nowMs);
  if (isHalted(current.state.chart)) return warned(wait(current, nowMs), state);
  let answers = events;
  let running = runningStage(current.state.chart);
  for (let edge = 0; edge <= EDGES && running !== undefined; edge += 1) {
    const before = running;
    current = step(current, running, answers, nowMs);
    answers = NO_ANSWERS;
    running = runningStage(current.state.chart);
    if (running === before) break;
  }
  return warned(current, state);
}

/** A job that ends leaves nobody beside a running engine without a word. */
function warned(current: Sequenced, before: ControllerState): Sequenced {
  const ends = isFinished(current.state.chart) && !isFinished(before.chart);
  return ends && current.state.memory.engineWatch.engine !== 'off'
    ? tell(current, { code: 'engine-still-running' })
    : current;
}

/** What was said of the hoses holds as long as the result stands. */
function withdrawn(current: Sequenced): Sequenced {
  const back = takenBack(current.state);
  return back === undefined
    ? current
    : tell(withState(current, { ...current.state, accounts: back.accounts }), back.notice);
}

/** What was put off in the scan before comes first. */
function obeyDue(
  start: Sequenced,
  working: ByHand,
  events: readonly OperatorEvent[],
  nowMs: number,
): Sequenced {
  let current = withState(start, { ...start.state, byHand: { ...working, next: [] } });
  for (const event of working.next) current = obey(current, event, events, nowMs);
  return current;
}

/** Nothing but the wishes is wanted. */
function byHand(current: Sequenced, working: ByHand, nowMs: number): Sequenced {
  const { state, notices } = passTime(current.state, working, nowMs);
  const wanted = state.byHand?.wanted ?? SAFE_COMMANDS;
  return { ...current, state, wanted, notices: joined(current.notices, notices) };
}

const joined = (some: readonly NoticeDraft[], more: readonly NoticeDraft[]): readonly NoticeDraft[] =>
  more === NO_NOTICES ? some : [...some, ...more];

function obey(
  current: Sequenced,
  event: OperatorEvent,
  events: readonly OperatorEvent[],
  nowMs: number,
): Sequenced {
  const { state } = current;
  const worked = obeyByHand(state, event, events, nowMs);
  if (worked !== undefined) {
    return { ...current, state: worked.state, notices: joined(current.notices, worked.notices) };
  }
  switch (event?.type) {
    case 'aborted': {
      if (isFinished(state.chart)) return current;
      const stage = state.stage?.stage ?? 'waiting';
      return end(
        current,
        follow(state.chart, 'aborted'),
        'aborted',
        { code: 'aborted', with: { stage } },
        nowMs,
      );
    }
    // A stop is never ignored.
    case 'all-wished-off':
    case 'paused':
      if (runningStage(state.chart) === undefined) return current;
      return withState(current, {
        ...state,
        chart: follow(state.chart, 'paused'),
        haltedAtMs: nowMs,
        prompt: undefined,
      });
    case 'resumed':
      return resume(current, nowMs);
    case 'reset':
      return reset(current, nowMs);
    default:
      return current;
  }
}

const withState = (current: Sequenced, state: ControllerState): Sequenced => ({ ...current, state });

const tell = (current: Sequenced, notice: NoticeDraft): Sequenced => ({
  ...current,
  notices: [...current.notices, notice],
});

function resume(current: Sequenced, nowMs: number): Sequenced {
  const { state } = current;
  if (state.chart.value !== 'paused' || state.stage === undefined) return current;
  const haltedAtMs = state.haltedAtMs ?? nowMs;
  const startedMs = state.accounts.recoveryStartedAtMs;
  const recoveryStartedAtMs =
    startedMs === undefined ? undefined : startedMs + Math.max(nowMs - haltedAtMs, 0);
  const chart = follow(state.chart, 'resumed');
  // Nothing to go back to: the pause goes on until someone aborts or its time is up.
  if (runningStage(chart) !== state.stage.stage) return current;
  return withState(current, {
    ...state,
    chart,
    stage: resumeStage(state.stage, haltedAtMs, nowMs),
    accounts: { ...state.accounts, recoveryStartedAtMs },
    haltedAtMs: undefined,
  });
}

function reset(current: Sequenced, nowMs: number): Sequenced {
  const { state } = current;
  const { trip } = state.memory;
  if (trip === undefined) return current;
  if (!mayReset(state, nowMs)) return tell(current, { code: 'reset-refused', with: { reason: trip.reason } });
  return withState(current, {
    ...state,
    chart: follow(state.chart, 'reset'),
    memory: { ...state.memory, trip: undefined },
  });
}

/** Paused or tripped: everything off, but not for ever. */
function wait(current: Sequenced, nowMs: number): Sequenced {
  const { state } = current;
  const limitMs = haltLimitMs(state.chart, state.plan);
  if (state.haltedAtMs === undefined || nowMs - state.haltedAtMs <= limitMs) return current;
  const notice: NoticeDraft = { code: 'wait-timed-out', with: { minutes: minutes(limitMs) } };
  return end(current, follow(state.chart, 'timed-out'), 'timed-out', notice, nowMs);
}

function end(
  current: Sequenced,
  chart: ControllerState['chart'],
  result: string,
  notice: NoticeDraft,
  nowMs: number,
): Sequenced {
  const { state } = current;
  const visits = closed(state.visits, result, nowMs);
  return tell(withState(current, { ...state, chart, visits, stage: undefined, prompt: undefined }), notice);
}

function closed(visits: readonly Visit[], result: string, nowMs: number): readonly Visit[] {
  const last = visits.at(-1);
  return last === undefined || last.endedAtMs !== undefined
    ? visits
    : [...visits.slice(0, -1), { ...last, endedAtMs: nowMs, result }];
}

function step(
  current: Sequenced,
  running: Stage,
  answers: readonly OperatorEvent[],
  nowMs: number,
): Sequenced {
  const { state } = current;
  const data = state.stage;
  if (data === undefined) return current;
  const limitMs = stageLimitMs(running, state.prompt, state.plan);
  const sinceMs = state.prompt?.askedAtMs ?? (limitMs.whole ? data.sinceMs : data.stepSinceMs);
  if (nowMs - sinceMs > limitMs.ms) return timedOut(current, data, limitMs.ms, nowMs);
  const stepped = stepStage(data, stageInput(state, answers, nowMs));
  // Each looked up once: what a stage answers has as many shapes as there are answers.
  const {
    data: after,
    prompt,
    wanted,
    notices,
    event,
    ledger = NO_ENTRIES,
    accounts = state.accounts,
  } = stepped;
  const sameQuestion = state.prompt?.id === prompt;
  const next: ControllerState = {
    ...state,
    stage: sameQuestion ? after : afterPrompt(after, data, state.prompt, nowMs),
    accounts,
    prompt: promptFor(prompt, state, nowMs),
    ledger: ledger.length === 0 ? state.ledger : [...state.ledger, ...ledger],
  };
  const merged: Sequenced = {
    state: next,
    wanted,
    notices: notices === undefined ? current.notices : [...current.notices, ...notices],
    ledger: ledger.length === 0 ? current.ledger : [...current.ledger, ...ledger],
  };
  return event === undefined ? merged : leave(merged, event, stepped.result ?? event, nowMs);
}

function promptFor(
  id: PromptId | undefined,
  { prompt, plan }: ControllerState,
  nowMs: number,
): ControllerState['prompt'] {
  if (id === undefined) return undefined;
  return prompt?.id === id ? prompt : promptOf(id, nowMs, hookupOf(plan));
}

/** Along the edge: closes the visit and opens the next. */
function leave(current: Sequenced, event: StageEvent, result: string, nowMs: number): Sequenced {
  const { state } = current;
  const chart = follow(state.chart, event);
  const stage = runningStage(chart);
  const visits = closed(state.visits, result, nowMs);
  return {
    ...current,
    wanted: SAFE_COMMANDS,
    state: {
      ...state,
      chart,
      prompt: undefined,
      stage: stage === undefined ? undefined : enterStage(stage, nowMs),
      visits: stage === undefined ? visits : [...visits, { stage, startedAtMs: nowMs }],
    },
  };
}

function timedOut(current: Sequenced, data: StageData, limitMs: number, nowMs: number): Sequenced {
  const waited = current.state.prompt !== undefined;
  const notice: NoticeDraft = waited
    ? { code: 'wait-timed-out', with: { minutes: minutes(limitMs) } }
    : { code: 'timed-out', with: { stage: data.stage, minutes: minutes(limitMs) } };
  return leave(tell(current, notice), 'timed-out', 'timed-out', nowMs);
}
