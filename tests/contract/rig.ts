// What any rig must do, whatever is behind it. Call `rigContract` from a test file for each kind of rig.
import { describe, expect, test } from 'vitest';
import {
  type Command,
  type Commands,
  MEASURED,
  OFF,
  ON,
  type Output,
  type Reading,
  type Rig,
  SAFE_COMMANDS,
  SWITCHES,
} from '../../controller/signals.ts';

/** One kind of rig, as the contract needs to see it. */
export type RigUnderTest<R extends Rig> = {
  /** A fresh rig with the same content each time. */
  readonly create: () => R;
  readonly nowMs: (rig: R) => number;
  /** Lets the rig's time come to `timeMs`: by moving it, or by waiting. */
  readonly reach: (rig: R, timeMs: number) => void;
  /** What this rig can be seen by. Two rigs that did the same have the same. */
  readonly seen: (rig: R) => string;
  /** An output whose being on changes what is seen for as long as it is on … */
  readonly output: Output;
  /** … while these are on as well. */
  readonly besides: readonly Output[];
};

const SCAN_MS = 100;
const LONG_MS = 1500;
const NO_READING = ['not-fitted', 'not-read-yet', 'stale', 'open-circuit', 'short-circuit', 'out-of-range'];

/** What the output is told, and when, after the start. */
type Script = readonly (readonly [afterMs: number, command: Command])[];

export function rigContract<R extends Rig>(name: string, kind: RigUnderTest<R>): void {
  const word = (command: Command): Commands => ({
    ...SAFE_COMMANDS,
    ...Object.fromEntries(kind.besides.map((output) => [output, ON])),
    [kind.output]: command,
  });
  /** Plays a script on a fresh rig and answers what can be seen at the end. */
  const played = (script: Script): string => {
    const rig = kind.create();
    const startMs = kind.nowMs(rig);
    for (const [afterMs, command] of script) {
      kind.reach(rig, startMs + afterMs);
      rig.apply(word(command));
    }
    kind.reach(rig, startMs + LONG_MS);
    return kind.seen(rig);
  };
  /** The same command, scan after scan. */
  const repeated = (command: Command, fromMs: number, untilMs: number): Script =>
    Array.from({ length: (untilMs - fromMs) / SCAN_MS }, (_, scan) => [fromMs + scan * SCAN_MS, command]);

  describe(`${name} keeps the rig contract`, () => {
    test('it declares what it can do', () => {
      const { truth, timeControl, needsCommissioning } = kind.create().capabilities;
      for (const capability of [truth, timeControl, needsCommissioning])
        expect(capability).toBeTypeOf('boolean');
    });

    test('every sensor has a finite value with its time, or a reason for having none', () => {
      const rig = kind.create();
      rig.apply(SAFE_COMMANDS);
      kind.reach(rig, kind.nowMs(rig) + LONG_MS);
      const readings = rig.readings();
      const all: readonly Reading<number | boolean>[] = [...MEASURED, ...SWITCHES].map(
        (sensor) => readings[sensor],
      );
      for (const reading of all) {
        if (!reading.ok) {
          expect(NO_READING).toContain(reading.reason);
          continue;
        }
        expect(typeof reading.value === 'boolean' || Number.isFinite(reading.value)).toBe(true);
        expect(reading.atMs).toBeLessThanOrEqual(kind.nowMs(rig));
        expect(reading.atMs).toBeGreaterThan(kind.nowMs(rig) - 1000);
      }
      expect(readings.scaleCounts.ok).toBe(true);
      expect(readings.manifoldPressurePa.ok).toBe(true);
    });

    test('two rigs that are told the same are seen the same, byte for byte', () => {
      const script: Script = [...repeated(ON, 0, 500), ...repeated({ on: true, offAfterMs: 170 }, 500, 1000)];
      expect(played(script)).toBe(played(script));
    });

    test('an output that is on can be told from one that is off', () => {
      expect(played([[0, ON]])).not.toBe(played([[0, OFF]]));
    });

    test('an output that is on stays on when nothing more is said, and goes off when it is told', () => {
      expect(played([[0, ON]])).toBe(played(repeated(ON, 0, 1000)));
      expect(
        played([
          [0, ON],
          [700, OFF],
        ]),
      ).not.toBe(played([[0, ON]]));
    });

    test('a countdown acts as an off at its end would, between two scans as well', () => {
      const byCommand = played([
        [0, ON],
        [250, OFF],
      ]);
      expect(played([[0, { on: true, offAfterMs: 250 }]])).toBe(byCommand);
      expect(played([[0, { on: true, offAfterMs: 251 }]])).not.toBe(byCommand);
    });

    test.each([
      ['repeating it', { on: true, offAfterMs: 250 }],
      ['a longer one', { on: true, offAfterMs: 1000 }],
      ['an on without one', ON],
    ])('a countdown is not extended by %s', (_, later) => {
      const countdown: Command = { on: true, offAfterMs: 250 };
      expect(played([[0, countdown], ...repeated(later, 100, 1000)])).toBe(
        played([
          [0, ON],
          [250, OFF],
        ]),
      );
    });

    test('a later command may shorten a countdown', () => {
      const shortened: Script = [
        [0, { on: true, offAfterMs: 1000 }],
        [100, { on: true, offAfterMs: 60 }],
      ];
      expect(played(shortened)).toBe(
        played([
          [0, ON],
          [160, OFF],
        ]),
      );
    });

    test('after a countdown the output comes on again once it has been commanded off, and not before', () => {
      const pulse: Script = [[0, { on: true, offAfterMs: 150 }]];
      expect(played([...pulse, [400, ON]])).toBe(played(pulse));
      expect(played([...pulse, [300, OFF], [400, ON]])).not.toBe(played(pulse));
    });
  });
}
