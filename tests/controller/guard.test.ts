// The last word: what the interlocks do to what is wanted, to the job, and what is told of it.
import { describe, expect, test } from 'vitest';
import { guard, judge, mayReset } from '../../controller/guard.ts';
import { openMemory } from '../../controller/interlocks/memory.ts';
import { because, reasonOf, reasonOfRefusal } from '../../controller/interlocks/reason.ts';
import { NO_NOTICES } from '../../controller/notices.ts';
import { promptOf } from '../../controller/prompts.ts';
import { SAFE_COMMANDS } from '../../controller/signals.ts';
import { want } from '../../controller/stages/stage.ts';
import { judgedOf, type Moment, momentOf } from './support/moment.ts';
import { none } from './support/readings.ts';

const TRIP = { row: 'IL-24', reason: 'gas-alarm', atMs: 0 };
const ALONE = want('compressor');
const READY = want('compressor', 'recoveryValve', 'highSideValve');
const STOPPED = { values: { emergencyStop: true } } as const;

describe('What is wanted', () => {
  test('is permitted where no row forbids it, and remembered', () => {
    const wanted = want('highSideValve');
    const { permitted, notices, state } = guard(momentOf(), wanted, [], 100);
    expect(permitted).toBe(wanted);
    expect(notices).toBe(NO_NOTICES);
    expect(state.judged).toMatchObject({ wanted, permitted, refusals: [] });
    expect(state.memory).toMatchObject({ lastScanMs: 100, highShutSinceMs: undefined });
  });

  test('is everything off before anything has been seen', () => {
    const blind = momentOf({ state: { seen: undefined } });
    expect(guard(blind, want('highSideValve'), [], 100)).toEqual({
      state: blind,
      permitted: SAFE_COMMANDS,
      notices: [],
    });
  });

  test('is judged anew only where something that the rows read has changed', () => {
    const wanted = want('highSideValve');
    const { state } = guard(momentOf(), wanted, [], 100);
    const settled = guard(state, wanted, [], 200).state;
    const again = guard(settled, wanted, [], 300).state;
    expect(again.judged).toBe(settled.judged);
    expect(judge(again, again.seen!, wanted, [], 400).trip).toBeUndefined();
    const other = want('lowSideValve');
    expect(guard(again, other, [], 400).permitted).toBe(other);
    const pressed = { ...again, seen: { ...again.seen!, emergencyStop: 'tripped' } as const };
    expect(guard(pressed, wanted, [], 400).permitted).toBe(SAFE_COMMANDS);
    // The compressor has rested for its two minutes: no reading has changed, and yet it may start.
    const resting = guard(momentOf(), READY, [], 100).state;
    expect(resting.judged!.permitted.compressor.on).toBe(false);
    const memory = { ...resting.memory, lastScanMs: 119_900, fanMovingSinceMs: 0 };
    expect(guard({ ...resting, memory }, READY, [], 120_000).permitted).toEqual(READY);
  });

  test('under the question to warm a vehicle reckons with an engine that may run', () => {
    const engineUnder = (id: 'warm-vehicle' | 'connect-hoses') =>
      guard(momentOf({ state: { prompt: promptOf(id, 0, 'two-ports') } }), SAFE_COMMANDS, [], 100).state
        .memory.engineWatch.engine;
    expect(engineUnder('warm-vehicle')).not.toBe('off');
    expect(engineUnder('connect-hoses')).toBe('off');
    expect(guard(momentOf(), SAFE_COMMANDS, [], 100).state.memory.engineWatch.engine).toBe('off');
  });
});

describe('A trip', () => {
  const prompt = promptOf('connect-hoses', 0, 'two-ports');

  test('switches everything off, halts the job and names row, reason, hazard and remedy', () => {
    const { state, permitted, notices } = guard(
      momentOf({ ...STOPPED, state: { prompt } }),
      want('highSideValve'),
      [],
      100,
    );
    const { hazard, remedy } = reasonOf('IL-04');
    expect(permitted).toBe(SAFE_COMMANDS);
    expect(notices).toEqual([
      { code: 'tripped', with: { row: 'IL-04', reason: 'emergency-stop', hazard, remedy } },
    ]);
    expect(state).toMatchObject({
      chart: { value: 'tripped', context: { interrupted: 'identify' } },
      haltedAtMs: 100,
      prompt: undefined,
      memory: { trip: { row: 'IL-04', reason: 'emergency-stop', atMs: 100 } },
    });
    expect(state.accounts.lostTrack).toBe(false);
  });

  test('halts no job anew that stands, and none that has ended', () => {
    const { chart } = momentOf();
    const halted = (value: 'paused' | 'completed', haltedAtMs?: number) =>
      guard(
        momentOf({ ...STOPPED, state: { chart: { ...chart, value }, haltedAtMs } }),
        SAFE_COMMANDS,
        [],
        100,
      ).state;
    expect(halted('paused', 50)).toMatchObject({ haltedAtMs: 50, chart: { value: 'tripped' } });
    expect(halted('completed')).toMatchObject({ haltedAtMs: undefined, chart: { value: 'completed' } });
  });

  test('that finds refrigerant gone past every weighing leaves the job without track of it', () => {
    const open = { ...openMemory(0).ventWatch, open: true };
    const { state } = guard(momentOf({ memory: { ventWatch: open } }), SAFE_COMMANDS, [], 100);
    expect(state.memory.trip!.row).toBe('IL-46');
    expect(state.accounts.lostTrack).toBe(true);
  });

  test('is told once: while it is latched nothing is permitted, and nothing more is said', () => {
    const { state, permitted, notices } = guard(
      momentOf({ ...STOPPED, memory: { trip: TRIP } }),
      want('highSideValve'),
      [],
      100,
    );
    expect(permitted).toEqual(SAFE_COMMANDS);
    expect(notices).toEqual([]);
    expect(state.memory.trip).toBe(TRIP);
  });
});

describe('What is held back', () => {
  const held = (moment: Moment, wanted = ALONE, nowMs = 100) => guard(momentOf(moment), wanted, [], nowMs);
  const since = (sinceMs: number, told = false): Moment => ({
    memory: { lastScanMs: 10_000 },
    state: { held: { sinceMs, told } },
  });

  test('is told once it has been so for ten seconds, with row, outputs, hazard and remedy', () => {
    expect(held({}).state.held).toEqual({ sinceMs: 100, told: false });
    expect(held({}).notices).toBe(NO_NOTICES);
    expect(held(since(101), ALONE, 10_100)).toMatchObject({ notices: [], state: { held: { told: false } } });
    const reason = reasonOf('IL-15');
    const { state, notices, permitted } = held(since(100), ALONE, 10_100);
    expect(permitted).toEqual(SAFE_COMMANDS);
    expect(state.held).toEqual({ sinceMs: 100, told: true });
    expect(notices).toEqual([
      {
        code: 'held-by-interlock',
        with: { row: 'IL-15', outputs: 'compressor', because: because(reason), remedy: reason.remedy },
      },
    ]);
  });

  test('is told of every output that the row takes, each once', () => {
    const { notices } = held(since(100), want('recoveryValve', 'chargeValve'), 10_100);
    expect(notices[0]!.with).toMatchObject({ row: 'IL-19', outputs: 'chargeValve, recoveryValve' });
  });

  test('is told of one row at a time, the first, with nothing of what others take', () => {
    const { notices } = held(since(100), want('compressor', 'oilValve'), 10_100);
    expect(notices).toHaveLength(1);
    expect(notices[0]!.with).toMatchObject({ row: 'IL-01-oilValve', outputs: 'oilValve' });
  });

  test('is NOT told twice, and no more once it is permitted', () => {
    const told = held(since(100, true), ALONE, 20_000 - 8_000);
    expect(told.notices).toBe(NO_NOTICES);
    expect(told.state.held).toEqual({ sinceMs: 100, told: true });
    expect(held(since(100, true), SAFE_COMMANDS, 10_100).state.held).toBeUndefined();
  });

  test('is NOT told where the sequence waits for it: a compressor that must rest, or a latched trip', () => {
    expect(held(since(100), READY, 10_100)).toMatchObject({ notices: [], state: { held: undefined } });
    const tripped = held({ ...since(100), memory: { trip: TRIP, lastScanMs: 10_000 } }, READY, 10_100);
    expect(tripped).toMatchObject({ notices: [], state: { held: undefined } });
  });

  test('for want of a reading is told as such', () => {
    const blind = { ...since(100), values: { scaleCounts: none('stale') } };
    const { notices, state } = held(blind, want('recoveryValve'), 10_100);
    const reason = reasonOfRefusal(state.judged!.refusals[0]!);
    expect(reason.unknown).toBe('the mass in the tank by the scale');
    expect(notices).toEqual([
      {
        code: 'held-by-unknown',
        with: {
          row: 'IL-07',
          outputs: 'recoveryValve',
          because: because(reason),
          remedy: reason.remedy,
        },
      },
    ]);
  });
});

describe('A trip may be reset', () => {
  const resets = (moment: Moment = {}, row = 'IL-04') =>
    mayReset(
      momentOf({
        ...moment,
        memory: { trip: { ...TRIP, row }, ...moment.memory },
        state: { judged: judgedOf(), ...moment.state },
      }),
      100,
    );

  test('once everything is off and its cause is gone', () => {
    expect(resets()).toBe(true);
    expect(resets({ state: { judged: undefined } })).toBe(true);
    expect(resets({}, 'controller')).toBe(true);
    expect(resets({ memory: { trip: undefined } })).toBe(true);
  });

  test('NOT while anything is on, or nothing has been seen', () => {
    expect(resets({ state: { judged: judgedOf('fanStop') } })).toBe(false);
    expect(resets({ state: { seen: undefined } })).toBe(false);
  });

  test('NOT while its cause stands, or any other', () => {
    expect(resets(STOPPED)).toBe(false);
    expect(resets(STOPPED, 'IL-24')).toBe(false);
  });

  test('NOT while that which tripped cannot be read; what others read may be missing', () => {
    const unread = { values: { emergencyStop: none('stale') } } as const;
    expect(resets(unread)).toBe(false);
    expect(resets(unread, 'IL-24')).toBe(true);
    // One of the two things that this row reads.
    expect(resets({ values: { gasAlarm: none('stale') } }, 'IL-24')).toBe(false);
  });
});
