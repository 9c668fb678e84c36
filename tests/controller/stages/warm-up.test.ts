// Warming by the engine: one question from its start to its standstill, and no word of a standstill that the sides deny.
import { describe, expect, test } from 'vitest';
import type { OperatorEvent, Prompt } from '../../../controller/operator.ts';
import { jobResult } from '../../../controller/result.ts';
import { type ControllerState, openJob, scan } from '../../../controller/scan.ts';
import { VALVES } from '../../../controller/signals.ts';
import { answer, newPlant, type Plant, type RunOptions, readPlant, run } from '../support/bench.ts';
import { EQUIPMENT, planFor } from '../support/machine.ts';
import { none } from '../support/readings.ts';

const MINUTE_MS = 60_000;
const open = (): ControllerState =>
  openJob(planFor({ service: 'recover', engine: 'can-run', warmUp: true }), EQUIPMENT, 0);
const codes = (state: ControllerState): string[] => jobResult(state).notices.map(({ code }) => code);

/** What the operator does while the question stands, for so long; true is the word that it stands still. */
type Hands = (plant: Plant, forMs: number) => boolean;
const start: Hands = (plant) => {
  plant.engine = true;
  return false;
};
const startThenStop: Hands = (plant, forMs) => {
  plant.engine = forMs < 15 * MINUTE_MS;
  return !plant.engine;
};
const startAndSayAtOnce: Hands = (plant, forMs) => {
  plant.engine = true;
  return forMs > MINUTE_MS;
};

function warmed(hands: Hands, options: RunOptions = {}) {
  const plant = newPlant();
  const asked: string[] = [];
  let openWhileRunning = 0;
  const answerTo = (prompt: Prompt, nowMs: number): OperatorEvent[] => {
    if (prompt.id !== 'warm-vehicle') return [answer(prompt, plant)];
    return hands(plant, nowMs - prompt.askedAtMs) ? [{ type: 'confirmed', prompt: prompt.id }] : [];
  };
  const state = run(open(), {
    plant,
    answers: false,
    ...options,
    events: ({ nowMs }, { prompt }) => (prompt === undefined ? [] : answerTo(prompt, nowMs)),
    watch: (seen, now) => {
      const id = seen.state.prompt?.id;
      if (id !== undefined && asked.at(-1) !== id) asked.push(id);
      if (now.engine && VALVES.some((valve) => seen.commands[valve].on)) openWhileRunning += 1;
      return options.watch?.(seen, now);
    },
  });
  return { state, plant, asked, openWhileRunning };
}

const asking = () =>
  warmed(start, { watch: ({ state, nowMs }) => nowMs - (state.prompt?.askedAtMs ?? nowMs) > 5 * MINUTE_MS });

describe('An engine that warms the vehicle', () => {
  test('is asked for once, told when it is enough, and recovered from when it stands', () => {
    const { state, asked, openWhileRunning } = warmed(startThenStop);
    expect(asked).toEqual(['identify-refrigerant', 'connect-hoses', 'warm-vehicle', 'close-couplers']);
    expect(codes(state).filter((code) => code === 'warm-up-enough')).toHaveLength(1);
    expect(openWhileRunning).toBe(0);
    expect(jobResult(state).outcome).toBe('completed');
  });

  test('counts as running from the question on, for the interlocks, whatever becomes of the question', () => {
    const { state, plant } = asking();
    expect(state.prompt?.id).toBe('warm-vehicle');
    expect(state.memory.engineWatch.engine).toBe('running');
    const next = (...events: readonly OperatorEvent[]) =>
      scan(state, readPlant(plant), plant.nowMs + 100, events).state;
    expect(next({ type: 'paused' }).memory.engineWatch.engine).toBe('running');
    const aborted = next({ type: 'aborted' });
    expect(aborted.memory.engineWatch.engine).toBe('running');
    expect(codes(aborted)).toContain('engine-still-running');
    expect(next({ type: 'confirmed', prompt: 'warm-vehicle' }).memory.engineWatch.engine).toBe('off');
  });

  test('is asked to stop by itself after a pause: nobody knows how long it has run', () => {
    const { state, plant } = asking();
    const paused = scan(state, readPlant(plant), plant.nowMs + 100, [{ type: 'paused' }]).state;
    const resumed = scan(paused, readPlant(plant), plant.nowMs + 200, [{ type: 'resumed' }]).state;
    expect(resumed.prompt?.id).toBe('stop-engine');
  });

  test('whose high side comes near its limit is to be stopped at once, told once', () => {
    const { state } = warmed(startThenStop, {
      readings: (plant) => (plant.engine && plant.apart > 0.9 ? { highSidePressurePa: 2_300_000 } : {}),
    });
    expect(codes(state).filter((code) => code === 'warm-up-cut-short')).toHaveLength(1);
  });
});

describe('The word that it stands still', () => {
  test('is NOT believed while the sides stay apart: it is asked for again, and no valve opens before', () => {
    const { state, asked, openWhileRunning } = warmed(startAndSayAtOnce);
    expect(codes(state)).toContain('engine-perhaps-running');
    expect(asked.slice(2, 4)).toEqual(['warm-vehicle', 'stop-engine']);
    expect(openWhileRunning).toBe(0);
    expect(jobResult(state).outcome).toBe('completed');
  });

  test('is asked for by itself where a side cannot be seen', () => {
    const { asked } = warmed(startThenStop, {
      readings: (_, { stage }) =>
        stage?.stage === 'settle' && stage.warmed ? { lowSidePressurePa: none('stale') } : {},
    });
    expect(asked.slice(2, 4)).toEqual(['warm-vehicle', 'stop-engine']);
  });
});
