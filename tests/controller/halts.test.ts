// Pause, abort, trip and timeout in every stage: safe outputs, honest clocks, and always a way out.
import { describe, expect, test } from 'vitest';
import { progress } from '../../controller/progress.ts';
import { jobResult } from '../../controller/result.ts';
import { type ControllerState, openJob, scan } from '../../controller/scan.ts';
import { OUTPUTS, SAFE_COMMANDS } from '../../controller/signals.ts';
import { STAGES, type Stage } from '../../controller/stages.ts';
import { haltLimitMs, stageLimitMs } from '../../controller/timeouts.ts';
import { newPlant, type Plant, type RunOptions, readPlant, run } from './support/bench.ts';
import { EQUIPMENT, OIL_EQUIPMENT, planFor } from './support/machine.ts';

/** A machine that comes to every stage: its tank has rested overnight, and stands 40 kPa above saturation. */
const MACHINE = {
  ...OIL_EQUIPMENT,
  fitted: [...OIL_EQUIPMENT.fitted, 'airPurgeValve'],
  tankRestedMs: 12 * 3_600_000,
} as const;
const AIRY = { tankPressurePa: 611_710 };
const open = (): ControllerState =>
  openJob(
    planFor({ nominalChargeKg: 1, engine: 'can-run', leakCheck: true, repair: true }, MACHINE),
    MACHINE,
    0,
  );

type Moment = { readonly state: ControllerState; readonly plant: Plant };

const openFill = (): ControllerState => openJob(planFor({ service: 'fill-tank', fillKg: 0.3 }), EQUIPMENT, 0);

/** The first moment in each stage with something switched on, or any moment where nothing ever is; from two jobs. */
const MOMENTS: ReadonlyMap<Stage, Moment> = (() => {
  const found = new Map<Stage, Moment>();
  const done = new Set<Stage>();
  const jobs = [
    { job: openFill(), plant: newPlant({ vehicleKg: 5 }), only: 'fill' },
    { job: open(), plant: newPlant({ separatorOilM3: 12e-6 }), only: undefined },
  ];
  for (const { job, plant, only } of jobs)
    run(job, {
      plant,
      ...(only === undefined ? { readings: () => AIRY } : {}),
      watch: ({ state, commands }) => {
        const { stage } = state;
        if (stage === undefined || done.has(stage.stage)) return undefined;
        if (only !== undefined && stage.stage !== only) return undefined;
        const busy = OUTPUTS.some((output) => commands[output].on);
        const settled = busy && plant.nowMs - stage.sinceMs > 5_000;
        if (settled || !found.has(stage.stage)) {
          found.set(stage.stage, { state, plant: { ...plant, commands, offAtMs: { ...plant.offAtMs } } });
        }
        if (settled) done.add(stage.stage);
        return undefined;
      },
    });
  return found;
})();

function inStage(stage: Stage): Moment {
  const found = MOMENTS.get(stage);
  if (found === undefined) throw new Error(`the job never came to ${stage}`);
  return { state: found.state, plant: { ...found.plant, offAtMs: { ...found.plant.offAtMs } } };
}

const DAY_MS = 24 * 3_600_000;

const codes = (state: ControllerState): string[] => jobResult(state).notices.map(({ code }) => code);

for (const stage of STAGES) {
  describe(`In ${stage}`, () => {
    test('a pause switches everything off in the same scan and says so', () => {
      const { state, plant } = inStage(stage);
      const paused = scan(state, readPlant(plant), plant.nowMs + 100, [{ type: 'paused' }]);
      expect(paused.commands).toEqual(SAFE_COMMANDS);
      const shown = progress(paused.state, plant.nowMs + 100);
      expect(shown.paused).toBe(true);
      expect(shown.prompt).toBeUndefined();
    });

    test('an hour of pause costs no deadline, and the job then goes on to its end', () => {
      const { state, plant } = inStage(stage);
      let pausedAtMs: number | undefined;
      const ended = run(state, {
        plant,
        events: (now) => {
          if (pausedAtMs === undefined) {
            pausedAtMs = now.nowMs;
            return [{ type: 'paused' }];
          }
          return now.nowMs === pausedAtMs + 3_600_000 ? [{ type: 'resumed' }] : [];
        },
      });
      expect(codes(ended)).not.toContain('timed-out');
      expect(jobResult(ended).outcome).toBe('completed');
    });

    test('an abort ends the job stopped, safe, and with its reason', () => {
      const { state, plant } = inStage(stage);
      const aborted = scan(state, readPlant(plant), plant.nowMs + 100, [{ type: 'aborted' }]);
      expect(aborted.commands).toEqual(SAFE_COMMANDS);
      const result = jobResult(aborted.state);
      expect(result.outcome).toBe('stopped');
      expect(result.stages.at(-1)).toMatchObject({ stage, result: 'aborted' });
      expect(aborted.notices.map(({ code }) => code)).toContain('aborted');
    });

    test('the emergency stop trips at once, stays latched after release, and needs reset and resume', () => {
      const { state, plant } = inStage(stage);
      const at = (scans: number): number => plant.nowMs + 100 * scans;
      const still = (nowMs: number, emergencyStop: boolean) =>
        readPlant({ ...plant, nowMs }, { emergencyStop });
      let result = scan(state, still(at(1), true), at(1), []);
      expect(result.commands).toEqual(SAFE_COMMANDS);
      expect(result.state.memory.trip?.reason).toBe('emergency-stop');
      result = scan(result.state, still(at(2), true), at(2), [{ type: 'reset' }]);
      expect(result.notices.map(({ code }) => code)).toContain('reset-refused');
      result = scan(result.state, still(at(3), false), at(3), [{ type: 'resumed' }]);
      expect(result.state.chart.value).toBe('tripped');
      expect(result.commands).toEqual(SAFE_COMMANDS);
      result = scan(result.state, still(at(4), false), at(4), [{ type: 'reset' }]);
      expect(result.state.chart.value).toBe('paused');
      expect(result.commands).toEqual(SAFE_COMMANDS);
      result = scan(result.state, still(at(5), false), at(5), [{ type: 'resumed' }]);
      expect(result.state.stage?.stage).toBe(stage);
      expect(result.state.chart.value).toBe(stage);
    });

    test('a trip that nobody resets ends the job', () => {
      const { state, plant } = inStage(stage);
      const alarmed = (before: ControllerState, nowMs: number) =>
        scan(before, readPlant({ ...plant, nowMs }, { gasAlarm: true }), nowMs, []);
      const trippedAtMs = plant.nowMs + 100;
      const tripped = alarmed(state, trippedAtMs).state;
      const limitMs = haltLimitMs(tripped.chart, tripped.plan);
      const last = alarmed(tripped, trippedAtMs + limitMs);
      expect(jobResult(last.state).outcome).toBe('running');
      const ended = alarmed(last.state, trippedAtMs + limitMs + 100);
      expect(ended.commands).toEqual(SAFE_COMMANDS);
      expect(jobResult(ended.state).outcome).toBe('stopped');
      expect(codes(ended.state)).toEqual(expect.arrayContaining(['tripped', 'wait-timed-out']));
    });

    test('nothing that never comes can keep it for ever', () => {
      const { state, plant } = inStage(stage);
      const frozen = { ...plant };
      let left = state;
      // A repair may take a month; looked at so seldom it trips for its clock, which must not keep it either.
      const [limitMs, everyMs] = stage === 'repair' ? [61 * DAY_MS, 600_000] : [9 * 3_600_000, 1_000];
      for (let nowMs = plant.nowMs + everyMs; nowMs < plant.nowMs + limitMs; nowMs += everyMs) {
        const readings = readPlant(
          { ...frozen, nowMs },
          { manifoldPressurePa: { ok: false, reason: 'stale' } },
        );
        left = scan(left, readings, nowMs, []).state;
        if (left.stage?.stage !== stage) break;
      }
      expect(left.stage?.stage).not.toBe(stage);
      expect(stageLimitMs(state.stage!.stage, undefined, state.plan).ms).toBeLessThan(limitMs);
    });
  });
}

describe('Trips', () => {
  test('keep the first reason', () => {
    const { state, plant } = inStage('recover');
    const at = (scans: number): number => plant.nowMs + 100 * scans;
    let result = scan(state, readPlant({ ...plant, nowMs: at(1) }, { highPressureSwitch: true }), at(1), []);
    result = scan(result.state, readPlant({ ...plant, nowMs: at(2) }, { emergencyStop: true }), at(2), []);
    expect(result.state.memory.trip?.reason).toBe('high-pressure-switch');
    expect(codes(result.state).filter((code) => code === 'tripped')).toHaveLength(1);
  });

  test('do NOT come from a sensor that is merely missing for a scan', () => {
    const { state, plant } = inStage('recover');
    const nowMs = plant.nowMs + 100;
    const result = scan(
      state,
      readPlant({ ...plant, nowMs }, { emergencyStop: { ok: false, reason: 'stale' } }),
      nowMs,
      [],
    );
    expect(result.commands).toEqual(SAFE_COMMANDS);
    expect(result.state.memory.trip).toBeUndefined();
  });
});

describe('A missing operator', () => {
  test('ends the job after a working day, with the machine safe all along', () => {
    const ended = run(open(), {
      answers: false,
      untilMs: 9 * 3_600_000,
      watch: ({ commands }) => {
        if (commands !== SAFE_COMMANDS) expect(commands).toEqual(SAFE_COMMANDS);
        return undefined;
      },
    });
    expect(jobResult(ended).outcome).toBe('stopped');
    expect(codes(ended)).toEqual(['wait-timed-out']);
  });
});

describe('An interlock that holds something back', () => {
  /** Code and text of what is told in a charge whose readings turn odd. */
  function told(readings: NonNullable<RunOptions['readings']>): { code: string; text: string }[] {
    const { state, plant } = inStage('charge');
    const seen: { code: string; text: string }[] = [];
    run(state, {
      plant,
      untilMs: plant.nowMs + 60_000,
      readings,
      watch: ({ notices }) => {
        seen.push(...notices.filter(({ code }) => code.startsWith('held-by-')));
        return undefined;
      },
    });
    return seen;
  }

  test('is told after ten seconds, once, by its id and hazard', () => {
    const notices = told(() => ({ tankPressurePa: 300_000, highSidePressurePa: 900_000 }));
    expect(notices.map(({ code }) => code)).toEqual(['held-by-interlock']);
    expect(notices[0]!.text).toContain('IL-23');
    expect(notices[0]!.text).toContain('pushes refrigerant back');
  });

  test('because it cannot read says that, and does NOT tell its hazard as a fact', () => {
    const notices = told(() => ({ tankPressurePa: { ok: false, reason: 'open-circuit' } }));
    expect(notices.map(({ code }) => code)).toEqual(['held-by-unknown']);
    expect(notices[0]!.text).toContain('IL-23');
    expect(notices[0]!.text).toContain('the tank pressure cannot be read');
  });
});
