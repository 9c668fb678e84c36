// What is remembered of liquid in the manifold and of the hoses let into it: a rise that boils is not called a leak.
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

const START_MS = 300_000;

type Scan = { readonly on?: readonly Output[]; readonly pa?: number | 'unread'; readonly values?: Values };

/** So many scans of the same, 100 ms each. */
function scans(memory: Memory, count: number, { on = [], pa = 30_000, values = {} }: Scan = {}): Memory {
  let held = memory;
  for (let scan = 0; scan < count; scan += 1) {
    const nowMs = held.lastScanMs + 100;
    const manifoldPressurePa = pa === 'unread' ? none('stale') : pa;
    const readings = readingsAt(nowMs, { manifoldPressurePa, ...values });
    held = noteReadings(held, newsOf(see(readings, EQUIPMENT, nowMs)), [], nowMs);
    held = noteCommands(held, on.length === 0 ? SAFE_COMMANDS : want(...on), undefined, nowMs);
  }
  return held;
}
const recalled = (memory: Memory) => recall(memory, memory.lastScanMs, 120_000);

describe('A controller that starts', () => {
  test('takes the manifold for full of liquid, its clock for steady, and counts no purge', () => {
    expect(recalled(openMemory(START_MS))).toMatchObject({ manifoldHolds: 'liquid', clock: 'steady' });
    const late = noteCommands(openMemory(START_MS), SAFE_COMMANDS, undefined, START_MS + 40_000);
    expect(recall(late, START_MS + 40_000, 0).purge).toBe('some-left');
  });

  test('that hears its rig for the first time, or not at all, has NOT heard it again', () => {
    const heard = (memory: Memory, nowMs: number, readAtMs: number): Memory =>
      noteReadings(memory, newsOf(see(readingsAt(readAtMs), EQUIPMENT, nowMs)), [], nowMs);
    const fresh = openMemory(START_MS);
    expect(heard(fresh, START_MS + 100, START_MS + 100).heardAgain).toBe(false);
    const once = heard(fresh, START_MS, START_MS);
    expect(heard(once, START_MS + 9_000, START_MS).heardAgain).toBe(false);
    expect(heard(once, START_MS + 9_000, START_MS + 9_000).heardAgain).toBe(true);
  });
});

describe('Liquid in the manifold', () => {
  test('is gone ten seconds after it was first seen below 110 kPa, and NOT a scan before', () => {
    const low = scans(openMemory(START_MS), 100, { pa: 109_999 });
    expect(recalled(low).manifoldHolds).toBe('liquid');
    expect(recalled(scans(low, 1, { pa: 109_999 })).manifoldHolds).toBe('no-liquid');
    expect(recalled(scans(openMemory(START_MS), 300, { pa: 110_000 })).manifoldHolds).toBe('liquid');
  });

  test('must be seen low without a break: a scan above it or unread counts anew', () => {
    for (const pa of [120_000, 'unread'] as const) {
      const broken = scans(scans(scans(openMemory(START_MS), 60), 1, { pa }), 60);
      expect(recalled(broken).manifoldHolds).toBe('liquid');
    }
    expect(recalled(scans(openMemory(START_MS), 300, { pa: 'unread' })).manifoldHolds).toBe('liquid');
  });
});

describe('A closed manifold that rises from 30 kPa past the air around', () => {
  const dry = scans(openMemory(START_MS), 120);
  /** Rises by 40 kPa/s. */
  const rises = (memory: Memory, fromPa: number): string => {
    let held = memory;
    for (let pa = fromPa; pa < 150_000; pa += 4_000) held = scans(held, 1, { pa });
    return recalled(scans(held, 12, { pa: 150_000 })).seats;
  };

  test('leaks where it has been dry, and NOT where liquid may lie in it', () => {
    expect(rises(dry, 30_000)).toBe('leaks');
    const charged = scans(dry, 1, { on: ['chargeValve', 'highSideValve'] });
    expect(rises(scans(charged, 15), 30_000)).toBe('tight');
  });

  test('is NOT judged for ten seconds after the high side was let in for a moment: its liquid boils on', () => {
    const pulsed = (valve: Output, openScans: number, restScans: number, pa: number): string => {
      const open = scans(dry, openScans, { on: [valve], pa: 40_000 });
      return rises(scans(open, restScans, { pa }), pa);
    };
    expect(pulsed('highSideValve', 2, 15, 40_000)).toBe('tight');
    expect(pulsed('highSideValve', 9, 15, 40_000)).toBe('tight');
    expect(pulsed('highSideValve', 2, 110, 40_000)).toBe('leaks');
    // Joined for a second it is one room with the vehicle; the low side has vapour.
    expect(pulsed('highSideValve', 10, 15, 40_000)).toBe('leaks');
    expect(pulsed('lowSideValve', 2, 15, 40_000)).toBe('leaks');
    // Liquid would stand at -45 °C below 35 kPa.
    expect(pulsed('highSideValve', 2, 15, 34_999)).toBe('leaks');
    expect(pulsed('highSideValve', 2, 15, 35_000)).toBe('tight');
  });

  test('is judged from the tenth second after that moment on', () => {
    const shut = scans(scans(dry, 2, { on: ['highSideValve'], pa: 40_000 }), 1, { pa: 40_000 });
    const watches = (restScans: number): boolean =>
      scans(shut, restScans, { pa: 40_000 }).seatWatch.fromPa !== undefined;
    expect([watches(99), watches(100)]).toEqual([false, true]);
  });

  test('was NOT let in by a high side that is still open', () => {
    const open = scans(dry, 2, { on: ['highSideValve'], pa: 40_000 });
    expect(open.hosePulsedAtMs).toBeUndefined();
  });
});

describe('An engine that starts', () => {
  const sides = (highSidePressurePa: number, lowSidePressurePa: number): Values => ({
    highSidePressurePa,
    lowSidePressurePa,
  });
  const seenWith = (...on: readonly Output[]) => {
    const calm = scans(openMemory(START_MS), 5, { on, values: sides(572_000, 572_000) });
    return recalled(scans(calm, 5, { on, values: sides(1_000_000, 350_000) })).engine;
  };

  test('is seen by the sides that part, unless a valve of the machine joins one of them', () => {
    expect(seenWith()).toBe('suspected');
    expect(seenWith('highSideValve')).toBe('off');
    expect(seenWith('lowSideValve')).toBe('off');
    expect(seenWith('highSideValve', 'lowSideValve')).toBe('off');
  });
});

describe('A dead end', () => {
  const empty = scans(openMemory(START_MS), 1, { on: ['recoveryValve'] });

  test('is fed by the charge valve without a high side, whatever else is open', () => {
    expect(recalled(scans(empty, 1, { on: ['chargeValve'] })).deadEnd).toBe('fed');
    expect(recalled(scans(empty, 1, { on: ['chargeValve', 'lowSideValve'] })).deadEnd).toBe('fed');
    expect(recalled(scans(empty, 1, { on: ['chargeValve', 'highSideValve'] })).deadEnd).toBe('empty');
  });

  test('is NOT fed by a running engine while its high side is shut', () => {
    const running: Memory = { ...empty, engineWatch: { ...empty.engineWatch, engine: 'running' } };
    expect(recalled(scans(running, 1)).deadEnd).toBe('empty');
    expect(recalled(scans(running, 1, { on: ['highSideValve'] })).deadEnd).toBe('fed');
  });
});
