// Not some but all ways to flip up to three bits of a line, or a burst of up to sixteen: which of them leave a right check?
import { crc16 } from '../../../hardware/crc.ts';
import { setLine } from '../../../hardware/protocol.ts';
import { Random } from '../../../sim/random.ts';
import { flipped } from './corrupted.ts';

const CHECK_CHARS = 4;
/** Bits of a character of the check that leave it one. */
const CHECK_BITS = 4;
const BURST_BITS = 16;

/**
 * For each bit of a line, in the order in which they are sent, how flipping it changes what the CRC of the payload and the
 * check differ by; undefined where the line is none any more, whatever else is flipped: bits of the star and the upper bits
 * of the check. As both are linear, the changes of several bits are the exclusive or of their own.
 */
function changesOf(line: string): readonly (number | undefined)[] {
  const payload = line.slice(0, -CHECK_CHARS - 1);
  const crc = crc16(payload);
  return Array.from({ length: line.length * 8 }, (_, bit) => {
    const [at, inChar] = [bit >> 3, bit & 7];
    if (at < payload.length) return crc16(flipped(payload, [bit])) ^ crc;
    const place = at - payload.length - 1;
    if (place < 0 || inChar >= CHECK_BITS) return undefined;
    return 1 << ((CHECK_CHARS - 1 - place) * CHECK_BITS + inChar);
  });
}

export type Passed = { readonly ways: number; readonly passed: number };

/** All ways to flip one, two or three bits. */
export function threeFlips(line: string): Passed {
  const bits = line.length * 8;
  const ways = bits + (bits * (bits - 1)) / 2 + (bits * (bits - 1) * (bits - 2)) / 6;
  const changes = changesOf(line).filter((change) => change !== undefined);
  // How many single bits make each change: a third bit passes where it undoes what two others did.
  const single = new Uint16Array(2 ** 16);
  for (const change of changes) single[change]!++;
  let passed = single[0]!;
  for (const [first, change] of changes.entries())
    for (let second = first + 1; second < changes.length; second++) {
      const both = change ^ changes[second]!;
      if (both === 0 || single[both]! > 0) passed++;
    }
  return { ways, passed };
}

/** All bursts of up to sixteen bits: the first bit of it is flipped, the fifteen after it in every way. */
export function bursts(line: string): Passed {
  const changes = changesOf(line);
  const made = new Uint32Array(2 ** (BURST_BITS - 1));
  let ways = 0;
  let passed = 0;
  for (const [from, first] of changes.entries()) {
    const after = changes.slice(from + 1, from + BURST_BITS);
    ways += 2 ** after.length;
    if (first === undefined) continue;
    made[0] = first;
    let count = 1;
    for (const change of after) {
      if (change === undefined) continue;
      for (let each = 0; each < count; each++) made[count + each] = made[each]! ^ change;
      count *= 2;
    }
    for (let each = 0; each < count; each++) if (made[each] === 0) passed++;
  }
  return { ways, passed };
}

/** SET lines with any number of countdowns. */
export function drawnLines(count: number): readonly string[] {
  const random = new Random(6, 'every flip');
  const below = (limit: number): number => Math.floor(random.uniform() * limit);
  return Array.from({ length: count }, () => {
    const word = below(0x2000);
    const timed = below(14);
    const countdowns = Array.from({ length: 13 }, (_, bit) => ({ bit, ms: 1 + below(0xff_ffff) }))
      .filter(({ bit }) => (word >> bit) & 1)
      .slice(0, timed);
    return setLine(below(0x10000), below(2 ** 32), word, countdowns).trimEnd();
  });
}

export const summed = (lines: readonly string[], each: (line: string) => Passed): Passed =>
  lines
    .map(each)
    .reduce((sum, { ways, passed }) => ({ ways: sum.ways + ways, passed: sum.passed + passed }), {
      ways: 0,
      passed: 0,
    });
