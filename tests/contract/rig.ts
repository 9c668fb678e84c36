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
  type TimeControlledRig,
} from '../../controller/signals.ts';

/** One kind of rig, as the contract needs to see it. */
export type RigUnderTest<R extends Rig, S = string> = {
  /** A fresh rig with the same content each time, obeying, with every output off. */
  readonly create: () => R | Promise<R>;
  readonly nowMs: (rig: R) => number;
  /** Lets the rig's time come to `timeMs`: by moving it, or by waiting. */
  readonly reach: (rig: R, timeMs: number) => void | Promise<void>;
  /** What this rig can be seen by. Two rigs that did the same have the same. */
  readonly seen: (rig: R) => S;
  /** Whether two rigs did the same, as well as this kind can be seen; left out: to the byte. */
  readonly alike?: (one: S, other: S) => boolean;
  /** Times that differ by this can be told apart; left out: a millisecond. */
  readonly stepMs?: number;
  /** Puts a rig away. */
  readonly dispose?: (rig: R) => void;
  /** An output whose being on changes what is seen for as long as it is on … */
  readonly output: Output;
  /** … while these are on as well. */
  readonly besides: readonly Output[];
};

const SCAN_MS = 100;
const LONG_MS = 1500;
/** A converter of 24 bits with sign. */
const COUNTS = [-(2 ** 23), 2 ** 23] as const;
/** Whatever a script says, every rig is brought on by the same steps. */
const GRID_MS = 10;
const NO_READING = ['not-fitted', 'not-read-yet', 'stale', 'open-circuit', 'short-circuit', 'out-of-range'];

/** What the output is told, and when, after the start. */
type Script = readonly (readonly [afterMs: number, command: Command])[];

export function rigContract<R extends Rig, S = string>(name: string, kind: RigUnderTest<R, S>): void {
  const { alike = (one, other) => one === other, stepMs = 1, dispose = () => {} } = kind;
  const word = (command: Command): Commands => ({
    ...SAFE_COMMANDS,
    ...Object.fromEntries(kind.besides.map((output) => [output, ON])),
    [kind.output]: command,
  });
  /**
   * Plays a script on a fresh rig, each command said again at every scan until the next as a controller does, and
   * answers what can be seen at the end. A rig may drop its outputs when nobody says anything any more.
   */
  const played = async (script: Script, wordFor = word): Promise<S> => {
    const rig = await kind.create();
    const startMs = kind.nowMs(rig);
    let said: readonly [afterMs: number, command: Command] | undefined;
    for (let ms = 0; ms < LONG_MS; ms += GRID_MS) {
      await kind.reach(rig, startMs + ms);
      said = script.findLast(([afterMs]) => afterMs <= ms) ?? said;
      if (said !== undefined && (ms - said[0]) % SCAN_MS === 0) rig.apply(wordFor(said[1]));
    }
    await kind.reach(rig, startMs + LONG_MS);
    const seen = kind.seen(rig);
    dispose(rig);
    return seen;
  };
  const expectSame = async (one: Script, other: Script): Promise<void> => {
    const [first, second] = [await played(one), await played(other)];
    expect(alike(first, second), `${JSON.stringify(first)} against ${JSON.stringify(second)}`).toBe(true);
  };
  const expectOther = async (one: Script, other: Script): Promise<void> => {
    const [first, second] = [await played(one), await played(other)];
    expect(alike(first, second), JSON.stringify(first)).toBe(false);
  };
  /** The same command, scan after scan. */
  const repeated = (command: Command, fromMs: number, untilMs: number): Script =>
    Array.from({ length: (untilMs - fromMs) / SCAN_MS }, (_, scan) => [fromMs + scan * SCAN_MS, command]);

  describe(`${name} keeps the rig contract`, () => {
    test('it declares what it can do', async () => {
      const rig = await kind.create();
      const { truth, timeControl, needsCommissioning } = rig.capabilities;
      for (const capability of [truth, timeControl, needsCommissioning])
        expect(capability).toBeTypeOf('boolean');
      const { nowMs, advanceTo } = rig as Partial<TimeControlledRig>;
      expect([typeof nowMs, typeof advanceTo].every((type) => type === 'function')).toBe(timeControl);
      expect(typeof (rig as { readonly truth?: unknown }).truth === 'function').toBe(truth);
      dispose(rig);
    });

    test('before anything is said, nothing is on', async () => {
      const nothing = await played([]);
      const off = await played([[0, OFF]], () => SAFE_COMMANDS);
      expect(alike(nothing, off), `${JSON.stringify(nothing)} against ${JSON.stringify(off)}`).toBe(true);
      expect(alike(nothing, await played([[0, OFF]]))).toBe(false);
    });

    test('every sensor has a finite value with its time, or a reason for having none', async () => {
      const rig = await kind.create();
      rig.apply(SAFE_COMMANDS);
      await kind.reach(rig, kind.nowMs(rig) + LONG_MS);
      const readings = rig.readings();
      expect(Object.keys(readings).sort()).toEqual([...MEASURED, ...SWITCHES].sort());
      const all: readonly (readonly [string, Reading<number | boolean>])[] = [...MEASURED, ...SWITCHES].map(
        (sensor) => [sensor, readings[sensor]],
      );
      for (const [sensor, reading] of all) {
        if (!reading.ok) {
          expect(NO_READING, sensor).toContain(reading.reason);
          continue;
        }
        const isSwitch = (SWITCHES as readonly string[]).includes(sensor);
        expect(isSwitch ? typeof reading.value === 'boolean' : Number.isFinite(reading.value), sensor).toBe(
          true,
        );
        expect(reading.atMs).toBeLessThanOrEqual(kind.nowMs(rig));
        expect(reading.atMs).toBeGreaterThan(kind.nowMs(rig) - 1000);
      }
      expect(readings.scaleCounts.ok).toBe(true);
      expect(readings.manifoldPressurePa.ok).toBe(true);
      dispose(rig);
    });

    test('values are SI: of a machine at rest in a room, absolute pressures and kelvins', async () => {
      const rig = await kind.create();
      rig.apply(SAFE_COMMANDS);
      await kind.reach(rig, kind.nowMs(rig) + SCAN_MS);
      const readings = rig.readings();
      for (const sensor of MEASURED) {
        const reading = readings[sensor];
        if (!reading.ok) continue;
        const [least, most] = sensor.endsWith('K')
          ? [230, 350]
          : sensor.endsWith('Pa')
            ? [-1e5, 3e6]
            : COUNTS;
        expect(reading.value, sensor).toBeGreaterThan(least);
        expect(reading.value, sensor).toBeLessThan(most);
      }
      const { manifoldPressurePa: manifold } = readings;
      expect(manifold.ok && manifold.value > 1_000).toBe(true);
      dispose(rig);
    });

    test('readings that were given stay as they were; newer ones are newer, and none goes back in time', async () => {
      const rig = await kind.create();
      const startMs = kind.nowMs(rig);
      await kind.reach(rig, startMs + SCAN_MS);
      const given = rig.readings();
      const then = structuredClone(given);
      rig.apply(SAFE_COMMANDS);
      await kind.reach(rig, startMs + LONG_MS);
      const later = rig.readings();
      expect(given).toEqual(then);
      for (const sensor of [...MEASURED, ...SWITCHES]) {
        const [one, other] = [then[sensor], later[sensor]];
        expect(other.ok, sensor).toBe(one.ok);
        if (one.ok && other.ok) expect(other.atMs, sensor).toBeGreaterThan(one.atMs);
      }
      dispose(rig);
    });

    test('two rigs that are told the same are seen the same', async () => {
      const script: Script = [...repeated(ON, 0, 500), ...repeated({ on: true, offAfterMs: 170 }, 500, 1000)];
      await expectSame(script, script);
    });

    test('an output that is on can be told from one that is off', async () => {
      await expectOther([[0, ON]], [[0, OFF]]);
    });

    test('an output stays on while that is said, and goes off when it is told', async () => {
      await expectSame([[0, ON]], repeated(ON, 0, 1000));
      await expectOther(
        [
          [0, ON],
          [700, OFF],
        ],
        [[0, ON]],
      );
    });

    test('a countdown acts as an off at its end would, between two scans as well', async () => {
      const byCommand: Script = [
        [0, ON],
        [250, OFF],
      ];
      await expectSame([[0, { on: true, offAfterMs: 250 }]], byCommand);
      await expectOther([[0, { on: true, offAfterMs: 250 + stepMs }]], byCommand);
    });

    test.each([
      ['repeating it', { on: true, offAfterMs: 250 }],
      ['a longer one', { on: true, offAfterMs: 1000 }],
      ['an on without one', ON],
    ])('a countdown is not extended by %s', async (_, later) => {
      await expectSame(
        [[0, { on: true, offAfterMs: 250 }], ...repeated(later, 100, 1000)],
        [
          [0, ON],
          [250, OFF],
        ],
      );
    });

    test('a countdown begins at the first command that carries one, though the output is on by then', async () => {
      await expectSame(
        [
          [0, ON],
          [300, { on: true, offAfterMs: 250 }],
        ],
        [
          [0, ON],
          [550, OFF],
        ],
      );
    });

    test('an off ends a countdown: what comes on after it has none', async () => {
      const again: Script = [
        [300, OFF],
        [600, ON],
      ];
      await expectSame([[0, { on: true, offAfterMs: 800 }], ...again], [[0, ON], ...again]);
    });

    test('a later command may shorten a countdown', async () => {
      await expectSame(
        [
          [0, { on: true, offAfterMs: 1000 }],
          [100, { on: true, offAfterMs: 60 }],
        ],
        [
          [0, ON],
          [160, OFF],
        ],
      );
    });

    test('after a countdown the output comes on again once it has been commanded off, and not before', async () => {
      const pulse: Script = [[0, { on: true, offAfterMs: 150 }]];
      await expectSame([...pulse, [400, ON]], pulse);
      await expectOther([...pulse, [300, OFF], [400, ON]], pulse);
    });
  });
}
