// Command lines with flipped bits, sent to a board that would obey them if they were whole.
import { crc16 } from '../../../hardware/crc.ts';
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

const flipped = (text: string, bits: Iterable<number>): string => {
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

const checkOf = (text: string): number | undefined =>
  /^[0-9A-F]{4}$/.test(text) ? Number.parseInt(text, 16) : undefined;

/** Digits of a check after so many flips, by how they change its value. */
function changedChecks(check: string, flips: 1 | 2): ReadonlyMap<number, string> {
  const value = Number.parseInt(check, 16);
  const changed = new Map<number, string>();
  const bits = check.length * 8;
  for (let first = 0; first < bits; first++)
    for (let second = flips === 1 ? first : first + 1; second < (flips === 1 ? first + 1 : bits); second++) {
      const digits = flipped(check, new Set([first, second]));
      const other = checkOf(digits);
      if (other !== undefined) changed.set(other ^ value, digits);
    }
  return changed;
}

/**
 * Every way to flip up to three bits of a line so that its check is right again. A CRC finds all such errors where it is
 * sent as bits; as hexadecimal digits one flipped bit may change several of its own. Three flips of the payload alone
 * and three of the check alone need not be tried: the first the CRC finds, the second leave another number.
 */
function passingTheCheck(line: string): string[] {
  const payload = line.slice(0, -5);
  const check = line.slice(-4);
  const crc = crc16(payload);
  const once = changedChecks(check, 1);
  const twice = changedChecks(check, 2);
  const changes = Array.from(
    { length: payload.length * 8 },
    (_, bit) => crc16(flipped(payload, [bit])) ^ crc,
  );
  const found: string[] = [];
  const take = (bits: number[], digits: string | undefined): void => {
    if (digits !== undefined) found.push(`${flipped(payload, bits)}*${digits}`);
  };
  for (const [first, change] of changes.entries()) {
    take([first], once.get(change));
    take([first], twice.get(change));
    for (let second = first + 1; second < changes.length; second++)
      take([first, second], once.get(change ^ changes[second]!));
  }
  return found;
}

/** Sends everything that passes the check though up to three of its bits are flipped, of so many lines. */
export function slipped(lines: number): Verdicts {
  const random = new Random(6, 'slipped');
  const host = new Host();
  host.drive(HELD);
  host.edges.length = 0;
  let sent = 0;
  for (let at = 0; at < lines; at++) {
    const word = 1 + below(random, 0x1fff);
    const bit = 31 - Math.clz32(word);
    const countdowns = random.uniform() < 0.5 ? [{ bit, ms: 1 + below(random, 100_000) }] : [];
    const whole = setLine(host.session, host.number + 1 + below(random, 1e6), word, countdowns).trimEnd();
    for (const line of passingTheCheck(whole)) {
      // An end of line in the middle would be two lines, and count twice.
      if (/[\r\n]/.test(line)) continue;
      host.send(`${line}\n`);
      sent++;
    }
    host.set(HELD);
  }
  const { seen, lost } = host.ask();
  return {
    sent,
    obeyed: seen.obeyed === host.number ? 0 : 1,
    changes: host.edges.length,
    lost: lost.form,
  };
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
