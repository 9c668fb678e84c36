// Unknown is never permission: what is missing, stuck or unasked for must not carry a job on.
import { describe, expect, test } from 'vitest';
import { circuitPa } from '../../controller/estimates/pressures.ts';
import type { Seen } from '../../controller/estimates/seen.ts';
import type { OperatorEvent } from '../../controller/operator.ts';
import { jobResult } from '../../controller/result.ts';
import { type ControllerState, openJob, scan } from '../../controller/scan.ts';
import { SAFE_COMMANDS } from '../../controller/signals.ts';
import { hosesAreSafe } from '../../controller/stages/hand-over.ts';
import { newPlant, readPlant, run } from './support/bench.ts';
import { EQUIPMENT, planFor } from './support/machine.ts';
import { none, readingsAt, type Values } from './support/readings.ts';

const recovering = () => openJob(planFor({ service: 'recover' }), EQUIPMENT, 0);
const LOST = none('open-circuit');

describe('Pressure', () => {
  const blind = { highSidePressurePa: LOST, lowSidePressurePa: LOST, manifoldPressurePa: LOST };

  test('a rest in which no sensor reads is not calm: the job ends unproven', () => {
    const plant = newPlant();
    const ended = run(recovering(), {
      plant,
      readings: (_, { stage }) => (stage?.stage === 'rest' && stage.step !== 'weigh' ? blind : {}),
    });
    const { outcome, notices } = jobResult(ended);
    expect(outcome).toBe('stopped');
    expect(notices.map(({ code }) => code)).toContain('pressure-unknown');
  });

  test('a rest that loses its sensors for a moment is NOT given up', () => {
    const ended = run(recovering(), {
      plant: newPlant(),
      readings: ({ nowMs }, { stage }) =>
        stage?.stage === 'rest' && nowMs - stage.sinceMs > 60_000 && nowMs - stage.sinceMs < 75_000
          ? blind
          : {},
    });
    expect(jobResult(ended).outcome).toBe('completed');
  });

  test('a vehicle with one port is judged by its own hose, above the span of the absolute sensor too', () => {
    const seen = { highSidePa: 300_000, lowSidePa: 60_000, manifoldPa: undefined } as Seen;
    expect(circuitPa(seen, 1)).toBe(300_000);
    expect(circuitPa({ ...seen, highSidePa: undefined }, 1)).toBeUndefined();
    expect(circuitPa(seen, 2)).toBe(60_000);
  });

  const BACK = { highSidePressurePa: 400_000, lowSidePressurePa: 400_000 };
  const safety = (state: ControllerState): string[] =>
    state.notices.map(({ code }) => code).filter((code) => code.startsWith('hoses-'));

  test('hoses are not called safe while pressure is back: they are drawn once more first', () => {
    const plant = newPlant();
    let sinceMs: number | undefined;
    const steps = new Set<string>();
    const ended = run(recovering(), {
      plant,
      readings: ({ nowMs }, { stage }) => {
        if (stage?.stage === 'recover-hoses' && stage.step === 'hand-over') sinceMs ??= nowMs;
        return sinceMs !== undefined && nowMs - sinceMs < 1_000 ? BACK : {};
      },
      watch: ({ state }) => {
        if (sinceMs === undefined) expect(safety(state)).toEqual([]);
        else if (state.stage !== undefined) steps.add(state.stage.step);
        return undefined;
      },
    });
    expect([...steps]).toEqual(expect.arrayContaining(['look', 'rest']));
    expect(safety(ended)).toEqual(['hoses-safe']);
    expect(jobResult(ended).outcome).toBe('completed');
  });

  test('after the end the word is shown only while the hoses are read and nothing is on', () => {
    const plant = newPlant();
    const ended = run(recovering(), { plant });
    expect(hosesAreSafe(ended)).toBe(true);
    plant.nowMs += 100;
    const scanned = (values: Values, ...events: readonly OperatorEvent[]) =>
      scan(ended, readPlant(plant, values), plant.nowMs, events).state;
    expect(hosesAreSafe(scanned({}))).toBe(true);
    for (const gone of ['highSidePressurePa', 'lowSidePressurePa'] as const)
      expect(hosesAreSafe(scanned({ [gone]: LOST })), gone).toBe(false);
    const opened = scanned({}, { type: 'by-hand-begun' }, { type: 'wished', output: 'vacuumPump', on: true });
    expect(opened.judged?.permitted.vacuumPump.on).toBe(true);
    expect(hosesAreSafe(opened)).toBe(false);
  });

  test('pressure that comes back after the end takes the word back, once', () => {
    const plant = newPlant();
    let state = run(recovering(), { plant });
    expect(safety(state)).toEqual(['hoses-safe']);
    for (let scans = 0; scans < 20; scans++) {
      plant.nowMs += 100;
      state = scan(state, readPlant(plant, scans < 5 ? {} : BACK), plant.nowMs, []).state;
      if (scans < 5) expect(safety(state)).toEqual(['hoses-safe']);
    }
    expect(safety(state)).toEqual(['hoses-safe', 'hoses-not-safe']);
  });

  test('pressure in hoses that were NOT called safe is no news', () => {
    const plant = newPlant();
    let state = run(recovering(), {
      plant,
      events: (now) => (now.nowMs > 60_000 ? [{ type: 'aborted' }] : []),
    });
    state = scan(state, readPlant(plant, BACK), plant.nowMs + 100, []).state;
    expect(jobResult(state).outcome).toBe('stopped');
    expect(safety(state)).toEqual([]);
  });
});

describe('Scale', () => {
  test('one that stands still stops recovery long before the tank could be overfilled', () => {
    const plant = newPlant({ vehicleKg: 20, tankKg: 16 });
    let onMs = 0;
    run(recovering(), {
      plant,
      readings: (_, { stage }) => (stage?.stage === 'recover' ? { scaleCounts: 2_900_000 } : {}),
      watch: ({ commands }) => {
        if (commands.compressor.on) onMs += 100;
        return undefined;
      },
      untilMs: 3_600_000,
    });
    expect(onMs).toBeLessThan(30_000);
    expect(plant.tankKg).toBeLessThan(EQUIPMENT.tank.fillLimitKg);
  });

  test('one that falls silent is not trusted', () => {
    let state = openJob(planFor(), EQUIPMENT, 0);
    const plant = newPlant();
    for (plant.nowMs = 100; plant.nowMs < 3_000; plant.nowMs += 100) {
      state = scan(state, readPlant(plant), plant.nowMs, []).state;
    }
    expect(state.estimates.scale.trust).toBe('trusted');
    state = scan(state, readPlant(plant, { scaleCounts: LOST }), plant.nowMs, []).state;
    expect(state.estimates.scale.trust).not.toBe('trusted');
  });
});

describe('Reset', () => {
  const tripped = (): ControllerState =>
    scan(recovering(), readingsAt(100, { emergencyStop: true }), 100, []).state;

  test.each([LOST, none('stale'), none('not-fitted')])(
    'is refused while the cause reads $reason',
    (emergencyStop) => {
      const { state, commands } = scan(tripped(), readingsAt(200, { emergencyStop }), 200, [
        { type: 'reset' },
      ]);
      expect(state.memory.trip).toBeDefined();
      expect(commands).toEqual(SAFE_COMMANDS);
    },
  );

  test('is NOT refused when the cause reads clear', () => {
    const { state } = scan(tripped(), readingsAt(200), 200, [{ type: 'reset' }]);
    expect(state.memory.trip).toBeUndefined();
  });
});

test('after a fault of the controller a reset and resume lead back to the stage that broke', () => {
  const plant = newPlant();
  const state = run(openJob(planFor(), EQUIPMENT, 0), {
    plant,
    watch: ({ state: now }) => now.stage?.stage === 'recover',
  });
  const broken = { ...state, plan: { ...state.plan, recover: undefined } } as never;
  const at = (ms: number) => readPlant({ ...plant, nowMs: plant.nowMs + ms });
  const faulted = scan(broken, at(100), plant.nowMs + 100, []).state;
  expect(faulted.memory.trip?.row).toBe('controller');
  const mended = { ...faulted, plan: state.plan };
  const reset = scan(mended, at(200), plant.nowMs + 200, [{ type: 'reset' }]).state;
  expect(reset.chart.value).toBe('paused');
  const resumed = scan(reset, at(300), plant.nowMs + 300, [{ type: 'resumed' }]).state;
  expect(resumed.chart.value).toBe('recover');
  expect(resumed.stage?.stage).toBe('recover');
});

test('a countdown that has run out does not leave the charge waiting for a valve that stays shut', () => {
  const plant = newPlant();
  let shiftedAtMs: number | undefined;
  let longestWishMs = 0;
  let wishedSinceMs: number | undefined;
  const ended = run(openJob(planFor(), EQUIPMENT, 0), {
    plant,
    // The platform gives way by 8 g just after the countdown has been told: the target seems further off again.
    readings: ({ nowMs, tankKg }, { stage }) => {
      // Not the countdown to the pause for the hoses' force: after that one the valve opens again.
      const counts = stage?.stage === 'charge' && stage.step === 'full' && stage.paused;
      if (counts && stage.shutDueMs !== undefined) shiftedAtMs ??= nowMs;
      if (shiftedAtMs === undefined) return {};
      const kg = tankKg + 0.008 + 0.0002 * Math.sin(nowMs);
      return { scaleCounts: Math.round(EQUIPMENT.scale.zeroCounts + kg * EQUIPMENT.scale.countsPerKg) };
    },
    watch: ({ commands, nowMs }) => {
      wishedSinceMs = commands.chargeValve.on ? (wishedSinceMs ?? nowMs) : undefined;
      if (shiftedAtMs !== undefined && wishedSinceMs !== undefined) {
        longestWishMs = Math.max(longestWishMs, nowMs - Math.max(wishedSinceMs, shiftedAtMs));
      }
      return undefined;
    },
  });
  expect(shiftedAtMs).toBeDefined();
  expect(longestWishMs).toBeLessThan(2_000);
  expect(jobResult(ended).stages.find(({ stage }) => stage === 'charge')?.result).toBe('charged');
});
