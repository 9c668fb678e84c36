// Where an event leads: to the first stage that is planned, to the hoses, or to an end; and what a halt remembers.
import { describe, expect, test } from 'vitest';
import type { ChartContext, ChartState, ChartValue } from '../../controller/chart-state.ts';
import { STAGES, type Stage } from '../../controller/stages.ts';
import { type ChartEvent, follow } from '../../controller/statechart.ts';

const CONTEXT: ChartContext = {
  stages: STAGES,
  interrupted: null,
  spoiled: false,
  givingBack: false,
  engineTried: false,
};
const at = (value: ChartValue, context: Partial<ChartContext> = {}): ChartState => ({
  value,
  context: { ...CONTEXT, ...context },
});
const leads = (value: ChartValue, type: ChartEvent['type'], context: Partial<ChartContext> = {}) =>
  follow(at(value, context), type).value;
const without = (...left: readonly Stage[]) => ({ stages: STAGES.filter((stage) => !left.includes(stage)) });
const CHECK = { stages: ['identify', 'settle', 'leak-check', 'recover', 'rest', 'recover-hoses'] } as const;

describe('A stage leads to the first that is planned', () => {
  test.each([
    ['identify', 'refrigerant-accepted', {}, 'purge-air'],
    ['identify', 'refrigerant-accepted', without('purge-air'), 'settle'],
    ['identify', 'refrigerant-accepted', without('purge-air', 'settle'), 'fill'],
    ['settle', 'pressure-found', {}, 'recover'],
    ['settle', 'pressure-found', without('leak-check'), 'recover'],
    ['settle', 'pressure-found', CHECK, 'leak-check'],
    ['settle', 'vehicle-found-empty', {}, 'repair'],
    ['settle', 'vehicle-found-empty', without('repair'), 'evacuate'],
    ['settle', 'vehicle-found-empty', without('repair', 'evacuate'), 'recover-hoses'],
    ['rest', 'rest-stayed-low', {}, 'drain-oil'],
    ['rest', 'rest-stayed-low', without('drain-oil'), 'repair'],
    ['hold', 'held-tight', {}, 'add-oil'],
    ['hold', 'held-tight', without('add-oil', 'leak-check'), 'charge'],
    ['leak-check', 'search-clear', {}, 'charge'],
    ['charge', 'charged', {}, 'verify'],
    ['charge', 'charged', without('verify'), 'recover-hoses'],
  ] as const)('%s on "%s"', (value, event, context, next) => expect(leads(value, event, context)).toBe(next));

  test('and nowhere on what it has no edge for', () => expect(leads('settle', 'charged')).toBe('settle'));
});

describe('A leak check', () => {
  test('that lets in what no charge follows has it taken back, and nothing comes after but the hoses', () => {
    const back = follow(at('leak-check', CHECK), 'search-clear');
    expect(back).toMatchObject({ value: 'recover', context: { givingBack: true, spoiled: false } });
    expect(follow(at('leak-check', CHECK), 'search-found').context.spoiled).toBe(false);
    expect(leads('rest', 'rest-stayed-low', back.context)).toBe('recover-hoses');
  });

  test('that finds a leak before a charge spoils the job', () =>
    expect(follow(at('leak-check'), 'search-found')).toMatchObject({
      value: 'recover',
      context: { givingBack: true, spoiled: true },
    }));
});

test('A job that was spoiled ends as stopped though its hoses are put away, and another as completed', () => {
  expect(leads('recover-hoses', 'hoses-recovered')).toBe('completed');
  expect(leads('recover-hoses', 'hoses-recovered', { spoiled: true })).toBe('stopped');
  const short = follow(at('charge'), 'charge-fell-short');
  expect([short.value, short.context.spoiled]).toEqual(['recover-hoses', true]);
});

test('An engine that was of no help is tried once: the corrected charge goes on to the hoses', () => {
  const tried = follow(at('verify'), 'engine-of-no-help');
  expect(tried).toMatchObject({ value: 'charge', context: { engineTried: true } });
  expect(leads('charge', 'charged', tried.context)).toBe('recover-hoses');
});

describe('A halt', () => {
  test.each(STAGES)('remembers where it came from, and goes on there: %s', (stage) => {
    const paused = follow(at(stage), 'paused');
    expect(paused).toEqual(at('paused', { interrupted: stage }));
    expect(follow(paused, 'resumed')).toEqual(at(stage, { interrupted: stage }));
    const tripped = follow(paused, 'tripped');
    expect(tripped).toEqual(at('tripped', { interrupted: stage }));
    expect(leads('tripped', 'reset', tripped.context)).toBe('paused');
  });

  test('goes on nowhere where nothing was interrupted', () =>
    expect(follow(at('paused'), 'resumed')).toEqual(at('paused')));
});

test('Out of an end and out of no job nothing leads, and it is the same as before', () => {
  for (const value of ['completed', 'stopped', 'idle'] as const) {
    const state = at(value);
    for (const event of ['aborted', 'tripped', 'resumed'] as const) expect(follow(state, event)).toBe(state);
  }
});

test('A chart that breaks throws, for the scan to trip on', () =>
  expect(() => follow(at('identify', { stages: undefined as never }), 'refrigerant-accepted')).toThrow(
    /refrigerant-accepted/,
  ));
