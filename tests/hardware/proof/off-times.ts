// How long outputs stay on after the line falls silent, a switch opens or the program hangs, at random moments.
import { setLine } from '../../../hardware/protocol.ts';
import { Random } from '../../../sim/random.ts';
import { Host } from '../host.ts';

/** Fan stop among them: the relay outside the register chain must drop too. */
const ON = 0x1e03;
const AT_REST = { emergencyStop: true, highPressureSwitch: true, gasAlarm: true, fanFlow: true };

type Patch = NonNullable<ConstructorParameters<typeof Host>[0]>;

/** Time from `sinceMs` until everything was off; infinite if that did not come within `withinMs`. */
function offAfter(host: Host, sinceMs: number, withinMs: number): number {
  host.board.advanceTo(sinceMs + withinMs);
  const off = host.edges.find((edge) => edge.timeMs > sinceMs && edge.word === 0);
  return off === undefined || host.board.outputs() !== 0 ? Number.POSITIVE_INFINITY : off.timeMs - sinceMs;
}

/** Outputs on, held for a random while, so that the moment falls anywhere between lines, ticks and telemetry. */
function driveForAWhile(host: Host, random: Random): void {
  host.edges.length = 0;
  host.arrived.length = 0;
  host.arm();
  host.set(ON);
  host.wait(3 + 60 * random.uniform());
  host.set(ON);
  if (random.uniform() < 0.5) host.wait(40 * random.uniform());
  if (host.board.outputs() !== ON) throw new Error('the outputs are not on');
}

/**
 * The line falls silent at random moments: between lines, or in the middle of one.
 * @returns milliseconds from the last byte of the last whole line until everything was off, for each moment.
 */
export function linkLost(moments: number, options: Patch = {}): number[] {
  const random = new Random(1, 'link lost');
  const host = new Host(options);
  host.hello();
  return Array.from({ length: moments }, () => {
    driveForAWhile(host, random);
    host.set(ON);
    const lastMs = host.board.timeMs;
    if (random.uniform() < 0.5) {
      host.wait(30 * random.uniform());
      const next = setLine(host.session, ++host.number, ON);
      host.send(next.slice(0, Math.floor(random.uniform() * next.length)));
    }
    const time = offAfter(host, lastMs, 262);
    // What half a line left behind ends here.
    host.send('\n');
    return time;
  });
}

/** A contact opens at random moments. @returns milliseconds until everything was off. */
export function switchOpened(
  contact: keyof typeof AT_REST,
  moments: number,
): { readonly times: number[]; readonly trips: readonly string[] } {
  const random = new Random(2, contact);
  const host = new Host();
  host.hello();
  const trips = new Set<string>();
  const times = Array.from({ length: moments }, () => {
    driveForAWhile(host, random);
    host.wait(random.uniform());
    const openedMs = host.board.timeMs;
    host.board.setInputs({ closed: { ...AT_REST, [contact]: false } });
    const time = offAfter(host, openedMs, 20);
    host.wait(60);
    trips.add(host.last('SEEN').trip);
    host.board.setInputs({ closed: AT_REST });
    return time;
  });
  return { times, trips: [...trips] };
}

/** The program hangs at random moments. @returns milliseconds until everything was off. */
export function hung(what: 'main loop' | 'timer' | 'everything' | 'nothing', moments: number): number[] {
  const random = new Random(3, 'hung');
  const host = new Host();
  return Array.from({ length: moments }, () => {
    host.hello();
    driveForAWhile(host, random);
    host.set(ON);
    host.wait(random.uniform());
    const hungMs = host.board.timeMs;
    if (what !== 'nothing') host.board.hang(what);
    const time = offAfter(host, hungMs, 200);
    host.wait(100);
    return time;
  });
}
