// Lines that are no commands of this moment: cut short, heard before, or noise. And floods of them.
import { armLine, setLine } from '../../../hardware/protocol.ts';
import { Random } from '../../../sim/random.ts';
import { Host } from '../host.ts';

const HELD = 0x0802;
const KINDS = ['truncated', 'replayed', 'random'] as const;
/** A whole line is there to show that the campaign would notice. */
type Kind = (typeof KINDS)[number] | 'whole';

const below = (random: Random, count: number): number => Math.floor(random.uniform() * count);

/** A line that was whole and that the board has never heard. */
const fresh = (host: Host, random: Random): string =>
  setLine(host.session, host.number + 1 + below(random, 1000), below(random, 0x2000)).trimEnd();

function hostileLine(kind: Kind, host: Host, heard: readonly string[], random: Random): string {
  switch (kind) {
    case 'whole':
      return fresh(host, random);
    case 'truncated': {
      const line = fresh(host, random);
      const cut = 1 + below(random, line.length - 1);
      return random.uniform() < 0.5 ? line.slice(cut) : line.slice(0, -cut);
    }
    case 'replayed':
      return heard[below(random, heard.length)]!;
    case 'random': {
      // Half of them look much like commands; the others are any bytes at all.
      const digits = '0123456789ABCDEF';
      const like = random.uniform() < 0.5;
      const form = like ? 'SET xxxx xxxxxxxx xxxx xxxx*xxxx' : '?'.repeat(1 + below(random, 60));
      return form.replace(/[x?]/g, () =>
        like ? digits[below(random, 16)]! : String.fromCharCode(below(random, 256)),
      );
    }
  }
}

/** Sends so many hostile lines to an armed board. @returns how many times it did what it was not told. */
export function hostile(
  count: number,
  seed: number,
  kinds: readonly Kind[] = KINDS,
): { readonly sent: number; readonly obeyed: number } {
  const random = new Random(seed, 'hostile');
  const host = new Host();
  // An older session, whose lines were good once.
  host.drive(0x1001);
  const heard = [
    armLine(host.session, 1),
    setLine(host.session, 2, 0x1001),
    setLine(host.session, 3, 0x0401),
  ];
  host.hello();
  host.arm();
  host.set(HELD);
  host.wait(3);
  host.edges.length = 0;
  let obeyed = 0;
  let heldMs = host.board.timeMs;
  for (let sent = 0; sent < count; sent++) {
    if (host.board.timeMs - heldMs > 100) {
      host.set(HELD);
      heard.push(setLine(host.session, host.number, HELD), armLine(host.session, host.number));
      heldMs = host.board.timeMs;
    }
    host.send(`${hostileLine(kinds[sent % kinds.length]!, host, heard, random).trimEnd()}\n`);
    if (sent % 3000 === 2999 || sent === count - 1) {
      host.set(HELD);
      if (host.ask().seen.obeyed !== host.number) obeyed++;
    }
  }
  return { sent: count, obeyed: obeyed + host.edges.length };
}

/** What a flood is made of. */
export const FLOODS = {
  garbage: (_host: Host, random: Random) =>
    Array.from({ length: 40 }, () => String.fromCharCode(below(random, 256))).join(''),
  'garbage without an end': () => 'U'.repeat(40),
  'line ends': () => '\n'.repeat(40),
  'broken checks': (host: Host) => `${setLine(host.session, host.number + 1, 0x0001).slice(0, -3)}00\n`,
  replayed: (host: Host) => setLine(host.session, host.number, 0x0403),
  'another session': (host: Host) => setLine(host.session + 1, host.number + 1, 0x0403),
} as const;

export type Flood = {
  /** Milliseconds from the last line that was to be obeyed until everything was off. */
  readonly offMs: number;
  /** SEEN lines that came in the second of the flood, and the longest time between two. */
  readonly seen: number;
  readonly longestGapMs: number;
  readonly unsent: number;
};

/** A second of nothing but this at the line's full rate, begun while outputs are on. */
export function flood(piece: (host: Host, random: Random) => string): Flood {
  const random = new Random(5, 'flood');
  const host = new Host();
  host.drive(0x0403);
  host.set(0x0403);
  const sinceMs = host.board.timeMs;
  host.arrived.length = 0;
  while (host.board.timeMs < sinceMs + 1000) host.send(piece(host, random));
  const times = host.arrived.flatMap(({ line, timeMs }) => (line.kind === 'SEEN' ? [timeMs] : []));
  const offMs = host.edges.some((edge) => edge.word === 0 && edge.timeMs > sinceMs)
    ? host.changedTo(0, sinceMs) - sinceMs
    : Number.POSITIVE_INFINITY;
  host.send('\n');
  return {
    offMs,
    seen: times.length,
    longestGapMs: Math.max(...times.slice(1).map((timeMs, at) => timeMs - times[at]!)),
    unsent: host.ask().lost.unsent,
  };
}
