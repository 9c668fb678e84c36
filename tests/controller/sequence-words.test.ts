// What the operator says to a job: stop, go on, abort, reset; and what becomes of one that nobody looks after.
import { describe, expect, test } from 'vitest';
import { openMemory } from '../../controller/interlocks/memory.ts';
import { NO_NOTICES } from '../../controller/notices.ts';
import type { OperatorEvent } from '../../controller/operator.ts';
import { promptOf } from '../../controller/prompts.ts';
import { runSequence } from '../../controller/sequence.ts';
import { SAFE_COMMANDS } from '../../controller/signals.ts';
import { enterRecover } from '../../controller/stages/recover.ts';
import { want } from '../../controller/stages/stage.ts';
import type { ControllerState } from '../../controller/state.ts';
import { idle, standing, wished, withWishes, working } from './support/by-hand.ts';
import { judgedOf, type Moment, momentOf } from './support/moment.ts';

const MINUTE_MS = 60_000;
const PROMPT = promptOf('connect-hoses', 0, 'two-ports');
const TRIP = { row: 'IL-24', reason: 'gas-alarm', atMs: 0 };
const RUNNING = { engineWatch: { ...openMemory(0).engineWatch, engine: 'running' as const } };

/** A recovery that stands at a place of the chart. */
function recovering(value: ControllerState['chart']['value'], moment: Moment = {}): ControllerState {
  const state = momentOf({ stage: enterRecover(0), ...moment });
  const context = { ...state.chart.context, interrupted: value === 'recover' ? null : ('recover' as const) };
  return {
    ...state,
    chart: { value, context },
    visits: [{ stage: 'recover', startedAtMs: 0 }],
    ...moment.state,
  };
}
const told = (state: ControllerState, type: OperatorEvent['type'], nowMs = 1_000) =>
  runSequence(state, nowMs, [{ type } as OperatorEvent]);
const ended = (result: string, endedAtMs: number) => [
  { stage: 'recover', startedAtMs: 0, endedAtMs, result },
];

describe('A stop', () => {
  test.each(['paused', 'all-wished-off'] as const)('halts a job in the same scan: %s', (type) => {
    const running = recovering('recover', { state: { prompt: PROMPT } });
    const { state, wanted, notices } = told(running, type);
    expect(wanted).toBe(SAFE_COMMANDS);
    expect(notices).toBe(NO_NOTICES);
    expect(state).toMatchObject({
      chart: { value: 'paused', context: { interrupted: 'recover' } },
      haltedAtMs: 1_000,
      prompt: undefined,
      stage: running.stage,
    });
  });

  test('of what stands already changes nothing', () => {
    for (const value of ['paused', 'tripped', 'completed', 'idle'] as const) {
      const state = recovering(value, { state: { haltedAtMs: 500 } });
      expect(told(state, 'paused').state).toBe(state);
    }
  });
});

describe('An abort', () => {
  test('ends the job in the middle of its stage, and names it', () => {
    const { state, notices, wanted } = told(recovering('recover', { state: { prompt: PROMPT } }), 'aborted');
    expect(notices).toEqual([{ code: 'aborted', with: { stage: 'recover' } }]);
    expect(state).toMatchObject({ chart: { value: 'stopped' }, stage: undefined, prompt: undefined });
    expect(state.visits).toEqual(ended('aborted', 1_000));
    expect(wanted).toBe(SAFE_COMMANDS);
  });

  test('ends one that is halted, though no stage waits behind it', () => {
    const { notices } = told(recovering('paused', { state: { stage: undefined } }), 'aborted');
    expect(notices).toEqual([{ code: 'aborted', with: { stage: 'waiting' } }]);
  });

  test('ends no visit twice, and none that was never begun', () => {
    const visits = [{ stage: 'recover', startedAtMs: 0, endedAtMs: 5, result: 'run-ended' }] as const;
    expect(told(recovering('paused', { state: { visits } }), 'aborted').state.visits).toBe(visits);
    expect(told(recovering('paused', { state: { visits: [] } }), 'aborted').state.visits).toEqual([]);
    const two = [...visits, { stage: 'rest', startedAtMs: 5 }] as const;
    expect(told(recovering('paused', { state: { visits: two } }), 'aborted').state.visits).toEqual([
      visits[0],
      { stage: 'rest', startedAtMs: 5, endedAtMs: 1_000, result: 'aborted' },
    ]);
  });

  test('of a job that has ended says nothing', () => {
    const over = recovering('completed');
    expect(told(over, 'aborted')).toMatchObject({ state: over, notices: [] });
  });

  test('leaves nobody beside a running engine without a word, and says it once', () => {
    const { notices } = told(recovering('recover', { memory: RUNNING }), 'aborted');
    expect(notices.map(({ code }) => code)).toEqual(['aborted', 'engine-still-running']);
    expect(told(recovering('stopped', { memory: RUNNING }), 'aborted').notices).toEqual([]);
    expect(told(recovering('recover', { memory: RUNNING }), 'paused').notices).toEqual([]);
  });
});

describe('Going on', () => {
  const paused = (moment: Moment = {}) =>
    recovering('paused', { ...moment, state: { haltedAtMs: 10_000, ...moment.state } });

  test('takes up the stage, its clocks moved by the pause, and steps it in the same scan', () => {
    const { state, wanted } = told(paused({ accounts: { recoveryStartedAtMs: 4_000 } }), 'resumed', 70_000);
    expect(state).toMatchObject({ chart: { value: 'recover' }, haltedAtMs: undefined });
    expect(state.stage).toMatchObject({ stage: 'recover', step: 'draw', sinceMs: 60_000 });
    expect(state.accounts.recoveryStartedAtMs).toBe(64_000);
    expect(wanted).toBe(SAFE_COMMANDS);
  });

  test('starts no clock that did not run, and moves none back', () => {
    const stage = { ...enterRecover(0), step: 'weigh' } as const;
    expect(told(paused({ stage }), 'resumed').state.accounts.recoveryStartedAtMs).toBeUndefined();
    const back = told(paused({ stage, accounts: { recoveryStartedAtMs: 4_000 } }), 'resumed', 9_000);
    expect(back.state.accounts.recoveryStartedAtMs).toBe(4_000);
    const unknown = told(paused({ stage, state: { haltedAtMs: undefined } }), 'resumed', 9_000);
    expect(unknown.state.stage!.sinceMs).toBe(0);
  });

  test('is no word to a job that runs: its stage goes on with what it has', () => {
    const stage = { ...enterRecover(0), openSinceMs: 500 };
    expect(told(recovering('recover', { stage }), 'resumed').state.stage).toMatchObject({
      openSinceMs: 500,
      sinceMs: 0,
    });
  });

  test('goes nowhere out of a trip, nor with nothing to go back to', () => {
    for (const state of [
      recovering('tripped', { state: { haltedAtMs: 900 } }),
      recovering('completed'),
      paused({ state: { stage: undefined } }),
    ])
      expect(told(state, 'resumed').state).toBe(state);
    const other = paused();
    const lost = {
      ...other,
      chart: { ...other.chart, context: { ...other.chart.context, interrupted: null } },
    };
    expect(told(lost, 'resumed').state).toBe(lost);
  });
});

describe('A reset', () => {
  const tripped = (moment: Moment = {}) =>
    recovering('tripped', {
      ...moment,
      memory: { trip: TRIP, ...moment.memory },
      state: { haltedAtMs: 900, judged: judgedOf(), ...moment.state },
    });

  test('lifts the latch once its cause is gone, and the job stands paused', () => {
    const { state, notices } = told(tripped(), 'reset', 100);
    expect(notices).toEqual([]);
    expect(state).toMatchObject({ chart: { value: 'paused' }, haltedAtMs: 900 });
    expect(state.memory).toEqual({ ...tripped().memory, trip: undefined });
  });

  test('is refused while its cause stands, with the reason', () => {
    const { state, notices } = told(tripped({ values: { emergencyStop: true } }), 'reset', 100);
    expect(notices).toEqual([{ code: 'reset-refused', with: { reason: 'gas-alarm' } }]);
    expect(state.memory.trip).toBe(TRIP);
  });

  test('of no trip changes nothing', () => {
    const paused = recovering('paused', { state: { haltedAtMs: 900 } });
    expect(told(paused, 'reset').state).toBe(paused);
    const pressed = { ...paused, seen: { ...paused.seen!, emergencyStop: 'tripped' } } as const;
    expect(told(pressed, 'reset').notices).toEqual([]);
  });
});

describe('A halt that nobody ends', () => {
  const halted = (value: 'paused' | 'tripped', moment: Moment = {}) =>
    recovering(value, { ...moment, state: { haltedAtMs: 1_000, ...moment.state } });

  test.each([
    ['paused', 480],
    ['tripped', 10],
  ] as const)('ends the job when it has been %s for more than %d minutes', (value, limit) => {
    const dueMs = 1_000 + limit * MINUTE_MS;
    expect(runSequence(halted(value), dueMs, []).state.chart.value).toBe(value);
    const { state, notices, wanted } = runSequence(halted(value), dueMs + 1, []);
    expect(notices).toEqual([{ code: 'wait-timed-out', with: { minutes: String(limit) } }]);
    expect(state).toMatchObject({ chart: { value: 'stopped' }, stage: undefined });
    expect(state.visits).toEqual(ended('timed-out', dueMs + 1));
    expect(wanted).toBe(SAFE_COMMANDS);
  });

  test('warns of an engine that runs, and has NO end where nobody knows its beginning', () => {
    const over = runSequence(halted('tripped', { memory: RUNNING }), 11 * MINUTE_MS, []);
    expect(over.notices.map(({ code }) => code)).toEqual(['wait-timed-out', 'engine-still-running']);
    const unknown = halted('tripped', { state: { haltedAtMs: undefined } });
    expect(runSequence(unknown, 11 * MINUTE_MS, []).state).toBe(unknown);
  });
});

test('The word that hoses are safe is taken back once the job has ended and pressure has come back, not before', () => {
  const pressed: Moment = { accounts: { hosesSafe: true }, values: { highSidePressurePa: 300_000 } };
  const { state, notices } = runSequence(recovering('completed', pressed), 1_000, []);
  expect(notices).toEqual([{ code: 'hoses-not-safe', with: { pressure: '300' } }]);
  expect(state.accounts.hosesSafe).toBe(false);
  expect(runSequence(recovering('paused', pressed), 1_000, []).notices).toEqual([]);
  expect(runSequence(recovering('completed', { accounts: { hosesSafe: true } }), 1_000, []).notices).toEqual(
    [],
  );
});

describe('By hand', () => {
  test('nothing but the wishes is wanted, and what was put off comes first', () => {
    const before = withWishes([standing('vacuumPump')], {
      next: [wished('highSideValve'), wished('lowSideValve')],
    });
    const { state, wanted } = runSequence(working(before), 100, [wished('lowSideValve', false)]);
    expect(state.byHand!.wishes.map(({ output }) => output)).toEqual(['vacuumPump', 'highSideValve']);
    expect(state.byHand!.next).toEqual([]);
    expect(wanted).toEqual(want('vacuumPump', 'highSideValve'));
  });

  test('what has expired is told behind what was said', () => {
    const before = withWishes([standing('vacuumPump', { untilMs: 100 })]);
    const { notices, wanted } = runSequence(working(before), 100, [wished('compressor')]);
    expect(notices.map(({ code }) => code)).toEqual(['wish-refused', 'wish-expired']);
    expect(wanted).toEqual(SAFE_COMMANDS);
    expect(runSequence(working(withWishes([])), 100, []).notices).toBe(NO_NOTICES);
  });

  test('everything is off once it is given back, and begins in the scan in which it is taken over', () => {
    const given = told(working(withWishes([standing('vacuumPump')])), 'by-hand-ended', 100);
    expect([given.state.byHand, given.wanted]).toEqual([undefined, SAFE_COMMANDS]);
    const begun = runSequence(idle(), 100, [{ type: 'by-hand-begun' }, wished('vacuumPump')]);
    expect(begun.wanted).toEqual(want('vacuumPump'));
  });
});

test('What cannot be read is nothing said', () => {
  const state = recovering('paused', { state: { haltedAtMs: 900 } });
  expect(runSequence(state, 1_000, [undefined as never, { type: 'unheard-of' } as never]).state).toBe(state);
});
