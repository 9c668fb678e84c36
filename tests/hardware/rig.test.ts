import { describe, expect, test } from 'vitest';
import { type Commands, ON, SAFE_COMMANDS } from '../../controller/signals.ts';
import { Connection } from '../../hardware/connection.ts';
import { BoardRig, SERIAL_CAPABILITIES, wordOf } from '../../hardware/rig.ts';
import { SENSORS } from './fitted-sensors.ts';
import { boardText, bootText, type SeenFields, seenText, ToldLines } from './told-board.ts';

const PUMPING: Commands = { ...SAFE_COMMANDS, vacuumPump: ON, vacuumValve: { on: true, offAfterMs: 150.4 } };

class Rehearsal {
  nowMs = 0;
  readonly lines = new ToldLines();
  readonly rig: BoardRig;
  #count = 0;

  constructor() {
    const nowMs = () => this.nowMs;
    const connection = new Connection({ open: this.lines.open, nowMs });
    this.rig = new BoardRig({ connection, sensors: SENSORS, capabilities: SERIAL_CAPABILITIES, nowMs });
  }

  /** The board starts and answers. */
  greet(session = 1): void {
    this.lines.speak(bootText() + boardText(session));
    this.pass(10);
  }

  pass(ms: number, fields?: SeenFields): void {
    for (let passed = 0; passed < ms; passed += 10) {
      this.nowMs += 10;
      if (fields !== undefined && this.nowMs % 50 === 0) this.see(fields);
      this.rig.tick();
      this.rig.readings();
    }
  }

  see(fields: SeenFields): void {
    this.lines.speak(seenText({ count: this.#count++ & 0xffff, t: this.nowMs, ...fields }));
    this.rig.readings();
  }

  get verbs(): readonly string[] {
    return this.lines.said.map((line) => line.split(' ')[0]!);
  }
}

function driven(): Rehearsal {
  const rehearsal = new Rehearsal();
  rehearsal.greet();
  rehearsal.rig.takeControl();
  rehearsal.rig.apply(SAFE_COMMANDS);
  rehearsal.see({ state: 'armed', obeyed: 1 });
  return rehearsal;
}

describe('a board as a rig', () => {
  test('before its first line nothing is known, and nothing is ever permission', () => {
    const { rig } = new Rehearsal();
    for (const reading of Object.values(rig.readings()))
      expect(reading).toEqual({ ok: false, reason: 'not-read-yet' });
  });

  test('until somebody takes control it is read and never told anything', () => {
    const rehearsal = new Rehearsal();
    rehearsal.greet();
    rehearsal.see({});
    rehearsal.rig.apply(SAFE_COMMANDS);
    rehearsal.rig.apply(PUMPING);
    expect(rehearsal.rig.undriven).toBe('no-control');
    expect(rehearsal.verbs).toEqual(['HELLO']);
    expect(rehearsal.rig.readings().fanFlow).toMatchObject({ ok: true, value: true });
  });

  test('control may be taken in the very moment in which the board has answered', () => {
    const rehearsal = new Rehearsal();
    rehearsal.lines.speak(bootText() + boardText());
    rehearsal.rig.takeControl();
    rehearsal.pass(20);
    expect(rehearsal.rig.undriven).toBeUndefined();
  });

  test('who takes control arms it with everything off, and commands follow', () => {
    const rehearsal = new Rehearsal();
    rehearsal.greet();
    rehearsal.rig.takeControl();
    rehearsal.rig.apply(PUMPING);
    expect(rehearsal.verbs).toEqual(['HELLO', 'ARM', 'SET']);
    expect(rehearsal.lines.said.at(-1)).toContain('0408 FBF7 3:000096');
  });

  test('every command has its own bit', () => {
    expect(wordOf(SAFE_COMMANDS)).toBe(0);
    expect(wordOf(PUMPING)).toBe(0x408);
  });

  test('control does not outlive the line: a board that is back is read and not driven until control is taken again', () => {
    const rehearsal = driven();
    rehearsal.lines.pull('the cable is out');
    rehearsal.pass(100);
    expect(rehearsal.rig.undriven).toBe('not-connected');
    expect(rehearsal.rig.connection.problem).toBe('the cable is out');
    rehearsal.pass(600);
    expect(rehearsal.lines.heard).toHaveLength(2);
    rehearsal.greet(2);
    rehearsal.see({});
    rehearsal.rig.apply(SAFE_COMMANDS);
    expect(rehearsal.rig.undriven).toBe('reconnected');
    expect(rehearsal.verbs).toEqual(['HELLO']);
    rehearsal.rig.takeControl();
    expect(rehearsal.verbs).toEqual(['HELLO', 'ARM']);
  });

  test('an ARM that was lost is said again by the next word with everything off, and by no other', () => {
    const rehearsal = driven();
    rehearsal.rig.takeControl();
    rehearsal.pass(200, { state: 'ready', obeyed: 1 });
    const before = rehearsal.lines.said.length;
    rehearsal.rig.apply(PUMPING);
    expect(rehearsal.lines.said).toHaveLength(before);
    rehearsal.rig.apply(SAFE_COMMANDS);
    expect(rehearsal.verbs.at(-1)).toBe('ARM');
  });

  test.each(['link-lost', 'emergency-stop', 'high-pressure', 'output-chain'])(
    'a trip of the board’s own, %s, ends the control: nothing is said until somebody takes it again',
    (trip) => {
      const rehearsal = driven();
      rehearsal.see({ state: 'tripped', trip, obeyed: 9 });
      const before = rehearsal.lines.said.length;
      rehearsal.rig.apply(SAFE_COMMANDS);
      rehearsal.rig.apply(PUMPING);
      expect(rehearsal.lines.said).toHaveLength(before);
      expect(rehearsal.rig.undriven).toBe(trip);
      rehearsal.rig.takeControl();
      expect(rehearsal.verbs.at(-1)).toBe('ARM');
      rehearsal.see({ state: 'tripped', trip, obeyed: 1 });
      expect(rehearsal.rig.undriven).toBeUndefined();
    },
  );

  test('what gets lost is summed over all links, and every opening is counted', () => {
    const rehearsal = driven();
    rehearsal.lines.speak('noise\n');
    rehearsal.lines.pull('the cable is out');
    rehearsal.pass(700);
    rehearsal.greet(2);
    rehearsal.lines.speak('more noise\nand more\n');
    const { connection } = rehearsal.rig;
    expect(connection.losses).toMatchObject({ form: 3, crc: 0 });
    expect(connection.opened).toBe(2);
  });

  test('old readings keep the time they were taken at', () => {
    const rehearsal = driven();
    rehearsal.see({});
    const before = rehearsal.rig.readings().manifoldPressurePa;
    rehearsal.pass(2_000);
    expect(rehearsal.rig.readings().manifoldPressurePa).toEqual(before);
  });
});

test('a port that is not there is tried again, less and less often', () => {
  const rehearsal = new Rehearsal();
  let tries = 0;
  for (let ms = 0; ms < 60_000; ms += 10) {
    if (rehearsal.lines.heard.length > tries) {
      tries = rehearsal.lines.heard.length;
      rehearsal.lines.pull('there is no port');
    }
    rehearsal.pass(10);
  }
  expect(tries).toBeGreaterThan(12);
  expect(tries).toBeLessThan(20);
  expect(rehearsal.lines.closed).toBe(tries);
});
