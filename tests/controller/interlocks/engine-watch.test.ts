// Whether the engine runs, as the interlocks know it: by word, by pressure, and not by anything that looks alike.
import { describe, expect, test } from 'vitest';
import { see } from '../../../controller/estimates/seen.ts';
import { classify } from '../../../controller/interlocks/bands.ts';
import {
  type EngineWatch,
  mayRun,
  openEngineWatch,
  watchEngine,
} from '../../../controller/interlocks/engine-watch.ts';
import { type Memory, noteCommands, openMemory } from '../../../controller/interlocks/memory.ts';
import { recall } from '../../../controller/interlocks/remembered.ts';
import type { OperatorEvent } from '../../../controller/operator.ts';
import { ON, type Output, SAFE_COMMANDS } from '../../../controller/signals.ts';
import { want } from '../../../controller/stages/stage.ts';
import { EQUIPMENT, R134A, TICKET } from '../support/machine.ts';
import { none, readingsAt, type Values } from '../support/readings.ts';

const START: OperatorEvent = { type: 'confirmed', prompt: 'start-engine' };
const STOP: OperatorEvent = { type: 'confirmed', prompt: 'stop-engine' };

/** Both sides over a time, in kPa, ten scans a second. */
function follow(
  sides: (s: number) => readonly [number, number],
  seconds: number,
  from: EngineWatch = openEngineWatch(0),
  joined = false,
): EngineWatch {
  let watch = from;
  for (let nowMs = 0; nowMs <= seconds * 1000; nowMs += 100) {
    const [high, low] = sides(nowMs / 1000);
    const values: Values = { highSidePressurePa: high * 1000, lowSidePressurePa: low * 1000 };
    watch = watchEngine(watch, see(readingsAt(nowMs, values), EQUIPMENT, nowMs), joined, [], nowMs);
  }
  return watch;
}
const ramp = (s: number, overS: number): number => Math.min(s / overS, 1);
const heard = (watch: EngineWatch, ...events: readonly OperatorEvent[]): string =>
  watchEngine(watch, see(readingsAt(0), EQUIPMENT, 0), false, events, 0).engine;

describe('By word', () => {
  test('a start counts from its confirmation to that of the stop', () => {
    const running = { ...openEngineWatch(0), engine: 'running' } as const;
    expect(heard(openEngineWatch(0), START)).toBe('running');
    expect(heard(running, { type: 'confirmed', prompt: 'warm-vehicle' })).toBe('off');
    expect(heard(openEngineWatch(0), { type: 'confirmed', prompt: 'connect-hoses' })).toBe('off');
    expect(heard(running)).toBe('running');
    expect(heard(running, STOP)).toBe('off');
    expect(heard(running, { type: 'confirmed', prompt: 'close-couplers-then-stop' })).toBe('off');
  });
  test('anything else that is confirmed, or is no event at all, changes nothing', () => {
    const running = { ...openEngineWatch(0), engine: 'running' } as const;
    expect(heard(running, { type: 'confirmed', prompt: 'connect-hoses' })).toBe('running');
    expect(heard(running, undefined as unknown as OperatorEvent)).toBe('running');
    expect(heard(running, { type: 'paused' } as unknown as OperatorEvent)).toBe('running');
  });
  test('who was asked to warm the vehicle may have started it already', () => {
    expect(mayRun(100).engine).toBe('running');
    expect(heard(mayRun(100))).toBe('running');
    expect(heard(mayRun(100), STOP)).toBe('off');
  });
  test('of a start and a stop in one breath the start counts', () => {
    expect(heard(openEngineWatch(0), STOP, START)).toBe('running');
  });
});

describe('By pressure', () => {
  const started = (s: number) => [572 + 500 * ramp(s, 30), 572 - 270 * ramp(s, 12)] as const;

  test('a high side that rises while the low side falls, every valve shut, is an engine', () => {
    expect(follow(started, 40).engine).toBe('suspected');
  });
  test('it is off again when the sides have come together, and NOT before', () => {
    const suspected = follow(started, 40);
    expect(follow(() => [900, 400], 5, suspected).engine).toBe('suspected');
    expect(follow(() => [600, 570], 5, suspected).engine).toBe('off');
  });
  test.each<[string, (s: number) => readonly [number, number]]>([
    ['a coupler that opens on one side', (s) => [60 + 512 * ramp(s - 2, 0.5), 60]],
    ['both couplers that open', (s) => [60 + 512 * ramp(s - 2, 0.5), 60 + 512 * ramp(s - 4, 0.5)]],
    ['hoses that warm', (s) => [400 + 160 * ramp(s, 600), 400 + 160 * ramp(s, 600)]],
    [
      'a hot engine bay that warms one side slowly',
      (s) => [572 + 200 * ramp(s, 900), 572 - 10 * ramp(s, 900)],
    ],
    [
      'sides that even out after the engine has stopped',
      (s) => [1100 - 500 * ramp(s, 90), 300 + 280 * ramp(s, 90)],
    ],
  ])('%s is NOT one', (_, sides) => {
    expect(follow(sides, 600).engine).toBe('off');
  });
  test.each<[string, (s: number) => readonly [number, number]]>([
    ['both', (s) => [572 + 200 * ramp(s, 900), 572 - 60 * ramp(s, 900)]],
    [
      'the high side, and a low side that falls at once',
      (s) => [572 + 200 * ramp(s, 900), s < 890 ? 572 : 510],
    ],
    [
      'the low side, and a high side that rises at once',
      (s) => [s < 890 ? 572 : 770, 572 - 60 * ramp(s, 900)],
    ],
  ])('slow changes of %s are forgotten, and are NOT one', (_, sides) => {
    expect(follow(sides, 900).engine).toBe('off');
  });
  test('a rise beyond 1.5 bar with a fall beyond 0.4 bar is one, and either at its limit is NOT', () => {
    const parted = (high: number, low: number): string =>
      follow(
        () => [high, low],
        0,
        follow(() => [500, 500], 0),
      ).engine;
    expect(parted(650.001, 459.999)).toBe('suspected');
    expect(parted(650, 400)).toBe('off');
    expect(parted(800, 460)).toBe('off');
  });
  test('sides within 0.6 bar of each other show that nothing pumps, and NOT at that itself', () => {
    const suspected = follow(started, 40);
    expect(follow(() => [600, 540], 0, suspected).engine).toBe('suspected');
    expect(follow(() => [600, 540.001], 0, suspected).engine).toBe('off');
    expect(follow(() => [540, 600], 0, suspected).engine).toBe('suspected');
  });
  test('a sensor that was lost, or a valve that joined the sides, begins the comparison anew', () => {
    const scan = (watch: EngineWatch, high: number | undefined, low: number | undefined, joined = false) => {
      const lost = none('stale');
      const values = { highSidePressurePa: high ?? lost, lowSidePressurePa: low ?? lost };
      return watchEngine(watch, see(readingsAt(0, values), EQUIPMENT, 0), joined, [], 0);
    };
    const calm = scan(openEngineWatch(0), 500_000, 500_000);
    expect(scan(calm, 800_000, 300_000).engine).toBe('suspected');
    for (const between of [
      scan(calm, undefined, 500_000),
      scan(calm, 500_000, undefined),
      scan(calm, 500_000, 500_000, true),
    ]) {
      const parted = scan(between, 800_000, 300_000);
      expect(parted.engine).toBe('off');
      expect(scan(parted, 1_000_000, 250_000).engine).toBe('suspected');
    }
  });
  test('nothing is concluded while a machine valve joins the sides', () => {
    expect(follow(started, 40, openEngineWatch(0), true).engine).toBe('off');
  });
  test('a lost sensor neither starts nor stops an engine', () => {
    const blind = see(readingsAt(0, { highSidePressurePa: none('stale') }), EQUIPMENT, 0);
    const suspected = follow(started, 40);
    expect(watchEngine(suspected, blind, false, [], 0).engine).toBe('suspected');
    expect(watchEngine(openEngineWatch(0), blind, false, [], 0).engine).toBe('off');
  });
});

describe('The closed manifold', () => {
  const deadEnd = (...outputs: readonly Output[]): string => {
    const fed = noteCommands(openMemory(0), { ...SAFE_COMMANDS, chargeValve: ON }, undefined, 0);
    return recall(noteCommands(fed, want(...outputs), undefined, 100), 100, 0).deadEnd;
  };
  test('is fed by a pulse and stays so until a way out has opened', () => {
    expect(deadEnd()).toBe('fed');
    expect(deadEnd('vacuumPump')).toBe('fed');
    expect(deadEnd('recoveryValve')).toBe('empty');
    expect(deadEnd('highSideValve')).toBe('empty');
    expect(deadEnd('lowSideValve')).toBe('empty');
  });
  test('may have been fed before the controller started: a way out comes before the first pulse', () => {
    const started = openMemory(0);
    expect(recall(started, 0, 0).deadEnd).toBe('fed');
    expect(recall(noteCommands(started, want('lowSideValve'), undefined, 0), 0, 0).deadEnd).toBe('empty');
  });
  test('is fed by the high side of a running engine, until the low side or the tank has taken it', () => {
    const clear = noteCommands(openMemory(0), want('recoveryValve'), undefined, 0);
    const running: Memory = { ...clear, engineWatch: { ...clear.engineWatch, engine: 'running' } };
    const fedBy = (...outputs: readonly Output[]): Memory =>
      noteCommands(running, want(...outputs), undefined, 100);
    expect(recall(fedBy('highSideValve'), 100, 0).deadEnd).toBe('fed');
    const shut = noteCommands(fedBy('highSideValve'), SAFE_COMMANDS, undefined, 200);
    expect(recall(shut, 200, 0).deadEnd).toBe('fed');
    expect(recall(fedBy('lowSideValve'), 100, 0).deadEnd).toBe('empty');
    const sucked = noteCommands(shut, want('lowSideValve'), undefined, 300);
    expect(recall(sucked, 300, 0).deadEnd).toBe('empty');
  });
  test('is NOT fed by a charge into the high side', () => {
    const charged = noteCommands(openMemory(0), want('highSideValve', 'chargeValve'), undefined, 0);
    expect(recall(charged, 0, 0).deadEnd).toBe('empty');
  });
});

describe('Pressure for the drain', () => {
  const band = (values: Values): string =>
    classify({
      seen: see(readingsAt(0, values), EQUIPMENT, 0),
      equipment: EQUIPMENT,
      ticket: TICKET,
      curve: R134A,
      scaleTrust: 'trusted',
      scaleCounts: 2_100_000,
      scaleMassKg: 8,
      purges: true,
    }).drainPressure;
  test('counts from the barometer, with what the sensor may be off by', () => {
    expect(band({ manifoldPressurePa: 112_000 })).toBe('above-ambient');
    expect(band({ manifoldPressurePa: 111_000 })).toBe('at-ambient');
    expect(band({ manifoldPressurePa: 90_000, barometerPa: 75_000 })).toBe('above-ambient');
  });
  test('without a barometer the strongest weather is assumed', () => {
    expect(band({ manifoldPressurePa: 115_000, barometerPa: none('not-fitted') })).toBe('at-ambient');
    expect(band({ manifoldPressurePa: 117_000, barometerPa: none('not-fitted') })).toBe('above-ambient');
  });
  test('beyond the span it is unknown', () => {
    expect(band({ manifoldPressurePa: none('out-of-range') })).toBe('unknown');
    expect(band({ manifoldPressurePa: 159_900 })).toBe('unknown');
  });
});
