// Verify and clear hoses: no engine before the valves are proven, no belief without pressure, always a way out.
import { describe, expect, test } from 'vitest';
import { jobResult } from '../../../controller/result.ts';
import { type ControllerState, openJob, scan } from '../../../controller/scan.ts';
import { SAFE_COMMANDS } from '../../../controller/signals.ts';
import type { Ticket } from '../../../controller/ticket.ts';
import { newPlant, type Plant, type RunOptions, readPlant, run } from '../support/bench.ts';
import { EQUIPMENT, planFor } from '../support/machine.ts';
import { none } from '../support/readings.ts';

const open = (ticket: Partial<Ticket> = {}): ControllerState =>
  openJob(planFor({ service: 'evacuate-and-charge', engine: 'can-run', ...ticket }), EQUIPMENT, 0);
const empty = (over: Partial<Plant> = {}): Plant => newPlant({ vehicleKg: 0, airPa: 101_000, ...over });
const codes = (state: ControllerState): string[] => jobResult(state).notices.map(({ code }) => code);
const stages = (state: ControllerState): string[] => jobResult(state).stages.map(({ stage }) => stage);
const job = (options: RunOptions = {}, ticket: Partial<Ticket> = {}): ControllerState =>
  run(open(ticket), { plant: empty(), ...options });

describe('With an engine that can run', () => {
  test('the charge is tested, the hoses are cleared, closed and then recovered with next to nothing in them', () => {
    const plant = empty();
    const state = job({ plant });
    expect(stages(state).slice(-4)).toEqual(['charge', 'verify', 'clear-hoses', 'recover-hoses']);
    const { masses, outcome, performance } = jobResult(state);
    expect(outcome).toBe('completed');
    expect(Math.abs(plant.vehicleKg - 0.6)).toBeLessThan(0.005);
    expect(masses.hoseRecoveredKg!).toBeLessThan(0.003);
    expect(Math.abs(masses.netChargeKg! - plant.vehicleKg)).toBeLessThan(masses.uncertaintyKg!);
    expect(performance!.highPa).toBeGreaterThan(performance!.lowPa);
  });

  test('the questions come in the order of the trade', () => {
    const asked: string[] = [];
    job({
      watch: ({ state }) => {
        const id = state.prompt?.id;
        if (id !== undefined && asked.at(-1) !== id) asked.push(id);
        return undefined;
      },
    });
    expect(asked).toEqual([
      'connect-hoses',
      'start-engine',
      'close-high-coupler',
      'close-couplers-then-stop',
    ]);
  });

  test('nobody is asked to start it before every valve has been shut for ten seconds', () => {
    let shutSinceMs: number | undefined;
    job({
      watch: ({ commands, state, nowMs }) => {
        if (commands !== SAFE_COMMANDS) shutSinceMs = undefined;
        else shutSinceMs ??= nowMs;
        if (state.prompt?.id !== 'start-engine') return undefined;
        expect(nowMs - shutSinceMs!).toBeGreaterThanOrEqual(10_000);
        return true;
      },
    });
  });

  test('while it runs no path leads to tank or pump, from its start to the word that it stands', () => {
    let scans = 0;
    job({
      watch: ({ commands, state }, { engine }) => {
        if (!engine || state.prompt?.id === 'start-engine') return undefined;
        scans += 1;
        for (const output of ['recoveryValve', 'vacuumValve', 'chargeValve', 'compressor'] as const)
          expect(commands[output].on).toBe(false);
        return undefined;
      },
    });
    expect(scans).toBeGreaterThan(3_000);
  });

  test('a tank that has lost some is NOT proven: no engine, and the hoses are recovered', () => {
    let lostKg = 0;
    const state = job({
      readings: (plant, { stage }) => {
        if (stage?.stage === 'verify' && lostKg < 0.01) {
          plant.tankKg -= 1e-4;
          lostKg += 1e-4;
        }
        return {};
      },
      watch: ({ state: now }) => {
        expect(now.prompt?.id).not.toBe('start-engine');
        return undefined;
      },
    });
    expect(codes(state)).toContain('valves-not-proven');
    expect(stages(state)).not.toContain('clear-hoses');
    expect(jobResult(state).outcome).toBe('completed');
  });

  test('a tank that goes on losing trips within a minute, before anyone is asked to start', () => {
    let verifyMs = 0;
    const state = job({
      readings: (plant, { stage }) => {
        if (stage?.stage === 'verify') plant.tankKg -= 5e-6;
        return {};
      },
      watch: ({ state: now, nowMs }) => {
        if (now.stage?.stage !== 'verify') verifyMs = nowMs;
        expect(now.prompt?.id).not.toBe('start-engine');
        return now.memory.trip !== undefined;
      },
    });
    expect(state.memory.trip).toMatchObject({ row: 'IL-41', reason: 'tank-loses-mass' });
    expect(state.memory.trip!.atMs - verifyMs).toBeLessThan(65_000);
  });

  test('an unread side is NOT proven either', () => {
    const state = job({
      readings: (_, { stage }) => (stage?.stage === 'verify' ? { lowSidePressurePa: none('stale') } : {}),
      watch: ({ state: now }) => {
        expect(now.prompt?.id).not.toBe('start-engine');
        return undefined;
      },
    });
    expect(codes(state)).toContain('sides-not-seen');
    expect(codes(state)).not.toContain('valves-not-proven');
  });

  test('sides that do not part say that the compressor does not turn; the job ends in order', () => {
    const plant = empty();
    const state = job({
      plant,
      watch: (_, now) => {
        now.apart = 0;
        return undefined;
      },
    });
    expect(jobResult(state).performance!.verdict).toBe('compressor-not-running');
    expect(stages(state)).not.toContain('clear-hoses');
    expect(jobResult(state).outcome).toBe('completed');
  });

  test('a high side near its limit ends the test at once', () => {
    const state = job({
      readings: (plant, { stage }) =>
        stage?.stage === 'verify' && plant.apart > 0.9 ? { highSidePressurePa: 2_300_000 } : {},
    });
    expect(codes(state)).toContain('high-side-too-high');
    const verify = jobResult(state).stages.find(({ stage }) => stage === 'verify')!;
    expect(verify.endedAtMs! - verify.startedAtMs).toBeLessThan(120_000);
  });

  test('a vent thermometer that is not fitted is told, and one that is stands in the record', () => {
    const verdict = (state: ControllerState) =>
      jobResult(state).notices.find(({ code }) => code.startsWith('performance-'));
    expect(verdict(job())!.text).toContain('no thermometer');
    const measured = job({ readings: () => ({ ventTemperatureK: 280.15 }) });
    expect(jobResult(measured).performance!.ventK).toBe(280.15);
    expect(verdict(measured)!.text).toContain('7 °C');
  });
});

describe('The word that the engine stands still', () => {
  const uncleared = (watch: RunOptions['watch'] = () => undefined) => {
    const asked: number[] = [];
    const state = job({
      plant: empty({ highCouplerStuck: true }),
      watch: (seen, plant) => {
        const { prompt } = seen.state;
        if (prompt?.id === 'stop-engine' && prompt.askedAtMs === seen.nowMs) asked.push(seen.nowMs);
        return watch(seen, plant);
      },
    });
    return { state, asked };
  };
  const standing = ({ state: { stage } }: Parameters<NonNullable<RunOptions['watch']>>[0]): boolean =>
    stage?.stage === 'recover-hoses' && stage.step === 'standstill';

  test('is asked for once more, and once only, while the sides stay as far apart', () => {
    const { state, asked } = uncleared((seen, plant) => {
      if (standing(seen)) plant.engine = true;
      return undefined;
    });
    expect(asked).toHaveLength(2);
    expect(asked[1]! - asked[0]!).toBeGreaterThanOrEqual(300_000);
    expect(codes(state)).toContain('engine-perhaps-running');
  });

  test('is NOT asked for again when they come together', () => {
    const { state, asked } = uncleared();
    expect(asked).toHaveLength(1);
    expect(codes(state)).not.toContain('engine-perhaps-running');
  });
});

describe('An engine of no help', () => {
  test('is stopped before anything is drawn, and the charge that counted on it is corrected', () => {
    const plant = empty();
    const asked: string[] = [];
    let drewWhileItRan = false;
    const state = job({
      plant,
      watch: ({ state: now, commands }, { engine }) => {
        plant.apart = 0;
        const id = now.prompt?.id;
        if (id !== undefined && asked.at(-1) !== id) asked.push(id);
        if (engine && commands.compressor.on) drewWhileItRan = true;
        return undefined;
      },
    });
    expect(stages(state).slice(-4)).toEqual(['charge', 'verify', 'charge', 'recover-hoses']);
    expect(asked.indexOf('stop-engine')).toBeGreaterThan(asked.indexOf('start-engine'));
    expect(drewWhileItRan).toBe(false);
    expect(Math.abs(plant.vehicleKg - 0.6)).toBeLessThan(0.005);
    expect(codes(state)).not.toContain('net-charge-off');
  });

  test('is tried once: the corrected charge is NOT tested again', () => {
    const state = job({
      watch: (_, now) => {
        now.apart = 0;
        return undefined;
      },
    });
    expect(stages(state).filter((stage) => stage === 'verify')).toHaveLength(1);
  });

  test('whose valves were not proven corrects nothing: what leaks is not drawn at', () => {
    let lostKg = 0;
    const state = job({
      readings: (plant, { stage }) => {
        if (stage?.stage === 'verify' && lostKg < 0.01) {
          plant.tankKg -= 1e-4;
          lostKg += 1e-4;
        }
        return {};
      },
    });
    expect(stages(state).slice(-3)).toEqual(['charge', 'verify', 'recover-hoses']);
  });
});

describe('A high coupler', () => {
  test('that was left open is found by its pressure, asked for again, and then believed', () => {
    const plant = empty({ highCouplerStuck: true });
    let asked = 0;
    const state = job({
      plant,
      watch: ({ state: now, nowMs }) => {
        if (now.prompt?.id === 'close-high-coupler' && now.prompt.askedAtMs === nowMs) asked += 1;
        if (asked === 2) plant.highCouplerStuck = false;
        return undefined;
      },
    });
    expect(asked).toBe(2);
    expect(codes(state)).toContain('high-coupler-open');
    expect(codes(state)).not.toContain('hoses-not-cleared');
    expect(jobResult(state).outcome).toBe('completed');
  });

  test('that stays open is given up: the engine is stopped first, then the hoses are recovered as they are', () => {
    const plant = empty({ highCouplerStuck: true });
    const asked: string[] = [];
    const state = job({
      plant,
      watch: ({ state: now }) => {
        const id = now.prompt?.id;
        if (id !== undefined && asked.at(-1) !== id) asked.push(id);
        return undefined;
      },
    });
    expect(codes(state)).toContain('hoses-not-cleared');
    expect(asked.indexOf('stop-engine')).toBeLessThan(asked.indexOf('close-couplers'));
    expect(jobResult(state).outcome).toBe('completed');
  });
});

describe('An engine', () => {
  const running = (): { state: ControllerState; plant: Plant } => {
    const plant = empty();
    const state = job({ plant, watch: ({ state: now }) => now.stage?.step === 'run' });
    return { state, plant };
  };

  test('that still runs when the job is aborted is told', () => {
    const { state, plant } = running();
    const aborted = scan(state, readPlant(plant), plant.nowMs + 100, [{ type: 'aborted' }]);
    expect(aborted.notices.map(({ code }) => code)).toEqual(
      expect.arrayContaining(['aborted', 'engine-still-running']),
    );
  });

  test('that never ran is NOT told at an abort', () => {
    const aborted = scan(open(), readPlant(empty()), 100, [{ type: 'aborted' }]);
    expect(aborted.notices.map(({ code }) => code)).not.toContain('engine-still-running');
  });

  test.each([
    [{ electricCompressor: true, oil: { kind: 'POE', addM3: 0 } as const }, 'electric'],
    [{ ports: 1 as const }, 'one port'],
  ])('that could run in %j is left alone, and that is told', (ticket, words) => {
    const plant = empty();
    const state = job({ plant }, ticket);
    expect(stages(state)).not.toContain('verify');
    expect(jobResult(state).notices.find(({ code }) => code === 'engine-left-alone')!.text).toContain(words);
  });

  test('that cannot run has hoses drawn back, and then what is aimed at is what the vehicle keeps', () => {
    const { accounts } = job({}, { engine: 'cannot-run' });
    expect(Math.abs(accounts.targetKg! - accounts.chargedKg!)).toBeLessThan(0.003);
  });

  test('that cannot run is not asked for, and nothing is told', () => {
    const state = job({}, { engine: 'cannot-run' });
    expect(stages(state)).not.toContain('clear-hoses');
    expect(codes(state)).not.toContain('engine-left-alone');
  });
});
