import { describe, expect, test } from 'vitest';
import { crc16 } from '../../hardware/crc.ts';
import { setLine, unframed } from '../../hardware/protocol.ts';
import { Host } from './host.ts';
import { burst, corrupted, flipped, threeBits } from './proof/corrupted.ts';
import { bursts, drawnLines, summed, threeFlips } from './proof/every-flip.ts';
import { FLOODS, flood, hostile } from './proof/hostile.ts';

describe('corrupted command lines', () => {
  test.each([
    ['up to three flipped bits', threeBits],
    ['a burst of up to sixteen bits', burst],
  ])('%s: none of 2000 is obeyed, every one is counted', (_, spoil) => {
    const { obeyed, changes, lost } = corrupted(2000, spoil);
    expect({ obeyed, changes }).toEqual({ obeyed: 0, changes: 0 });
    // A flip may split a line in two, or glue the check of nothing to it.
    expect(lost).toBeGreaterThanOrEqual(1990);
  });

  test('of all ways to flip up to three bits of a line, and of all bursts of up to sixteen, none passes the check', () => {
    const lines = drawnLines(20);
    expect(summed(lines, threeFlips)).toMatchObject({ passed: 0 });
    expect(bursts(lines[0]!)).toMatchObject({ passed: 0 });
  });

  test('the check can fail: four flips, 22 bits apart, pass it, and so would three with hexadecimal digits', () => {
    const line = setLine(1, 2, 0x0403).trimEnd();
    // The polynomial itself, 1 0001 0000 0010 0001, in the three characters of "SET".
    const generator = [0, 8 + 4, 16, 16 + 5];
    expect(unframed(flipped(line, generator)).ok).toBe(true);
    expect(unframed(flipped(line, generator.slice(1))).ok).toBe(false);
    // A countdown moved to another output, its time changed, and one bit of a check in hexadecimal digits: 0x600 of it.
    const timed = [0, 1, 2, 3, 4, 9].map((bit) => ({ bit, ms: 0x1000 }));
    const payload = setLine(1, 2, 0x031f, timed).trimEnd().slice(0, -5);
    const moved = flipped(payload, [(payload.length - 8) * 8, (payload.length - 46) * 8 + 1]);
    expect(moved.slice(-9)).toBe(' 8:001000');
    expect(crc16(moved) ^ crc16(payload)).toBe(0x600);
  });

  test('the check can fail: the same lines unspoilt are obeyed', () => {
    const { obeyed, changes } = corrupted(200, (line) => line);
    expect(obeyed).toBeGreaterThan(0);
    expect(changes).toBeGreaterThan(0);
  });
});

describe('hostile lines', () => {
  test('of 9000 truncated, replayed and random lines none is obeyed', () => {
    expect(hostile(9000, 1)).toEqual({ sent: 9000, obeyed: 0 });
  });

  test('the check can fail: whole lines among them are noticed', () => {
    expect(hostile(300, 1, ['truncated', 'replayed', 'whole']).obeyed).toBeGreaterThan(0);
  });
});

describe('floods', () => {
  test.each(Object.entries(FLOODS))('%s: outputs still expire, and telemetry keeps its pace', (_, piece) => {
    const { offMs, seen, longestGapMs, unsent } = flood(piece);
    expect(offMs).toBeLessThanOrEqual(250);
    expect(seen).toBeGreaterThanOrEqual(19);
    expect(longestGapMs).toBeLessThanOrEqual(60);
    expect(unsent).toBe(0);
  });

  test('the check can fail: a flood of whole lines keeps the outputs on', () => {
    expect(flood((host) => setLine(host.session, ++host.number, 0x0403)).offMs).toBe(
      Number.POSITIVE_INFINITY,
    );
  });

  test('a flood of lines to be obeyed cannot outrun a countdown', () => {
    const host = new Host();
    host.drive(0);
    const sinceMs = host.board.timeMs;
    while (host.board.timeMs < sinceMs + 1000) host.set(0x0403, [{ bit: 0, ms: 100 }]);
    const onMs = host.changedTo(0x0403, sinceMs);
    expect(host.changedTo(0x0402, onMs) - onMs).toBeCloseTo(100, 1);
    // The twin: what has no countdown is held by the same lines.
    expect(host.board.outputs()).toBe(0x0402);
    const seen = host.of('SEEN').slice(-20);
    expect(seen.at(-1)!.count - seen[0]!.count).toBe(19);
  });

  test('a flood of questions is answered in turn and holds up nothing', () => {
    const host = new Host();
    host.drive(0x0403);
    const sinceMs = host.board.timeMs;
    host.arrived.length = 0;
    while (host.board.timeMs < sinceMs + 1000) host.send('?\n'.repeat(20));
    expect(host.changedTo(0, sinceMs) - sinceMs).toBeLessThanOrEqual(250);
    const times = host.arrived.flatMap(({ line, timeMs }) => (line.kind === 'SEEN' ? [timeMs] : []));
    expect(Math.max(...times.slice(1).map((timeMs, at) => timeMs - times[at]!))).toBeLessThanOrEqual(60);
  });

  test('a flood of greetings leaves everything off', () => {
    const host = new Host();
    host.drive(0x0403);
    const sinceMs = host.board.timeMs;
    for (let times = 0; times < 20; times++) host.send('HELLO 01*999<\n');
    expect(host.changedTo(0, sinceMs) - sinceMs).toBeLessThanOrEqual(5);
    host.wait(200);
    expect(host.board.outputs()).toBe(0);
    expect(host.board.watchdogResets).toBe(0);
  });
});
