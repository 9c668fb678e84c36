// A job from ticket to end on a scripted plant: order, safety at the end, determinism, persistence.
import { describe, expect, test } from 'vitest';
import { progress } from '../../controller/progress.ts';
import { jobResult } from '../../controller/result.ts';
import { type ControllerState, openJob, scan } from '../../controller/scan.ts';
import { type Commands, SAFE_COMMANDS } from '../../controller/signals.ts';
import { newPlant, run } from './support/bench.ts';
import { EQUIPMENT, planFor } from './support/machine.ts';

const open = (ticket = {}): ControllerState => openJob(planFor(ticket), EQUIPMENT, 0);

describe('A whole service', () => {
  test('goes through its stages in order and ends completed with every gram booked', () => {
    const plant = newPlant();
    const result = jobResult(run(open(), { plant }));
    expect(result.outcome).toBe('completed');
    expect(result.stages.map(({ stage }) => stage)).toEqual([
      'identify',
      'settle',
      'recover',
      'rest',
      'evacuate',
      'hold',
      'charge',
      'recover-hoses',
    ]);
    const booked = result.ledger.reduce(
      (sum, { movement, massKg }) => sum + (movement === 'tank-to-vehicle' ? -massKg : massKg),
      0,
    );
    expect(Math.abs(8 + booked - plant.tankKg)).toBeLessThan(0.003);
  });

  test('tells the net charge within its stated uncertainty of what the vehicle got', () => {
    const plant = newPlant();
    const { masses } = jobResult(run(open(), { plant }));
    expect(Math.abs(masses.netChargeKg! - plant.vehicleKg)).toBeLessThan(masses.uncertaintyKg!);
  });

  test('charges the nominal charge when the hoses hold what was predicted', () => {
    const plant = newPlant();
    run(open(), { plant });
    expect(Math.abs(plant.vehicleKg - 0.6)).toBeLessThan(0.005);
  });

  test('asks three blocking questions', () => {
    const asked = new Set<number>();
    run(open(), {
      watch: ({ state, nowMs }) => {
        const { prompt } = progress(state, nowMs);
        if (prompt !== undefined) asked.add(prompt.askedAtMs);
        return undefined;
      },
    });
    expect(asked.size).toBe(3);
  });

  test('leaves the machine in the safe state while a question is open and at the end', () => {
    let last: Commands | undefined;
    run(open(), {
      watch: ({ state, commands, nowMs }) => {
        if (progress(state, nowMs).prompt !== undefined) expect(commands).toEqual(SAFE_COMMANDS);
        last = commands;
        return undefined;
      },
    });
    expect(last).toEqual(SAFE_COMMANDS);
  });

  test('skips recovery when the vehicle is empty', () => {
    const plant = newPlant({ vehicleKg: 0, airPa: 101_000 });
    const result = jobResult(run(open(), { plant }));
    const stages = result.stages.map(({ stage }) => stage);
    expect(stages).not.toContain('recover');
    expect(stages).toContain('evacuate');
    expect(result.notices.map(({ code }) => code)).toContain('vehicle-empty');
  });
});

describe('Other services', () => {
  test('recover ends with hoses recovered and nothing evacuated or charged', () => {
    const result = jobResult(run(open({ service: 'recover' })));
    expect(result.outcome).toBe('completed');
    expect(result.stages.map(({ stage }) => stage)).toEqual([
      'identify',
      'settle',
      'recover',
      'rest',
      'recover-hoses',
    ]);
    expect(result.masses.recoveredKg).toBeGreaterThan(0.47);
    expect(result.masses.chargedKg).toBeUndefined();
  });

  test('evacuate-and-charge charges an empty vehicle', () => {
    const plant = newPlant({ vehicleKg: 0, airPa: 101_000 });
    const result = jobResult(run(open({ service: 'evacuate-and-charge' }), { plant }));
    expect(result.outcome).toBe('completed');
    expect(Math.abs(plant.vehicleKg - 0.6)).toBeLessThan(0.005);
  });

  test('evacuate-and-charge does NOT vent a vehicle that is under pressure', () => {
    const plant = newPlant();
    const result = jobResult(
      run(open({ service: 'evacuate-and-charge' }), {
        plant,
        watch: ({ commands }) => {
          expect(commands.vacuumValve.on).toBe(false);
          return undefined;
        },
      }),
    );
    expect(result.outcome).toBe('stopped');
    expect(result.notices.map(({ code }) => code)).toContain('vehicle-pressurised');
  });
});

describe('The scan', () => {
  test('gives the same bytes for the same inputs', () => {
    const once: string[] = [];
    const twice: string[] = [];
    for (const log of [once, twice]) {
      run(open(), {
        untilMs: 900_000,
        watch: ({ commands, notices }) => {
          log.push(JSON.stringify([commands, notices]));
          return undefined;
        },
      });
    }
    expect(twice).toEqual(once);
  });

  test('continues identically from a state that went through JSON', () => {
    const straight = run(open());
    let count = 0;
    let restored = open();
    const plant = newPlant();
    while (progress(restored, plant.nowMs).ended === false) {
      const untilMs = plant.nowMs + 60_000;
      restored = JSON.parse(JSON.stringify(restored)) as ControllerState;
      restored = run(restored, { plant, untilMs });
      count += 1;
      if (count > 200) break;
    }
    expect(jobResult(restored)).toEqual(jobResult(straight));
  });

  test('does not change its input', () => {
    const state = run(open(), { untilMs: 120_000 });
    const before = JSON.stringify(state);
    const frozen = deepFreeze(JSON.parse(before) as ControllerState);
    run(frozen, { plant: newPlant({ nowMs: 120_000, coupled: true }), untilMs: 180_000 });
    expect(JSON.stringify(frozen)).toBe(before);
  });

  test('stays finished: later events and readings change nothing', () => {
    const ended = run(open());
    const again = scan(ended, {} as never, 9e9, [
      { type: 'resumed' },
      { type: 'reset' },
      { type: 'aborted' },
    ]);
    expect(again.commands).toEqual(SAFE_COMMANDS);
    expect(jobResult(again.state).outcome).toBe('completed');
  });
});

function deepFreeze<T>(value: T): T {
  if (typeof value === 'object' && value !== null) {
    for (const part of Object.values(value)) deepFreeze(part);
    Object.freeze(value);
  }
  return value;
}
