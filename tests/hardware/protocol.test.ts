import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { OUTPUTS } from '../../controller/signals.ts';
import { crc16 } from '../../hardware/crc.ts';
import {
  armLine,
  BOARD_LOSSES,
  boardLine,
  checkValue,
  framed,
  helloLine,
  LONGEST_COUNTDOWN_MS,
  OUTPUT_BITS,
  setLine,
  unframed,
} from '../../hardware/protocol.ts';

const VECTORS = readFileSync(new URL('../../hardware/protocol-vectors.txt', import.meta.url), 'utf8')
  .split('\n')
  .filter((row) => row !== '' && !row.startsWith('#'))
  .map((row) => row.split('\t') as [verdict: string, line: string]);

const linesOf = (verdict: string): readonly string[] =>
  VECTORS.filter((row) => row[0] === verdict).map(([, line]) => line);

const bitsOf = (text: string): number[] =>
  [...text].flatMap((char) => Array.from({ length: 8 }, (_, bit) => (char.charCodeAt(0) >> bit) & 1));

const textOf = (bits: readonly number[]): string =>
  Array.from({ length: bits.length / 8 }, (_, at) =>
    String.fromCharCode(
      bits.slice(at * 8, at * 8 + 8).reduce((byte, bit, place) => byte | (bit << place), 0),
    ),
  ).join('');

describe('the check of a line', () => {
  test('it is CRC-16/IBM-3740: the check value of the catalogue of parametrised CRC algorithms', () => {
    expect(crc16('123456789')).toBe(0x29b1);
    expect(crc16('')).toBe(0xffff);
  });

  test('it finds every flip of up to two bits in a command line', () => {
    const line = setLine(0x12ab, 0x1f, 0x0403, [{ bit: 10, ms: 150 }]).trimEnd();
    const bits = bitsOf(line);
    for (let first = 0; first < bits.length; first++)
      for (let second = first; second < bits.length; second++) {
        const flipped = [...bits];
        flipped[first]! ^= 1;
        if (second !== first) flipped[second]! ^= 1;
        if (unframed(textOf(flipped)).ok) expect.fail(`bits ${first} and ${second}`);
      }
  });

  test('its characters: sixteen of them, one bit of a character one bit of the check', () => {
    expect(framed('123456789')).toBe('123456789*29;1\n');
    expect(checkValue('29;1')).toBe(0x29b1);
    expect(checkValue('0?:<')).toBe(0x0fac);
    for (const none of ['29B1', '29;', '29;10', '29@1', '29/1']) expect(checkValue(none)).toBeUndefined();
  });

  test('it finds flips of three bits and bursts of up to sixteen', () => {
    const bits = bitsOf(setLine(1, 2, 0x0403).trimEnd());
    const place = fc.integer({ min: 0, max: bits.length - 1 });
    const three = fc.uniqueArray(place, { minLength: 3, maxLength: 3 });
    const burst = fc
      .tuple(fc.integer({ min: 0, max: bits.length - 16 }), fc.integer({ min: 1, max: 0xffff }))
      .map(([from, pattern]) =>
        Array.from({ length: 16 }, (_, bit) => bit).flatMap((bit) =>
          pattern & (1 << bit) ? [from + bit] : [],
        ),
      );
    fc.assert(
      fc.property(fc.oneof(three, burst), (places) => {
        const flipped = [...bits];
        for (const at of places) flipped[at]! ^= 1;
        return !unframed(textOf(flipped)).ok;
      }),
      { seed: 16, numRuns: 5000 },
    );
  });
});

describe('lines of the host', () => {
  test('they are written as the vectors have them', () => {
    const written = [
      helloLine(),
      armLine(1, 3),
      setLine(1, 4, 0x0003),
      setLine(1, 5, 0x0410, [{ bit: 4, ms: 250 }]),
      setLine(1, 6, 0x1fff, [
        { bit: 0, ms: 1 },
        { bit: 4, ms: 150 },
        { bit: 12, ms: LONGEST_COUNTDOWN_MS },
      ]),
      armLine(1, 0xffffffff),
    ];
    const known = VECTORS.map(([, line]) => line);
    for (const line of written) expect(known).toContain(line.trimEnd());
  });

  test('what the vectors call a wrong check or a wrong form is one', () => {
    for (const line of linesOf('crc')) expect(unframed(line)).toEqual({ ok: false, loss: 'crc' });
    for (const line of [...linesOf('obeyed'), ...linesOf('replay'), ...linesOf('refused')])
      expect(unframed(line).ok).toBe(true);
  });

  test('every output of the rig contract has one bit', () => {
    expect([...OUTPUT_BITS].sort()).toEqual([...OUTPUTS].sort());
  });
});

describe('lines of the board', () => {
  const read = (line: string) => {
    const got = unframed(line);
    return got.ok ? boardLine(got.payload) : got.loss;
  };

  test('every one of the vectors is read', () => {
    const [boot, watchdog, board, seen, extreme, lost] = linesOf('board').map(read);
    expect(boot).toEqual({ kind: 'BOOT', cause: 'power', firmware: '1.0.0' });
    expect(watchdog).toEqual({ kind: 'BOOT', cause: 'watchdog', firmware: '1.12.3' });
    expect(board).toEqual({
      kind: 'BOARD',
      protocol: 1,
      firmware: '1.0.0',
      session: 1,
      outputs: 13,
      expireMs: 240,
    });
    expect(seen).toEqual({
      kind: 'SEEN',
      count: 0x1f4,
      timeMs: 25_000,
      state: 'armed',
      trip: 'none',
      obeyed: 0xfa,
      word: 0x403,
      switches: 8,
      analog: [5120, 4980, 4031, 5200, 5113].map((sum) => ({ sum, band: 'inside' })),
      converter: [21_345, undefined, undefined, undefined],
      bridge: { counts: 1_304_211, ageMs: 42 },
    });
    expect(extreme).toMatchObject({
      timeMs: 2 ** 32 - 1,
      trip: 'emergency-stop',
      analog: [
        { sum: 0, band: 'below' },
        { sum: 10_230, band: 'above' },
        { sum: 4031, band: 'inside' },
        { sum: 12, band: 'below' },
        { sum: 8000, band: 'inside' },
      ],
      converter: [-32_768, 32_767, 0, undefined],
      bridge: undefined,
    });
    expect(lost).toMatchObject({ kind: 'LOST', overrun: 0, long: 1, crc: 3, form: 17, unsent: 65_535 });
    expect(Object.keys(lost as object)).toEqual(['kind', ...BOARD_LOSSES]);
  });

  test('a line that lacks a field, has one more or one of the wrong form is not read', () => {
    const [seen] = linesOf('board').filter((line) => line.startsWith('SEEN'));
    const payload = seen!.slice(0, -5);
    const fields = payload.split(' ');
    for (let at = 0; at < fields.length; at++)
      expect(boardLine(fields.filter((_, place) => place !== at).join(' '))).toBeUndefined();
    for (const spoilt of [
      `${payload} `,
      `${payload} x=1`,
      payload.replace('armed', 'Armed'),
      payload.replace('an=5120', 'an='),
    ])
      expect(boardLine(spoilt)).toBeUndefined();
    expect(boardLine(payload)).toBeDefined();
  });

  test.each([
    ['t=25000', 't=4294967295', 't=4294967296'],
    ['out=0403', 'out=1FFF', 'out=2000'],
    ['an=5120', 'an=10230>', 'an=10231>'],
    ['5113 cv', '0< cv', '99999 cv'],
    ['cv=21345', 'cv=-32768', 'cv=-32769'],
    ['cv=21345', 'cv=32767', 'cv=32768'],
    ['br=1304211,', 'br=8388607,', 'br=8388608,'],
    ['br=1304211,', 'br=-8388608,', 'br=-8388609,'],
    [',42', ',65535', ',65536'],
  ])('a number that no board can say is no line: of %s, %s is read and %s is not', (said, last, beyond) => {
    const payload = linesOf('board')
      .find((line) => line.startsWith('SEEN'))!
      .slice(0, -5);
    expect(payload).toContain(said);
    expect(boardLine(payload.replace(said, last))).toBeDefined();
    expect(boardLine(payload.replace(said, beyond))).toBeUndefined();
  });

  test('a count of losses that does not fit 16 bits is no line', () => {
    const payload = linesOf('board')
      .find((line) => line.startsWith('LOST'))!
      .slice(0, -5);
    expect(boardLine(payload)).toBeDefined();
    expect(boardLine(payload.replace('65535', '65536'))).toBeUndefined();
  });

  test('whatever text comes, reading it throws nothing and finds only what was framed', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 300 }), (text) => {
        const got = unframed(text);
        return !got.ok || framed(got.payload).trimEnd() === text;
      }),
      { seed: 5, numRuns: 300 },
    );
  });
});
