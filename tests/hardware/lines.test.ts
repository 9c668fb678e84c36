import { expect, test } from 'vitest';
import { LineCutter } from '../../hardware/lines.ts';
import { boardLine, LONGEST_LINE, unframed } from '../../hardware/protocol.ts';
import { Random } from '../../sim/random.ts';
import { bytesOf } from './told-board.ts';

test('a line comes out whole, however its bytes arrive and whatever ends it', () => {
  const text = 'ONE\nTWO\r\nTHREE\rFOUR\n\n\nFIVE';
  for (const size of [1, 2, 3, 7, 100]) {
    const cutter = new LineCutter();
    const lines: string[] = [];
    for (let at = 0; at < text.length; at += size)
      lines.push(...cutter.cut(bytesOf(text.slice(at, at + size))));
    expect(lines).toEqual(['ONE', 'TWO', 'THREE', 'FOUR']);
  }
});

test('a line without an end is dropped whole, counted once, and the next one is read', () => {
  const cutter = new LineCutter();
  const flood = new Uint8Array(1_000_000).fill(0x41);
  for (let part = 0; part < 10; part++) expect(cutter.cut(flood)).toEqual([]);
  expect(cutter.tooLong).toBe(1);
  expect(cutter.cut(bytesOf('\nGOOD\n'))).toEqual(['GOOD']);
});

test('of ten million random bytes nothing is believed, and no line is longer than one may be', () => {
  const random = new Random(11, 'bytes');
  const cutter = new LineCutter();
  const bytes = new Uint8Array(10_000);
  const words = new Uint32Array(bytes.buffer);
  let lines = 0;
  for (let part = 0; part < 1_000; part++) {
    for (let at = 0; at < words.length; at++) words[at] = random.uniform() * 2 ** 32;
    for (const line of cutter.cut(bytes)) {
      lines++;
      const got = unframed(line);
      if (line.length > LONGEST_LINE || (got.ok && boardLine(got.payload) !== undefined)) expect.fail(line);
    }
  }
  expect(lines).toBeGreaterThan(10_000);
});
