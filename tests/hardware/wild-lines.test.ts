// Lines of the board with a right check and wrong content: what hardware/link.ts and the rig above it make of them.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { MEASURED, ON, SAFE_COMMANDS, SWITCHES } from '../../controller/signals.ts';
import { Connection } from '../../hardware/connection.ts';
import { BOARD_STATES, BOARD_TRIPS, framed, unframed } from '../../hardware/protocol.ts';
import { BoardRig, SERIAL_CAPABILITIES } from '../../hardware/rig.ts';
import { SENSORS } from './fitted-sensors.ts';
import { boardText, bootText, seenText, ToldLines } from './told-board.ts';

const BEAT_MS = 10;
const RUNS = 1_500;
const LOST =
  'LOST overrun=0 framing=0 overflow=0 long=0 crc=3 form=0 session=0 replay=0 refused=1 unsent=65535';

/** Numbers as they never come: huge, negative, with a point, no numbers at all. */
const NUMBER = fc.oneof(
  fc.integer({ min: -10, max: 70_000 }).map(String),
  fc.bigInt({ min: -(10n ** 25n), max: 10n ** 25n }).map(String),
  fc.double().map(String),
  fc.constantFrom(
    'NaN',
    'Infinity',
    '-0',
    '1e9',
    '00000000000001',
    '0x10',
    '',
    ' ',
    '-',
    '4294967296',
    'x',
    '<',
  ),
);
const WORD16 = fc.integer({ min: 0, max: 0xffff });

/** SEEN lines of the right form, counts and numbers of lines jumping to and fro; with numbers beyond what a board has, or not. */
const seenLines = (beyond: boolean) => {
  const upTo = (most: number, wildest: number) => fc.integer({ min: 0, max: beyond ? wildest : most });
  const signed = (most: number, wildest: number) =>
    beyond ? fc.integer({ min: -wildest, max: wildest }) : fc.integer({ min: -most - 1, max: most });
  const sum = fc.tuple(upTo(10_230, 99_999), fc.constantFrom('', '<', '>')).map((parts) => parts.join(''));
  const converted = fc.oneof(signed(32_767, 99_999).map(String), fc.constant('x'));
  const bridge = fc.tuple(signed(2 ** 23 - 1, 9_999_999), upTo(65_535, 99_999)).map((both) => both.join(','));
  return fc
    .record({
      count: WORD16,
      t: upTo(2 ** 32 - 1, 9_999_999_999),
      state: fc.constantFrom(...BOARD_STATES),
      trip: fc.constantFrom(...BOARD_TRIPS),
      obeyed: fc.integer({ min: 0, max: 2 ** 32 - 1 }),
      out: upTo(0x1fff, 0xffff),
      sw: fc.integer({ min: 0, max: 15 }),
      an: fc.array(sum, { minLength: 5, maxLength: 5 }).map((sums) => sums.join(',')),
      cv: fc.array(converted, { minLength: 4, maxLength: 4 }).map((counts) => counts.join(',')),
      br: fc.oneof(fc.constant('x'), bridge),
    })
    .map(seenText);
};

const payloadOf = (line: string): string => {
  const got = unframed(line.trimEnd());
  if (!got.ok) throw new Error(line);
  return got.payload;
};
const WHOLE = [seenText({ obeyed: 3 }), boardText(9), bootText('watchdog'), framed(LOST)].map(payloadOf);

/** A line as the board says it, one field lost, doubled, exchanged or given another number; its check is right again. */
const MAIMED = fc
  .tuple(
    fc.constantFrom(...WHOLE),
    fc.nat(30),
    fc.nat(30),
    fc.constantFrom('lost', 'twice', 'exchanged', 'number'),
    NUMBER,
  )
  .map(([payload, at, other, how, number]) => {
    const fields = payload.split(/(?<=[ ,=])/);
    const [one, two] = [at % fields.length, other % fields.length];
    if (how === 'lost') fields.splice(one, 1);
    else if (how === 'twice') fields.splice(one, 0, fields[one]!);
    else if (how === 'exchanged') [fields[one], fields[two]] = [fields[two]!, fields[one]!];
    else fields[one] = fields[one]!.replace(/[^ ,=]+/, number);
    return framed(fields.join('').replace(/[^\x20-\x29\x2b-\x7e]/g, '?'));
  });

/** A whole line with some bytes changed, and its old check. */
const TORN = fc
  .tuple(
    fc.constantFrom(...WHOLE),
    fc.array(fc.tuple(fc.nat(200), fc.nat(255)), { minLength: 1, maxLength: 4 }),
  )
  .map(([payload, changes]) => {
    const bytes = [...framed(payload)];
    for (const [at, byte] of changes) bytes[at % bytes.length] = String.fromCharCode(byte);
    return bytes.join('');
  });

class Hearing {
  nowMs = 0;
  readonly lines = new ToldLines();
  readonly connection: Connection;
  readonly rig: BoardRig;

  constructor() {
    const nowMs = () => this.nowMs;
    this.connection = new Connection({ open: this.lines.open, nowMs });
    this.rig = new BoardRig({
      connection: this.connection,
      sensors: SENSORS,
      capabilities: SERIAL_CAPABILITIES,
      nowMs,
    });
    this.hear(bootText());
    this.hear(boardText());
    this.rig.takeControl();
    this.hear(seenText({ state: 'armed', obeyed: 1 }));
  }

  hear(text: string): void {
    this.nowMs += BEAT_MS;
    this.lines.speak(text);
    this.rig.tick();
    this.rig.readings();
  }
}

/** What no line may do to a reading. */
function expectSound({ rig, nowMs }: Hearing): void {
  const readings = rig.readings();
  for (const sensor of MEASURED) {
    const reading = readings[sensor];
    if (!reading.ok) continue;
    expect(Number.isFinite(reading.value) && Number.isFinite(reading.atMs), sensor).toBe(true);
    if (sensor.endsWith('Pa')) expect(Math.abs(reading.value), sensor).toBeLessThan(1e7);
    if (sensor === 'scaleCounts') expect(Math.abs(reading.value)).toBeLessThanOrEqual(2 ** 23);
    expect(reading.atMs, sensor).toBeLessThanOrEqual(nowMs);
  }
  for (const sensor of SWITCHES)
    if (readings[sensor].ok) expect(readings[sensor].value).toBeTypeOf('boolean');
}

test('whatever lines come, whole or maimed, no reading is out of its mind and nothing is said but by its rules', () => {
  const kinds = { seen: 0, lost: 0 };
  fc.assert(
    fc.property(
      fc.array(fc.oneof(seenLines(false), seenLines(true), MAIMED, TORN), { minLength: 1, maxLength: 12 }),
      (texts) => {
        const hearing = new Hearing();
        for (const text of texts) {
          const { link } = hearing.connection;
          const before = link.seen;
          hearing.hear(text);
          if (link.seen !== before) kinds.seen++;
          if (link.state === 'lost') kinds.lost++;
          expectSound(hearing);
          const said = hearing.lines.said.length;
          hearing.rig.apply({ ...SAFE_COMMANDS, vacuumPump: ON });
          if (hearing.rig.undriven !== undefined) expect(hearing.lines.said).toHaveLength(said);
          for (const line of hearing.lines.said)
            expect(line).toMatch(/^(HELLO|ARM|SET) [0-9A-F: ]+\*[0-?]{4}$/);
        }
      },
    ),
    { seed: 21, numRuns: RUNS },
  );
  // The twin: there were lines that were believed, and lines that ended the link.
  expect(kinds.seen).toBeGreaterThan(RUNS / 4);
  expect(kinds.lost).toBeGreaterThan(RUNS / 20);
});

test('numbers of lines that jump are lines missed, and never more than sixteen bits of them at once', () => {
  fc.assert(
    fc.property(fc.array(WORD16, { minLength: 2, maxLength: 20 }), (counts) => {
      const hearing = new Hearing();
      hearing.hear(seenText({ count: counts[0]! }));
      const before = hearing.connection.losses.missed;
      for (const count of counts.slice(1)) hearing.hear(seenText({ count }));
      const { missed } = hearing.connection.losses;
      return missed >= before && missed - before < 2 ** 16 * counts.length;
    }),
    { seed: 22, numRuns: 200 },
  );
});
