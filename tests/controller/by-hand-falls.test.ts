// Work by hand: why a wish would be refused, and how one ends without a word, by time or by the interlocks.
import { describe, expect, test } from 'vitest';
import { fallByTrip, heedVerdict, passTime, whyNot } from '../../controller/by-hand.ts';
import { reasonOf } from '../../controller/interlocks/reason.ts';
import type { Output } from '../../controller/signals.ts';
import type { ControllerState } from '../../controller/state.ts';
import { idle, standing, withWishes, working } from './support/by-hand.ts';
import { judgedOf, type Moment } from './support/moment.ts';

const NOW_MS = 100;
const TRIP = { row: 'IL-24', reason: 'gas-alarm', atMs: 0 };
const FALLEN = { output: 'lowSideValve', reason: reasonOf('IL-04'), atMs: 50 } as const;

describe('Why an output would be refused', () => {
  const rows = (state: ControllerState, output: Output) =>
    whyNot(state, output, NOW_MS).map(({ row }) => row);

  test('is told beside what is on, and of a machine that nobody has taken over', () => {
    expect(rows(working(withWishes([standing('vacuumPump')])), 'highSideValve')).toEqual([]);
    expect(rows(idle(), 'highSideValve')).toEqual([]);
    expect(rows(idle(), 'compressor')[0]).toBe('IL-15');
    // A pump that runs forbids nothing; one that does not forbids its valve.
    expect(rows(idle(), 'vacuumValve')[0]).toBe('IL-09');
  });

  test('is told of itself, and NOT of what else would fall', () => {
    const draws = withWishes([standing('highSideValve'), standing('recoveryValve')]);
    expect(rows(working(draws), 'compressor')).toEqual(['IL-16']);
    const alone = working(withWishes([standing('compressor')]));
    expect(rows(alone, 'highSideValve')).toEqual([]);
    expect(rows(alone, 'vacuumValve')).not.toContain('IL-15');
  });

  test('is that nothing is seen, before the first scan', () =>
    expect(rows(idle({ state: { seen: undefined } }), 'highSideValve')).toEqual(['IL-03']));

  test('is first of all what would trip the machine', () => {
    const [first] = whyNot(idle({ values: { emergencyStop: true } }), 'highSideValve', NOW_MS);
    expect(first).toEqual(reasonOf('IL-04'));
  });
});

describe('Time', () => {
  test('ends the wishes that are over, and tells of those to which nobody gave a time', () => {
    const kept = standing('vacuumPump', { untilMs: 101 });
    const before = withWishes([
      standing('highSideValve', { untilMs: 100 }),
      standing('lowSideValve', { untilMs: 99, timed: true }),
      kept,
    ]);
    const { state, notices } = passTime(working(before), before, NOW_MS);
    expect(state.byHand).toEqual(withWishes([kept]));
    expect(notices).toEqual([{ code: 'wish-expired', with: { output: 'highSideValve', minutes: '5' } }]);
    expect(state.handJournal).toEqual([
      { atMs: NOW_MS, deed: 'off', result: 'expired', output: 'highSideValve' },
      { atMs: NOW_MS, deed: 'off', result: 'expired', output: 'lowSideValve' },
    ]);
  });

  test('changes nothing before', () => {
    const before = withWishes([standing('highSideValve', { untilMs: 101 })]);
    const state = working(before);
    expect(passTime(state, before, NOW_MS).state).toBe(state);
  });
});

describe('After the interlocks', () => {
  const both = withWishes([standing('highSideValve'), standing('compressor')], { fallen: [FALLEN] });
  const heeded = (judged: ControllerState['judged'], moment: Moment = {}) =>
    heedVerdict(working(both, { ...moment, state: { judged } }), NOW_MS);

  test('nothing falls that they let through, nor where nobody works by hand', () => {
    expect(heeded(judgedOf('highSideValve', 'compressor'))).toBeUndefined();
    expect(heedVerdict(idle({ memory: { trip: TRIP } }), NOW_MS)).toBeUndefined();
  });

  test('what they took away falls for its first reason, beside what had fallen before', () => {
    const refusals = [
      { output: 'highSideValve', row: 'IL-01', unknown: [] },
      { output: 'compressor', row: 'IL-15', unknown: [] },
      { output: 'compressor', row: 'IL-16', unknown: [] },
    ] as const;
    const { state, notices } = heeded({ ...judgedOf('highSideValve'), refusals })!;
    const reason = reasonOf('IL-15');
    expect(state.byHand).toEqual({
      ...withWishes([standing('highSideValve')]),
      fallen: [FALLEN, { output: 'compressor', reason, atMs: NOW_MS }],
    });
    expect(state.handJournal).toEqual([
      { atMs: NOW_MS, deed: 'off', result: 'fell', output: 'compressor', reason },
    ]);
    expect(notices).toMatchObject([{ code: 'wish-fell', with: { output: 'compressor', row: 'IL-15' } }]);
  });

  test('what nobody has judged falls by the controller itself', () => {
    const { state } = heeded(undefined)!;
    expect(state.byHand!.wishes).toEqual([]);
    expect(state.byHand!.fallen.slice(1).map(({ reason }) => reason.row)).toEqual([
      'controller',
      'controller',
    ]);
  });

  test('a trip ends the work, and the journal has its row', () => {
    const entry = { atMs: NOW_MS, deed: 'ended', result: 'fell', reason: reasonOf('IL-24') };
    const { state, notices } = heeded(judgedOf(), { memory: { trip: TRIP } })!;
    expect([state.byHand, state.handJournal, notices]).toEqual([undefined, [entry], []]);
    expect(fallByTrip(working(both), 'IL-24', NOW_MS).handJournal).toEqual([entry]);
  });
});
