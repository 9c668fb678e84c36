// Drain oil, the reading of the catch bottle, and add oil: what they look at, what they refuse, where they lead.
import { describe, expect, test } from 'vitest';
import type { Equipment } from '../../../controller/equipment.ts';
import { jobResult } from '../../../controller/result.ts';
import { type ControllerState, openJob, scan } from '../../../controller/scan.ts';
import type { Ticket } from '../../../controller/ticket.ts';
import { newPlant, type Plant, type RunOptions, readPlant, run } from '../support/bench.ts';
import { OIL_EQUIPMENT, planFor } from '../support/machine.ts';
import { none } from '../support/readings.ts';

const ML = 1e-6;
const open = (ticket: Partial<Ticket> = {}, equipment: Equipment = OIL_EQUIPMENT): ControllerState =>
  openJob(planFor(ticket, equipment), equipment, 0);
const codes = (state: ControllerState): string[] => jobResult(state).notices.map(({ code }) => code);
const visits = (state: ControllerState): string[] =>
  jobResult(state).stages.map(({ stage, result }) => `${stage}:${result}`);
const oil = (addM3: number): Ticket['oil'] => ({ kind: 'PAG', addM3 });

function job(plant: Plant, ticket: Partial<Ticket> = {}, options: RunOptions = {}): ControllerState {
  return run(open(ticket), { plant, ...options });
}

describe('Drain oil', () => {
  test('lets out what the separator holds and shuts when gas follows', () => {
    const plant = newPlant({ separatorOilM3: 12 * ML });
    const state = job(plant);
    expect(visits(state)).toContain('drain-oil:drained');
    expect(plant.catchBottleM3 / ML).toBeCloseTo(12, 6);
    expect(plant.ventedKg).toBeLessThan(3e-4);
    expect(jobResult(state).oil!.drainedM3! / ML).toBeCloseTo(12, 6);
  });

  test('a dry separator loses a tenth of a gram and no more', () => {
    const plant = newPlant();
    expect(visits(job(plant))).toContain('drain-oil:dry');
    expect(plant.ventedKg).toBeLessThan(1e-4);
  });

  test('opens only above the atmosphere, with the separator seen and everything else shut', () => {
    let opened = 0;
    const plant = newPlant({ separatorOilM3: 5 * ML });
    job(
      plant,
      {},
      {
        watch: ({ commands, state }) => {
          if (!commands.separatorDrainValve.on) return undefined;
          opened += 1;
          expect(commands.separatorDrainValve.offAfterMs).toBeLessThanOrEqual(10_000);
          expect(commands.recoveryValve.on).toBe(true);
          for (const output of [
            'highSideValve',
            'lowSideValve',
            'vacuumValve',
            'chargeValve',
            'compressor',
          ] as const)
            expect(commands[output].on).toBe(false);
          expect(state.seen!.manifoldPa!).toBeGreaterThan(101_325 + 15_000);
          return undefined;
        },
      },
    );
    expect(opened).toBeGreaterThan(10);
  });

  test('tank liquid goes into the closed manifold in countdowns of at most 60 ms, and never twice without a way out', () => {
    const plant = newPlant();
    let between = true;
    job(
      plant,
      {},
      {
        watch: ({ commands, state }) => {
          if (state.stage?.stage !== 'drain-oil') return undefined;
          if (commands.recoveryValve.on) between = true;
          if (!commands.chargeValve.on) return undefined;
          expect(commands.chargeValve.offAfterMs).toBeLessThanOrEqual(60);
          expect(between).toBe(true);
          between = false;
          return undefined;
        },
      },
    );
  });

  test('at a mountain barometer the separator stands above that, not above sea level', () => {
    const plant = newPlant({ separatorOilM3: 5 * ML });
    const barometerPa = 75_000;
    let highestPa = 0;
    const state = job(
      plant,
      {},
      {
        readings: () => ({ barometerPa }),
        watch: ({ commands, state: now }) => {
          if (commands.separatorDrainValve.on) highestPa = Math.max(highestPa, now.seen!.manifoldPa!);
          return undefined;
        },
      },
    );
    expect(visits(state)).toContain('drain-oil:drained');
    expect(highestPa).toBeGreaterThan(barometerPa + 30_000);
    expect(highestPa).toBeLessThan(barometerPa + 60_000);
  });

  test('with a blind absolute sensor the drain stays shut, that is told, and the job goes on', () => {
    const plant = newPlant({ separatorOilM3: 5 * ML });
    const state = job(
      plant,
      {},
      {
        readings: (_, { stage }) =>
          stage?.stage === 'drain-oil' ? { manifoldPressurePa: none('open-circuit') } : {},
        watch: ({ commands }) => {
          expect(commands.separatorDrainValve.on).toBe(false);
          return undefined;
        },
      },
    );
    expect(codes(state)).toContain('oil-not-drained');
    expect(jobResult(state)).toMatchObject({ outcome: 'completed' });
    expect(jobResult(state).oil).toBeUndefined();
  });

  test('a separator above the span of the sensor is eased with the compressor, NOT drained unseen', () => {
    const plant = newPlant({ separatorOilM3: 5 * ML });
    let raised = false;
    const state = job(
      plant,
      {},
      {
        readings: (now, { stage }) => {
          if (stage?.stage === 'drain-oil' && stage.step === 'pulse' && !raised) {
            raised = true;
            now.separatorKg *= 6;
          }
          return {};
        },
      },
    );
    expect(raised).toBe(true);
    expect(visits(state)).toContain('drain-oil:drained');
  });

  test('what the tank gave is booked and what came back is booked', () => {
    const plant = newPlant({ separatorOilM3: 5 * ML });
    const { ledger } = jobResult(job(plant));
    expect(ledger.map(({ movement }) => movement)).toContain('tank-to-separator');
    const sign = {
      'vehicle-to-tank': 1,
      'hoses-to-tank': 1,
      'cylinder-to-tank': 1,
      'tank-to-separator': -1,
      'tank-to-vehicle': -1,
      'tank-to-air': -1,
    };
    const booked = ledger.reduce((sum, { movement, massKg }) => sum + sign[movement] * massKg, 0);
    expect(Math.abs(8 + booked - plant.tankKg)).toBeLessThan(0.003);
  });

  test('a flood of oil is told with its figure', () => {
    const plant = newPlant();
    const state = job(
      plant,
      {},
      {
        watch: (_, now) => {
          now.catchBottleM3 = 80 * ML;
          return undefined;
        },
      },
    );
    const notice = jobResult(state).notices.find(({ code }) => code === 'oil-flooding');
    expect(notice?.text).toContain('80 mL');
  });
});

describe('The catch bottle', () => {
  test('is read at the earliest ten minutes after the drain shut', () => {
    const plant = newPlant({ separatorOilM3: 5 * ML });
    let drainedMs = 0;
    let askedMs: number | undefined;
    job(
      plant,
      { service: 'recover' },
      {
        watch: ({ commands, state, nowMs }) => {
          if (commands.separatorDrainValve.on) drainedMs = nowMs;
          if (state.prompt?.id === 'read-catch-bottle') askedMs ??= nowMs;
          return undefined;
        },
      },
    );
    expect(askedMs! - drainedMs).toBeGreaterThanOrEqual(600_000);
  });

  test.each([-1e-6, 501e-6, Number.NaN])('%s m³ is refused and asked for again', (volumeM3) => {
    const plant = newPlant({ separatorOilM3: 5 * ML });
    const asked = run(open({ service: 'recover' }), {
      plant,
      watch: ({ state }) => state.prompt?.id === 'read-catch-bottle',
    });
    plant.nowMs += 100;
    const wrong = { type: 'entered', prompt: 'read-catch-bottle', volumeM3 } as const;
    const refused = scan(asked, readPlant(plant), plant.nowMs, [wrong]);
    expect(refused.notices.map(({ code }) => code)).toEqual(['entry-refused']);
    expect(refused.state.prompt?.id).toBe('read-catch-bottle');
    expect(jobResult(run(refused.state, { plant })).oil!.drainedM3! / ML).toBeCloseTo(5, 6);
  });

  test('in a recovery what was drained is told as missing', () => {
    const state = job(newPlant({ separatorOilM3: 5 * ML }), { service: 'recover' });
    expect(codes(state)).toContain('oil-not-replaced');
    expect(jobResult(state).outcome).toBe('completed');
  });
});

describe('Add oil', () => {
  test('gives back what was drained and the allowance, the film of the line besides', () => {
    const plant = newPlant({ separatorOilM3: 12 * ML });
    const state = job(plant, { oil: oil(20 * ML) });
    expect(jobResult(state).oil!.injectedM3! / ML).toBeCloseTo(32, 3);
    expect(Math.abs(plant.vehicleOilM3 / ML - 34)).toBeLessThan(0.6);
  });

  test('opens only to a vacuum through the high side, with a countdown', () => {
    let opened = 0;
    job(
      newPlant(),
      { oil: oil(20 * ML) },
      {
        watch: ({ commands, state }) => {
          if (!commands.oilValve.on) return undefined;
          opened += 1;
          expect(commands.oilValve.offAfterMs).toBeGreaterThan(0);
          expect([commands.highSideValve.on, commands.lowSideValve.on]).toEqual([true, false]);
          expect(state.seen!.manifoldPa!).toBeLessThan(10_000);
          return undefined;
        },
      },
    );
    expect(opened).toBeGreaterThan(10);
  });

  test('a bottle that runs dry is shut at once, the vehicle evacuated again, the bottle filled and the rest added', () => {
    const plant = newPlant({ oilBottleM3: 8 * ML });
    const state = job(plant, { oil: oil(20 * ML) });
    const stages = jobResult(state).stages.map(({ stage }) => stage);
    expect(stages.filter((stage) => stage === 'add-oil')).toHaveLength(2);
    expect(stages.indexOf('evacuate', stages.indexOf('add-oil'))).toBeGreaterThan(0);
    expect(codes(state)).toContain('oil-bottle-empty');
    expect(Math.abs(plant.vehicleOilM3 / ML - 22)).toBeLessThan(2.5);
    expect(jobResult(state).outcome).toBe('completed');
  });

  test('a bottle that stays empty is given up after the second time, and the missing oil is told', () => {
    const plant = newPlant({ oilBottleM3: 0 });
    const state = job(
      plant,
      { oil: oil(20 * ML) },
      {
        watch: (_, now) => {
          now.oilBottleM3 = 0;
          return undefined;
        },
      },
    );
    expect(codes(state).filter((code) => code === 'oil-bottle-empty')).toHaveLength(2);
    expect(jobResult(state).notices.find(({ code }) => code === 'oil-not-replaced')!.text).toContain('20 mL');
    expect(jobResult(state).outcome).toBe('completed');
  });

  test('nothing drained and nothing asked for adds nothing', () => {
    const plant = newPlant();
    expect(visits(job(plant))).toContain('add-oil:nothing-to-add');
    expect(plant.vehicleOilM3).toBe(0);
  });
});
