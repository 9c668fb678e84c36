// When a manifold counts as closed, or as one with a hose, by what is remembered of valves, drives and engine.
import { describe, expect, test } from 'vitest';
import { see } from '../../../controller/estimates/seen.ts';
import { type Memory, noteCommands, openMemory } from '../../../controller/interlocks/memory.ts';
import { noteReadings } from '../../../controller/interlocks/note-readings.ts';
import { recall } from '../../../controller/interlocks/remembered.ts';
import { type Output, SAFE_COMMANDS } from '../../../controller/signals.ts';
import { want } from '../../../controller/stages/stage.ts';
import { EQUIPMENT } from '../support/machine.ts';
import { none, readingsAt, type Values } from '../support/readings.ts';
import { newsOf } from '../support/watches.ts';

const HIGH_PA = 600_000;
const ROOM_PA = 101_325;

/** Commands held for a while, a scan each 100 ms. */
function hold(
  memory: Memory,
  outputs: readonly Output[],
  fromMs: number,
  toMs: number,
  values: Values,
): Memory {
  const commands = outputs.length === 0 ? SAFE_COMMANDS : want(...outputs);
  let held = memory;
  for (let nowMs = fromMs; nowMs <= toMs; nowMs += 100) {
    held = noteReadings(held, newsOf(see(readingsAt(nowMs, values), EQUIPMENT, nowMs)), [], nowMs);
    held = noteCommands(held, commands, undefined, nowMs);
  }
  return held;
}
const ventOf = (memory: Memory) => recall(memory, memory.lastScanMs, 120_000).vent;

/** The hoses stand high, the low one whatever else does. */
const at = (manifoldPressurePa: number | ReturnType<typeof none>, highSidePressurePa = HIGH_PA): Values => ({
  manifoldPressurePa,
  highSidePressurePa,
  lowSidePressurePa: HIGH_PA,
});
const HIGH = at(none('out-of-range'));

describe('A closed manifold', () => {
  const high = hold(openMemory(0), [], 0, 1_000, HIGH);

  test('is open to the room when it comes to its pressure', () => {
    expect(ventOf(hold(high, [], 1_100, 6_000, at(ROOM_PA)))).toBe('open');
  });

  test('is open to what a running pump draws it down through, and NOT beside a pump at rest', () => {
    const drawnBeside = (...outputs: readonly Output[]) =>
      ventOf(hold(hold(high, outputs, 1_100, 2_000, HIGH), outputs, 2_100, 9_000, at(200)));
    expect(drawnBeside('vacuumPump')).toBe('open');
    expect(drawnBeside()).toBe('shut');
  });

  test.each([[['vacuumValve']], [['chargeValve']], [['recoveryValve', 'compressor']]] as const)(
    'is NOT one with %s on',
    (outputs) => {
      const joined = hold(high, outputs, 1_100, 20_000, HIGH);
      expect(ventOf(hold(joined, outputs, 20_100, 30_000, at(ROOM_PA)))).toBe('shut');
    },
  );

  test('is NOT one before a controller that starts has told its valves to shut', () => {
    const started = hold(openMemory(0), [], 20_000, 20_000, HIGH);
    expect(ventOf(hold(started, [], 20_100, 30_000, at(ROOM_PA)))).toBe('shut');
  });
});

describe('What is joined to the manifold counts with it', () => {
  const begun = hold(openMemory(0), [], 0, 1_000, HIGH);
  /** Six bar for a while, then the pressure of the room for ten more. */
  function ventAfter(
    outputs: readonly Output[],
    openForMs = 10_000,
    engine: Memory['engineWatch']['engine'] = 'off',
  ) {
    const ran = { ...begun, engineWatch: { ...begun.engineWatch, engine } };
    const high = hold(ran, outputs, 1_100, 1_100 + openForMs, HIGH);
    return ventOf(hold(high, outputs, 1_200 + openForMs, 12_000 + openForMs, at(ROOM_PA, ROOM_PA)));
  }

  test('where only a hose valve is open, for long enough', () => {
    expect(ventAfter(['highSideValve'])).toBe('open');
    expect(ventAfter(['lowSideValve'])).toBe('open');
    expect(ventAfter(['highSideValve', 'lowSideValve'])).toBe('open');
    expect(ventAfter(['highSideValve'], 9_000)).toBe('shut');
  });

  test('and NOT within ten seconds of what the charge valve let in, which evens out', () => {
    const fedFor = (evenMs: number) => {
      const joined = hold(openMemory(0), ['highSideValve'], 0, 20_000, HIGH);
      const fed = hold(joined, ['highSideValve', 'chargeValve'], 20_100, 21_000, HIGH);
      const evened = hold(fed, ['highSideValve'], 21_100, 21_000 + evenMs, HIGH);
      const room = { ...at(ROOM_PA, ROOM_PA), lowSidePressurePa: ROOM_PA };
      return ventOf(hold(evened, ['highSideValve'], 21_100 + evenMs, 33_000 + evenMs, room));
    };
    expect(fedFor(9_000)).toBe('shut');
    expect(fedFor(15_000)).toBe('open');
  });

  test.each([
    'recoveryValve',
    'chargeValve',
    'vacuumValve',
    'oilValve',
    'dyeValve',
    'separatorDrainValve',
    'airPurgeValve',
    'compressor',
    'vacuumPump',
  ] as const)('and NOT beside %s', (output) => {
    expect(ventAfter(['highSideValve', output])).toBe('shut');
  });

  test('and NOT through the low side of a running engine, which draws at it', () => {
    expect(ventAfter(['lowSideValve'], 15_000, 'running')).toBe('shut');
    expect(ventAfter(['highSideValve'], 15_000, 'running')).toBe('open');
  });
});
