// Command lines with flipped bits, sent to a board that would obey them if they were whole.
import { BOARD_LOSSES, setLine } from '../../../hardware/protocol.ts';
import { Random } from '../../../sim/random.ts';
import { Host } from '../host.ts';

const HELD = 0x0802;

export type Verdicts = {
  readonly sent: number;
  /** Lines whose number the board calls obeyed although it was corrupted, and changes of the outputs. */
  readonly obeyed: number;
  readonly changes: number;
  /** Lines that the board counts as lost, whatever the reason. */
  readonly lost: number;
};

export const flipped = (text: string, bits: Iterable<number>): string => {
  const bytes = [...text].map((char) => char.charCodeAt(0));
  for (const bit of bits) bytes[bit >> 3]! ^= 1 << (bit & 7);
  return String.fromCharCode(...bytes);
};

const below = (random: Random, count: number): number => Math.floor(random.uniform() * count);

/** Up to three bits anywhere. */
export function threeBits(line: string, random: Random): string {
  const bits = new Set<number>();
  const count = 1 + below(random, 3);
  while (bits.size < count) bits.add(below(random, line.length * 8));
  return flipped(line, bits);
}

/** A burst of up to sixteen bits: whatever lies between its first and its last. */
export function burst(line: string, random: Random): string {
  const from = below(random, line.length * 8 - 16);
  const length = 2 + below(random, 15);
  const bits = [from, from + length - 1];
  for (let bit = from + 1; bit < from + length - 1; bit++) if (random.uniform() < 0.5) bits.push(bit);
  return flipped(line, bits);
}

/** Sends `count` corrupted lines between whole ones that hold the outputs. */
export function corrupted(count: number, spoil: (line: string, random: Random) => string): Verdicts {
  const random = new Random(4, 'corrupted');
  const host = new Host();
  host.drive(HELD);
  host.edges.length = 0;
  let obeyed = 0;
  for (let sent = 0; sent < count; sent++) {
    // A whole line often enough, with a number that the corrupted ones exceed.
    if (sent % 50 === 0) {
      host.set(HELD);
      host.wait(1);
    }
    const word = 1 + below(random, 0x1fff);
    const bit = 31 - Math.clz32(word);
    const countdowns = random.uniform() < 0.5 ? [{ bit, ms: 1 + below(random, 100_000) }] : [];
    const whole = setLine(host.session, host.number + 1 + below(random, 1000), word, countdowns).trimEnd();
    // A flip may make an end of line; another line end keeps the rest from spoiling what follows.
    host.send(`${spoil(whole, random)}\n`);
    if (sent % 50 === 49) {
      host.wait(1);
      if (host.board.outputs() !== HELD) obeyed++;
    }
  }
  const { seen, lost } = host.ask();
  if (seen.obeyed !== host.number) obeyed++;
  return {
    sent: count,
    obeyed,
    changes: host.edges.length,
    lost: BOARD_LOSSES.reduce((sum, loss) => sum + lost[loss], 0),
  };
}
