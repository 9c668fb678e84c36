// The negative twins: whoever does harm is caught, on the real plant where a hand without interlocks can do it.
import { describe, expect, test } from 'vitest';
import { type Harm, limitsOf, Watch } from '../../app/bench/harm.ts';
import { commandsOf, OFF, ON, type Output } from '../../controller/signals.ts';
import type { FaultName } from '../../sim/faults.ts';
import type { Segment } from '../../sim/plant/inspection.ts';
import type { Disturbance } from './disturbance.ts';
import { unexcused } from './exceptions.ts';
import type { Moment } from './job.ts';
import { type JobName, startsOf } from './starts.ts';

type Violation = {
  readonly harm: Harm;
  readonly job: JobName;
  readonly at: (moment: Moment) => boolean;
  /** Commanded one after the other, each held for so long, without any interlock. */
  readonly words: readonly { readonly on: readonly Output[]; readonly forS: number }[];
  readonly fault?: FaultName;
  /** Left out: the machine's own. */
  readonly tankLimitKg?: number;
};

const inStage =
  (stage: string) =>
  ({ state }: Moment): boolean =>
    state.stage?.stage === stage;
const ended = ({ state }: Moment): boolean => state.stage === undefined;

const VIOLATIONS: readonly Violation[] = [
  {
    harm: 'pump-on-pressure',
    job: 'drawn back',
    at: inStage('recover'),
    words: [{ on: ['vacuumPump', 'highSideValve', 'vacuumValve'], forS: 5 }],
  },
  {
    harm: 'exhausted-out-of-turn',
    job: 'drawn back',
    at: inStage('recover'),
    words: [{ on: ['vacuumPump', 'highSideValve', 'vacuumValve'], forS: 5 }],
  },
  {
    harm: 'vented-through-pump',
    job: 'drawn back',
    at: inStage('evacuate'),
    words: [{ on: ['vacuumPump', 'vacuumValve', 'chargeValve'], forS: 10 }],
  },
  {
    harm: 'vented-in-purge',
    job: 'drawn back',
    at: inStage('rest'),
    words: [{ on: ['airPurgeValve'], forS: 5 }],
  },
  {
    harm: 'vented-through-drain',
    job: 'drawn back',
    at: inStage('recover'),
    fault: 'drain-float-stuck',
    words: [{ on: ['highSideValve', 'recoveryValve', 'separatorDrainValve'], forS: 60 }],
  },
  {
    harm: 'overcharged',
    job: 'drawn back',
    at: inStage('charge'),
    words: [{ on: ['highSideValve', 'chargeValve'], forS: 60 }],
  },
  {
    harm: 'tank-over-limit',
    job: 'filled from a cylinder',
    at: ({ state }) => state.stage?.stage === 'fill' && state.estimates.path === 'into-tank',
    tankLimitKg: 16.7,
    words: [{ on: ['highSideValve', 'recoveryValve', 'compressor'], forS: 400 }],
  },
  {
    harm: 'air-compressed',
    job: 'drawn back',
    at: inStage('recover'),
    fault: 'high-hose-off',
    words: [{ on: ['highSideValve', 'recoveryValve', 'compressor'], forS: 170 }],
  },
  { harm: 'on-in-the-end', job: 'drawn back', at: ended, words: [{ on: ['tankHeater'], forS: 1 }] },
  { harm: 'fan-still-in-the-end', job: 'drawn back', at: ended, words: [{ on: ['fanStop'], forS: 1 }] },
];

function watched({ job, at, words, fault, tankLimitKg }: Violation): readonly Harm[] {
  const { session, moments } = startsOf('good', job);
  const { bench, equipment, scenario } = session;
  const moment = moments.find(at)!;
  bench.restore(moment.bench);
  const limits = limitsOf('good', tankLimitKg ?? equipment.tank.fillLimitKg, scenario.ticket.nominalChargeKg);
  const watch = new Watch(limits, bench.inspect());
  if (fault !== undefined) bench.switchFault({ fault }, true);
  for (const { on, forS } of words) {
    bench.apply(commandsOf((output) => (on.includes(output) ? ON : OFF)));
    const untilMs = bench.nowMs() + 1000 * forS;
    while (bench.nowMs() < untilMs) {
      bench.advanceTo(bench.nowMs() + 100);
      watch.look(bench.inspect(), moment.state);
    }
  }
  watch.lookAtEnd(bench.inspect(), true);
  return watch.found.map(({ harm }) => harm);
}

describe('A hand without interlocks is caught', () => {
  test.each(VIOLATIONS)('$harm', (violation) => {
    expect(watched(violation)).toContain(violation.harm);
  });

  test('a machine left alone is NOT', () => {
    const idle = {
      harm: 'on-in-the-end',
      job: 'drawn back',
      at: ended,
      words: [{ on: [], forS: 60 }],
    } as const;
    expect(watched(idle)).toEqual([]);
  });
});

describe('Liquid', () => {
  const { session, moments } = startsOf('good', 'drawn back');
  session.bench.restore(moments[0]!.bench);
  const first = session.bench.inspect();
  const harmsWith = (segment: Partial<Segment>): readonly Harm[] => {
    const watch = new Watch(limitsOf('good', 17, 0.45), first);
    watch.look({ ...first, segments: [{ ...first.segments[0]!, ...segment }] }, undefined);
    return watch.found.map(({ harm }) => harm);
  };

  test.each([
    { what: 'behind shut valves and without a relief', segment: { liquidShare: 1, relieved: false } },
    { what: 'above what its relief lets stand', segment: { liquidShare: 1, pressurePa: 6e6 } },
  ])('$what is caught', ({ segment }) => {
    expect(harmsWith(segment)).toEqual(['liquid-trapped']);
  });

  test('with a relief is NOT', () => {
    expect(harmsWith({ liquidShare: 1 })).toEqual([]);
  });
});

test('a scan that threw is caught by the trip that it leaves', () => {
  const { session, moments } = startsOf('good', 'drawn back');
  const { state } = moments[0]!;
  session.bench.restore(moments[0]!.bench);
  const watch = new Watch(limitsOf('good', 17, 0.45), session.bench.inspect());
  const trip = { row: 'controller', reason: 'controller fault: no', atMs: 0 };
  watch.look(session.bench.inspect(), { ...state, memory: { ...state.memory, trip } });
  expect(watch.found.map(({ harm }) => harm)).toEqual(['controller-broke']);
});

describe('An exception', () => {
  const drawn = (faults: Disturbance['faults']): Disturbance => ({
    profile: 'good',
    job: 'drawn back',
    moment: 0,
    byHand: false,
    answering: { manner: 'does it', delayMs: 0 },
    acts: [],
    faults,
    garbage: [],
    lastsMs: 0,
    ending: 'aborted',
  });
  const weld = { fault: 'relay-welded', output: 'airPurgeValve' } as const;
  const welded = drawn([{ fault: weld, fromMs: 0, forMs: 1 }]);
  const purged = (worst: number) => ({ harm: 'vented-in-purge', atMs: 0, worst }) as const;
  const stillOn = (what: string) => ({ harm: 'on-in-the-end', atMs: 0, worst: 1, what }) as const;

  test('covers what its fault does, up to its bound', () => {
    expect(unexcused([purged(0.1), stillOn('airPurgeValve')], welded)).toEqual([]);
  });

  test.each([
    { what: 'more than its bound', found: [purged(10)], of: welded },
    { what: 'what another output does', found: [stillOn('airPurgeValve,compressor')], of: welded },
    { what: 'the same without the fault', found: [purged(0.1)], of: drawn([]) },
  ])('does NOT cover $what', ({ found, of }) => {
    expect(unexcused(found, of)).toEqual(found);
  });
});
