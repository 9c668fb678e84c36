import { describe, expect, test } from 'vitest';
import { progress } from '../../controller/progress.ts';
import { openJob } from '../../controller/scan.ts';
import { SAFE_COMMANDS } from '../../controller/signals.ts';
import { run } from './support/bench.ts';
import { BEGIN, byHand, idle, Machine, wish } from './support/hand-machine.ts';
import { EQUIPMENT, planFor } from './support/machine.ts';

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
