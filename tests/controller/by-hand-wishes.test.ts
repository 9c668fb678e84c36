// Work by hand, word by word: what one thing said or one interlock does to the wishes, the journal and the notices.
import { describe, expect, test } from 'vitest';
import { LONGEST_WISH_MS, obeyByHand, RENEW_MS } from '../../controller/by-hand.ts';
import { NOTHING_GIVEN } from '../../controller/interlocks/given-watch.ts';
import { openMemory } from '../../controller/interlocks/memory.ts';
import { reasonOf } from '../../controller/interlocks/reason.ts';
import type { OperatorEvent } from '../../controller/operator.ts';
import { OFF, ON, OUTPUTS, SAFE_COMMANDS } from '../../controller/signals.ts';
import { want } from '../../controller/stages/stage.ts';
import type { ControllerState } from '../../controller/state.ts';
import type { Wish } from '../../controller/wishes.ts';
import { idle, standing, wished, withWishes, working } from './support/by-hand.ts';
import { momentOf } from './support/moment.ts';

const NOW_MS = 100;
const obeyed = (state: ControllerState, event: OperatorEvent) => obeyByHand(state, event, [event], NOW_MS);
const TRIP = { row: 'IL-24', reason: 'gas-alarm', atMs: 0 };
const FALLEN = { output: 'lowSideValve', reason: reasonOf('IL-04'), atMs: 50 } as const;
const running = { ...openMemory(0).engineWatch, engine: 'running' } as const;

describe('Whoever takes the machine over', () => {
  test('has nothing on, and is told how long a wish lasts', () => {
    const { state, notices } = obeyed(idle(), { type: 'by-hand-begun' })!;
    expect(state.byHand).toEqual({
      sinceMs: NOW_MS,
      wishes: [],
      wanted: SAFE_COMMANDS,
      fallen: [],
      next: [],
    });
    expect(notices).toEqual([{ code: 'by-hand-begun', with: { minutes: '5' } }]);
    expect(state.handJournal).toEqual([{ atMs: NOW_MS, deed: 'begun', result: 'done' }]);
  });

  test('finds nothing remembered of what was given to a vehicle before', () => {
    const givenWatch = { ...NOTHING_GIVEN, emptied: true, fed: true };
    const { state } = obeyed(idle({ memory: { givenWatch } }), { type: 'by-hand-begun' })!;
    expect(state.memory.givenWatch).toEqual(NOTHING_GIVEN);
  });

  test('is refused while a job runs or a trip is latched, and the journal has it', () => {
    const inJob = obeyed(momentOf(), { type: 'by-hand-begun' })!;
    expect(inJob.notices).toEqual([{ code: 'by-hand-refused-in-job' }]);
    expect(inJob.state.handJournal).toEqual([{ atMs: NOW_MS, deed: 'begun', result: 'refused' }]);
    const tripped = obeyed(idle({ memory: { trip: TRIP } }), { type: 'by-hand-begun' })!;
    expect(tripped.notices).toEqual([{ code: 'by-hand-refused-by-trip', with: { reason: 'gas-alarm' } }]);
    expect(tripped.state.byHand).toBeUndefined();
    expect(tripped.state.handJournal).toEqual([
      { atMs: NOW_MS, deed: 'begun', result: 'refused', reason: reasonOf('IL-02') },
    ]);
  });

  test('twice changes nothing', () => {
    const state = working(withWishes([standing('highSideValve')]));
    expect(obeyed(state, { type: 'by-hand-begun' })).toEqual({ state, notices: [] });
  });
});

describe('Whoever gives it back', () => {
  test.each(['by-hand-ended', 'aborted'] as const)('leaves everything off, and it is said: %s', (type) => {
    const { state, notices } = obeyed(working(withWishes([standing('highSideValve')])), { type })!;
    expect(state.byHand).toBeUndefined();
    expect(notices).toEqual([{ code: 'by-hand-ended' }]);
    expect(state.handJournal).toEqual([{ atMs: NOW_MS, deed: 'ended', result: 'done' }]);
  });

  test('is warned of an engine that may run', () => {
    const { notices } = obeyed(working(withWishes([]), { memory: { engineWatch: running } }), {
      type: 'by-hand-ended',
    })!;
    expect(notices).toEqual([{ code: 'by-hand-ended' }, { code: 'engine-still-running' }]);
  });
});

test.each(['paused', 'all-wished-off'] as const)(
  'By hand %s takes every wish away, those put off too',
  (type) => {
    const busy = withWishes([standing('highSideValve')], {
      next: [wished('lowSideValve')],
      fallen: [FALLEN],
    });
    const { state, notices } = obeyed(working(busy), { type })!;
    expect(state.byHand).toEqual({ ...busy, wishes: [], wanted: SAFE_COMMANDS, next: [] });
    expect(notices).toEqual([]);
    expect(state.handJournal).toEqual([{ atMs: NOW_MS, deed: 'all-off', result: 'done' }]);
  },
);

test('What is none of its business is left to the job', () => {
  for (const type of ['paused', 'all-wished-off', 'by-hand-ended', 'aborted'] as const)
    expect(obeyed(idle(), { type })).toBeUndefined();
  expect(obeyed(working(), { type: 'reset' })).toBeUndefined();
  expect(obeyed(working(), undefined as never)).toBeUndefined();
});

describe('A wish', () => {
  test.each([
    ['of no output', wished('door' as never)],
    ['neither on nor off', wished('highSideValve', 1 as never)],
    ['for no time', wished('highSideValve', true, 0)],
    ['for less than no time', wished('highSideValve', true, -1)],
    ['for a time that is no number', wished('highSideValve', true, Number.NaN)],
    ['for ever', wished('highSideValve', true, Number.POSITIVE_INFINITY)],
  ])('%s is none', (_, event) => {
    for (const state of [working(), idle()]) expect(obeyed(state, event)).toEqual({ state, notices: [] });
  });

  test('of a machine that nobody has taken over is refused, with the time that was asked for', () => {
    const { state, notices } = obeyed(idle(), wished('highSideValve', true, 250))!;
    expect(notices).toEqual([{ code: 'wish-not-by-hand', with: { output: 'highSideValve' } }]);
    expect(state.handJournal).toEqual([
      { atMs: NOW_MS, deed: 'on', output: 'highSideValve', offAfterMs: 250, result: 'refused' },
    ]);
    const off = obeyed(idle(), wished('highSideValve', false))!.state.handJournal;
    expect(off).toStrictEqual([{ atMs: NOW_MS, deed: 'off', output: 'highSideValve', result: 'refused' }]);
  });

  test('that is granted stands beside the others until it must be renewed, and has fallen no more', () => {
    const before = withWishes([standing('lowSideValve')], {
      fallen: [FALLEN, { ...FALLEN, output: 'highSideValve' }],
    });
    const { state, notices } = obeyed(working(before), wished('highSideValve'))!;
    expect(notices).toEqual([]);
    expect(state.byHand).toEqual({
      ...before,
      wishes: [standing('lowSideValve'), standing('highSideValve', { untilMs: NOW_MS + RENEW_MS })],
      wanted: want('highSideValve', 'lowSideValve'),
      fallen: [FALLEN],
    });
    expect(state.handJournal).toEqual([
      { atMs: NOW_MS, deed: 'on', output: 'highSideValve', result: 'permitted' },
    ]);
  });

  test('lasts as long as was asked for and no longer than the longest; below a second the rig counts', () => {
    const granted = (offAfterMs: number): Wish =>
      obeyed(working(), wished('highSideValve', true, offAfterMs))!.state.byHand!.wishes[0]!;
    expect(granted(1_000)).toEqual(standing('highSideValve', { untilMs: 1_100, timed: true }));
    expect(granted(999)).toEqual(
      standing('highSideValve', { untilMs: 1_099, timed: true, command: { on: true, offAfterMs: 999 } }),
    );
    expect(granted(LONGEST_WISH_MS + 1).untilMs).toBe(NOW_MS + LONGEST_WISH_MS);
  });

  test('that is renewed stands once', () => {
    const before = withWishes([standing('highSideValve', { untilMs: 200 }), standing('lowSideValve')]);
    const { state } = obeyed(working(before), wished('highSideValve'))!;
    expect(state.byHand!.wishes).toEqual([
      standing('lowSideValve'),
      standing('highSideValve', { untilMs: NOW_MS + RENEW_MS }),
    ]);
  });

  test('after a pulse that still stands waits for one scan with everything of it off', () => {
    const pulse = standing('highSideValve', { command: { on: true, offAfterMs: 200 } });
    const before = withWishes([pulse, standing('lowSideValve')], {
      next: [wished('highSideValve', true, 150), wished('vacuumPump')],
    });
    const { state, notices } = obeyed(working(before), wished('highSideValve', true, 100))!;
    expect(state.byHand).toEqual({
      ...before,
      wishes: [standing('lowSideValve')],
      wanted: want('lowSideValve'),
      next: [wished('vacuumPump'), wished('highSideValve', true, 100)],
    });
    expect([notices, state.handJournal]).toEqual([[], []]);
  });

  test('after a pulse of another output is granted at once', () => {
    const pulse = standing('lowSideValve', { command: { on: true, offAfterMs: 200 } });
    const { state } = obeyed(working(withWishes([pulse])), wished('highSideValve'))!;
    expect(state.byHand!.wishes.map(({ output }) => output)).toEqual(['lowSideValve', 'highSideValve']);
  });

  test('to be off is done at once, and what was put off of it is forgotten', () => {
    const before = withWishes([standing('highSideValve'), standing('lowSideValve')], {
      next: [wished('highSideValve'), wished('vacuumPump')],
    });
    const { state } = obeyed(working(before), wished('highSideValve', false))!;
    expect(state.byHand).toEqual({
      ...before,
      wishes: [standing('lowSideValve')],
      wanted: want('lowSideValve'),
      next: [wished('vacuumPump')],
    });
    expect(state.handJournal).toStrictEqual([
      { atMs: NOW_MS, deed: 'off', output: 'highSideValve', result: 'done' },
    ]);
  });

  test('that an interlock forbids is refused with its row, and what stands goes on', () => {
    const before = withWishes([standing('highSideValve')]);
    const { state, notices } = obeyed(working(before), wished('compressor'))!;
    const reason = reasonOf('IL-15');
    expect(state.byHand).toBe(working(before).byHand);
    expect(state.handJournal).toEqual([
      { atMs: NOW_MS, deed: 'on', output: 'compressor', result: 'refused', reason },
    ]);
    expect(notices).toEqual([
      {
        code: 'wish-refused',
        with: {
          output: 'compressor',
          row: 'IL-15',
          because: `${reason.hazard[0]!.toLowerCase()}${reason.hazard.slice(1)}`,
          remedy: reason.remedy,
        },
      },
    ]);
  });
});

test('Everything that is not wished is off', () => {
  const { state } = obeyed(working(), wished('vacuumPump'))!;
  for (const output of OUTPUTS)
    expect(state.byHand!.wanted[output]).toEqual(output === 'vacuumPump' ? ON : OFF);
});
