// By hand: single outputs are wished, and the interlocks of the job permit or refuse each of them.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { LONGEST_WISH_MS, RENEW_MS, whyNot } from '../../controller/by-hand.ts';
import { permit } from '../../controller/interlocks/permit.ts';
import { INTERLOCKS } from '../../controller/interlocks/table.ts';
import type { OperatorEvent } from '../../controller/operator.ts';
import { planByHand } from '../../controller/plan.ts';
import { progress } from '../../controller/progress.ts';
import { type ControllerState, openJob, type ScanResult, scan } from '../../controller/scan.ts';
import { OUTPUTS, type Output, SAFE_COMMANDS } from '../../controller/signals.ts';
import { run } from './support/bench.ts';
import { EQUIPMENT, OIL_EQUIPMENT, planFor, R134A, TICKET } from './support/machine.ts';
import { none, readingsAt, type Values } from './support/readings.ts';

const SEED = 20_260_103;
const BEGIN: OperatorEvent = { type: 'by-hand-begun' };
const wish = (output: Output, on = true, offAfterMs?: number): OperatorEvent => ({
  type: 'wished',
  output,
  on,
  ...(offAfterMs === undefined ? {} : { offAfterMs }),
});

/** A machine on the table of a test: readings are given, nothing flows. */
class Machine {
  state: ControllerState;
  nowMs = 0;
  last: ScanResult | undefined;
  values: Values = {};

  constructor(state: ControllerState) {
    this.state = state;
    this.nowMs = state.memory.lastScanMs;
  }

  scan(...events: readonly OperatorEvent[]): ScanResult {
    this.nowMs += 100;
    // A live scale never repeats itself.
    const scaleCounts = 2_100_000 + Math.round(30 * Math.sin(this.nowMs));
    const readings = readingsAt(this.nowMs, { scaleCounts, ...this.values });
    this.last = scan(this.state, readings, this.nowMs, events);
    this.state = this.last.state;
    return this.last;
  }

  wait(seconds: number): this {
    for (let scans = 0; scans < seconds * 10; scans += 1) this.scan();
    return this;
  }

  get on(): readonly Output[] {
    return OUTPUTS.filter((output) => this.last?.commands[output].on);
  }

  get codes(): readonly string[] {
    return this.last?.notices.map(({ code }) => code) ?? [];
  }

  get entry() {
    return this.state.handJournal.at(-1)!;
  }
}

const idle = (): ControllerState => openJob(planByHand(TICKET, R134A), OIL_EQUIPMENT, 0);

/** Taken over and rested: the compressor may start, the fan is proven. */
function byHand(values: Values = {}): Machine {
  const machine = new Machine(idle());
  machine.values = values;
  machine.wait(125);
  machine.scan(BEGIN);
  return machine;
}

test.each(['paused', 'all-wished-off'] as const)('By hand, %s switches everything off', (type) => {
  const machine = byHand();
  machine.scan(wish('highSideValve'));
  expect(machine.on).toEqual(['highSideValve']);
  machine.scan({ type });
  expect(machine.on).toEqual([]);
  expect(machine.state.byHand).toBeDefined();
});

describe('Work by hand begins', () => {
  test('on a machine without a job, and says so', () => {
    const machine = byHand();
    expect(machine.codes).toEqual(['by-hand-begun']);
    expect(machine.entry).toMatchObject({ deed: 'begun', result: 'done' });
    expect(progress(machine.state, machine.nowMs)).toMatchObject({ stage: 'by-hand', ended: false });
    expect(machine.on).toEqual([]);
  });

  test('after a job has ended, with what the interlocks remember of it', () => {
    const ended = run(openJob(planFor({ service: 'recover' }), EQUIPMENT, 0));
    const machine = new Machine(ended);
    machine.scan(BEGIN);
    expect(machine.state.byHand).toBeDefined();
    expect(machine.state.memory.manifoldLiquid).toBe(ended.memory.manifoldLiquid);
  });

  test('but a vacuum that was seen before it counts no more: the hoses may have gone to another vehicle', () => {
    const machine = byHand();
    const { memory } = machine.state;
    machine.state = {
      ...machine.state,
      memory: { ...memory, givenWatch: { ...memory.givenWatch, emptied: true } },
    };
    machine.scan();
    expect(machine.state.memory.givenWatch.emptied).toBe(true);
    machine.scan({ type: 'by-hand-ended' });
    machine.scan(BEGIN);
    expect(machine.state.memory.givenWatch.emptied).toBe(false);
  });

  test.each([false, true])('NOT while a job runs; paused: %s', (paused) => {
    const job = new Machine(openJob(planFor(), EQUIPMENT, 0));
    job.scan();
    if (paused) job.scan({ type: 'paused' });
    const before = job.state;
    job.scan(BEGIN, wish('highSideValve'));
    expect(job.codes).toEqual(['by-hand-refused-in-job', 'wish-not-by-hand']);
    expect(job.state.byHand).toBeUndefined();
    expect(job.state.chart).toEqual(before.chart);
    expect(job.on).toEqual([]);
  });

  test('NOT with a latched trip, but after its reset', () => {
    const machine = new Machine(idle());
    machine.values = { emergencyStop: true };
    machine.scan();
    machine.values = {};
    machine.scan(BEGIN);
    expect(machine.codes).toEqual(['by-hand-refused-by-trip']);
    machine.scan({ type: 'reset' });
    machine.scan(BEGIN);
    expect(machine.state.byHand).toBeDefined();
  });

  test('and a stop that comes while a job runs is not ignored: the job stands paused', () => {
    const job = new Machine(openJob(planFor(), EQUIPMENT, 0));
    job.scan();
    job.scan({ type: 'all-wished-off' });
    expect(job.state.chart.value).toBe('paused');
  });
});

describe('A wish', () => {
  test('that nothing forbids is permitted, held, and taken back', () => {
    const machine = byHand();
    machine.scan(wish('highSideValve'));
    expect(machine.on).toEqual(['highSideValve']);
    expect(machine.entry).toMatchObject({ deed: 'on', output: 'highSideValve', result: 'permitted' });
    machine.wait(60);
    expect(machine.on).toEqual(['highSideValve']);
    machine.scan(wish('highSideValve', false));
    expect(machine.on).toEqual([]);
    expect(machine.entry).toMatchObject({ deed: 'off', result: 'done' });
  });

  test('that an interlock forbids is refused with its id, its hazard and a remedy, and nothing else moves', () => {
    const machine = byHand();
    machine.scan(wish('highSideValve'));
    machine.scan(wish('compressor'));
    expect(machine.on).toEqual(['highSideValve']);
    const row = INTERLOCKS.find(({ id }) => id === 'IL-15')!;
    expect(machine.entry).toMatchObject({
      deed: 'on',
      output: 'compressor',
      result: 'refused',
      reason: { row: 'IL-15', hazard: row.hazard, remedy: row.remedy },
    });
    const [notice] = machine.last!.notices;
    expect(notice).toMatchObject({ code: 'wish-refused', remedy: row.remedy });
    expect(notice!.text).toContain('IL-15');
    expect(notice!.text).toContain('shut suction');
  });

  test('that would make a held output unsafe as well is refused without taking that one away', () => {
    const machine = byHand();
    machine.scan(wish('vacuumPump'));
    machine.wait(4);
    machine.scan(wish('vacuumValve'));
    machine.scan(wish('chargeValve'));
    expect(machine.entry).toMatchObject({ result: 'refused', reason: { row: 'IL-13' } });
    expect(machine.on).toEqual(['vacuumValve', 'vacuumPump']);
  });

  test('among several of one scan is judged after those before it', () => {
    const machine = byHand();
    machine.scan(wish('compressor'), wish('highSideValve'), wish('recoveryValve'));
    expect(machine.on).toEqual(['highSideValve', 'recoveryValve']);
    machine.scan(wish('compressor'));
    expect(machine.on).toEqual(['highSideValve', 'recoveryValve', 'compressor']);
  });

  test('for an output that is not fitted is refused', () => {
    const machine = byHand();
    machine.scan(wish('tankHeater'));
    expect(machine.entry).toMatchObject({ result: 'refused', reason: { row: 'IL-01-tankHeater' } });
  });

  test('that cannot be read is no wish', () => {
    const machine = byHand();
    for (const nonsense of [
      { type: 'wished', output: 'door', on: true },
      { type: 'wished', output: 'highSideValve' },
      { type: 'wished', output: 'highSideValve', on: 1 },
      { type: 'wished', output: 'highSideValve', on: true, offAfterMs: Number.NaN },
      { type: 'wished', output: 'highSideValve', on: true, offAfterMs: 0 },
      { type: 'wished' },
    ])
      machine.scan(nonsense as never);
    expect(machine.on).toEqual([]);
    expect(machine.state.handJournal).toHaveLength(1);
  });
});

describe('Unknown is never permission', () => {
  test.each([
    ['vacuumValve', { manifoldPressurePa: none('open-circuit') }, 'IL-10'],
    ['recoveryValve', { scaleCounts: none('stale') }, 'IL-07'],
    ['recoveryValve', { tankPressurePa: none('open-circuit') }, 'IL-06'],
    ['highSideValve', { emergencyStop: none('stale') }, 'IL-04'],
  ] as const)('%s is refused while its reading is missing', (output, values, row) => {
    const machine = byHand();
    machine.scan(wish('vacuumPump'));
    machine.wait(4);
    machine.values = values;
    machine.wait(1);
    machine.scan(wish(output));
    expect(machine.on).not.toContain(output);
    expect(machine.entry.result).toBe('refused');
    expect(machine.entry.reason).toMatchObject({ row, unknown: expect.any(String) });
    expect(machine.last!.notices[0]!.text).toContain('unknown is never permission');
  });

  test.each(['vacuumValve', 'recoveryValve', 'highSideValve'] as const)(
    '%s is NOT refused when everything reads',
    (output) => {
      const machine = byHand();
      machine.scan(wish('vacuumPump'));
      machine.wait(4);
      machine.scan(wish(output));
      expect(machine.on).toContain(output);
    },
  );
});

describe('A held output', () => {
  test('that an interlock forbids later is dropped, keeps its first reason, and does not come back by itself', () => {
    const machine = byHand();
    machine.scan(wish('vacuumPump'));
    machine.wait(4);
    machine.scan(wish('vacuumValve'));
    machine.values = { manifoldPressurePa: 140_000 };
    machine.scan();
    expect(machine.on).toEqual(['vacuumPump']);
    expect(machine.codes).toEqual(['wish-fell']);
    expect(machine.entry).toMatchObject({ deed: 'off', result: 'fell', reason: { row: 'IL-10' } });
    machine.values = { manifoldPressurePa: none('stale') };
    machine.wait(1);
    machine.values = {};
    machine.wait(60);
    expect(machine.on).toEqual(['vacuumPump']);
    expect(machine.state.byHand?.fallen).toMatchObject([{ output: 'vacuumValve', reason: { row: 'IL-10' } }]);
    expect(machine.state.byHand?.fallen[0]?.reason.unknown).toBeUndefined();
    machine.scan(wish('vacuumValve'));
    expect(machine.on).toEqual(['vacuumValve', 'vacuumPump']);
    expect(machine.state.byHand?.fallen).toEqual([]);
  });

  test('falls with the one it depends on', () => {
    const machine = byHand();
    machine.scan(wish('vacuumPump'));
    machine.wait(4);
    machine.scan(wish('vacuumValve'));
    machine.scan(wish('vacuumPump', false));
    expect(machine.on).toEqual([]);
    expect(machine.entry).toMatchObject({ output: 'vacuumValve', result: 'fell', reason: { row: 'IL-09' } });
  });

  test('goes off when nobody renews it', () => {
    const machine = byHand();
    machine.scan(wish('highSideValve'));
    machine.wait(RENEW_MS / 1000 - 1);
    expect(machine.on).toEqual(['highSideValve']);
    machine.scan(wish('highSideValve'));
    machine.wait(RENEW_MS / 1000 - 1);
    expect(machine.on).toEqual(['highSideValve']);
    machine.wait(2);
    expect(machine.on).toEqual([]);
    expect(machine.entry).toMatchObject({ deed: 'off', result: 'expired', output: 'highSideValve' });
    expect(machine.state.notices.at(-1)?.code).toBe('wish-expired');
  });

  test('with a time of its own goes off after that, and never lasts longer than the longest', () => {
    const machine = byHand();
    machine.scan(wish('highSideValve', true, 600_000), wish('lowSideValve', true, 1e12));
    machine.wait(599);
    expect(machine.on).toEqual(['highSideValve', 'lowSideValve']);
    machine.wait(2);
    expect(machine.on).toEqual(['lowSideValve']);
    machine.wait(LONGEST_WISH_MS / 1000);
    expect(machine.on).toEqual([]);
    expect(machine.state.notices.map(({ code }) => code)).toEqual(['by-hand-begun']);
  });

  test('as a pulse is counted by the rig, and a second pulse begins with an off in between', () => {
    const machine = byHand();
    machine.scan(wish('highSideValve'));
    machine.scan(wish('lowSideValve', true, 250));
    expect(machine.last!.commands.lowSideValve).toEqual({ on: true, offAfterMs: 250 });
    machine.scan(wish('lowSideValve', true, 150));
    expect(machine.on).toEqual(['highSideValve']);
    machine.scan();
    expect(machine.last!.commands.lowSideValve).toEqual({ on: true, offAfterMs: 150 });
    machine.wait(0.3);
    expect(machine.on).toEqual(['highSideValve']);
  });
});

describe('Work by hand ends', () => {
  const busy = (): Machine => {
    const machine = byHand();
    machine.scan(wish('highSideValve'), wish('recoveryValve'), wish('compressor'));
    expect(machine.on).toHaveLength(3);
    return machine;
  };

  test.each([{ type: 'by-hand-ended' }, { type: 'aborted' }] as const)(
    'by $type with everything off in the same scan',
    (event) => {
      const machine = busy();
      expect(machine.scan(event).commands).toEqual(SAFE_COMMANDS);
      expect(machine.state.byHand).toBeUndefined();
      machine.scan(wish('highSideValve'));
      expect(machine.on).toEqual([]);
      expect(machine.codes).toEqual(['wish-not-by-hand']);
    },
  );

  test('with a word about the engine only where it may run', () => {
    const machine = busy();
    machine.scan({ type: 'by-hand-ended' });
    expect(machine.codes).toContain('by-hand-ended');
    expect(machine.codes).not.toContain('engine-still-running');
  });

  test('NOT by a stop, which shuts everything in the same scan and goes on', () => {
    const machine = busy();
    expect(machine.scan({ type: 'all-wished-off' }).commands).toEqual(SAFE_COMMANDS);
    expect(machine.state.byHand).toBeDefined();
    machine.scan(wish('lowSideValve'));
    expect(machine.on).toEqual(['lowSideValve']);
  });

  test.each([
    ['the emergency stop', { emergencyStop: true }, 'IL-04'],
    ['the high-pressure switch', { highPressureSwitch: true }, 'IL-05'],
    ['the gas alarm', { gasAlarm: true }, 'IL-24'],
  ] as const)('by %s at once; nothing comes back after its reset', (_, values, row) => {
    const machine = busy();
    machine.values = values;
    expect(machine.scan().commands).toEqual(SAFE_COMMANDS);
    expect(machine.codes).toEqual(['tripped']);
    expect(machine.entry).toMatchObject({ deed: 'ended', result: 'fell', reason: { row } });
    machine.scan({ type: 'reset' });
    expect(machine.codes).toEqual(['reset-refused']);
    machine.values = {};
    machine.scan({ type: 'reset' });
    machine.wait(10);
    expect(machine.on).toEqual([]);
    expect(machine.state.byHand).toBeUndefined();
    machine.scan(BEGIN);
    expect(machine.on).toEqual([]);
  });

  test('by a fault of the controller, with everything off', () => {
    const machine = busy();
    machine.state = { ...machine.state, byHand: { ...machine.state.byHand!, wishes: undefined } as never };
    expect(machine.scan().commands).toEqual(SAFE_COMMANDS);
    expect(machine.state.byHand).toBeUndefined();
    expect(machine.state.memory.trip?.row).toBe('controller');
  });

  test('with a warning when the engine still runs', () => {
    const machine = busy();
    machine.scan({ type: 'confirmed', prompt: 'start-engine' });
    expect(machine.on).toEqual(['highSideValve']);
    machine.scan({ type: 'by-hand-ended' });
    expect(machine.codes).toContain('engine-still-running');
  });
});

describe('The interlocks are those of a job', () => {
  const worlds: readonly Values[] = [
    {},
    { manifoldPressurePa: none('out-of-range'), highSidePressurePa: 570_000, lowSidePressurePa: 570_000 },
    { manifoldPressurePa: 200 },
    { manifoldPressurePa: none('open-circuit') },
    { scaleCounts: none('stale') },
    { tankPressurePa: none('short-circuit') },
  ];

  test('whatever is wished in whatever order, the word is the one the table itself leaves', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...worlds),
        fc.array(fc.tuple(fc.constantFrom(...OUTPUTS), fc.boolean(), fc.integer({ min: 0, max: 40 })), {
          maxLength: 12,
        }),
        (values, wishes) => {
          const machine = byHand(values);
          for (const [output, on, waits] of wishes) {
            machine.scan(wish(output, on));
            const { judged, fitting } = machine.state;
            const again = permit(judged!.wanted, judged!.bands, judged!.remembered, fitting);
            for (const each of OUTPUTS)
              expect(machine.last!.commands[each].on).toBe(again.permitted[each].on);
            for (let scans = 0; scans < waits; scans += 1) machine.scan();
          }
        },
      ),
      { seed: SEED, numRuns: 60 },
    );
  });

  test('asking why answers as the wish itself then is answered, and changes nothing', () => {
    for (const values of worlds) {
      for (const output of OUTPUTS) {
        const machine = byHand(values);
        machine.scan(wish('highSideValve'), wish('vacuumPump'));
        const before = JSON.stringify(machine.state);
        const rows = whyNot(machine.state, output, machine.nowMs).map(({ row }) => row);
        expect(JSON.stringify(machine.state)).toBe(before);
        machine.scan(wish(output));
        expect([rows[0]], output).toEqual([machine.entry.reason?.row]);
      }
    }
  });
});

test('work by hand goes on identically from a state that went through JSON', () => {
  const script: readonly (readonly OperatorEvent[])[] = [
    [wish('highSideValve'), wish('vacuumPump')],
    [],
    [wish('highSideValve', true, 400)],
    ...Array.from({ length: 40 }, () => []),
    [wish('vacuumValve'), wish('chargeValve')],
    [wish('vacuumPump', false)],
    [],
    [wish('lowSideValve', true, 200)],
    [wish('lowSideValve', true, 200)],
    [],
  ];
  const straight = byHand();
  const restored = byHand();
  for (const events of script) {
    const one = straight.scan(...events);
    restored.state = JSON.parse(JSON.stringify(restored.state)) as ControllerState;
    const other = restored.scan(...events);
    expect([other.commands, other.notices]).toEqual([one.commands, one.notices]);
  }
  expect(restored.state.handJournal).toEqual(straight.state.handJournal);
  expect(straight.state.handJournal.map(({ result }) => result)).toEqual(
    expect.arrayContaining(['permitted', 'refused', 'fell', 'expired']),
  );
});
