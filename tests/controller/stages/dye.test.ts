// Add oil and dye: what of dye is drawn in, when, and what is told where it does not come.
import { describe, expect, test } from 'vitest';
import type { Equipment } from '../../../controller/equipment.ts';
import { jobResult } from '../../../controller/result.ts';
import { type ControllerState, openJob } from '../../../controller/scan.ts';
import type { Ticket } from '../../../controller/ticket.ts';
import { newPlant, type RunOptions, run } from '../support/bench.ts';
import { OIL_EQUIPMENT, planFor } from '../support/machine.ts';
import { none } from '../support/readings.ts';

const ML = 1e-6;
const DYE = { dye: { addM3: 8 * ML, approved: false } } as const;
const OIL = { oil: { kind: 'PAG', addM3: 20 * ML } } as const;

const job = (
  ticket: Partial<Ticket>,
  options: RunOptions = {},
  equipment: Equipment = OIL_EQUIPMENT,
): ControllerState => run(openJob(planFor(ticket, equipment), equipment, 0), options);
const codes = (state: ControllerState): string[] => jobResult(state).notices.map(({ code }) => code);
const visits = (state: ControllerState, stage: string): (string | undefined)[] =>
  jobResult(state)
    .stages.filter((visit) => visit.stage === stage)
    .map(({ result }) => result);

test('dye comes after the oil and before the charge, one bottle at a time, under vacuum, with a countdown', () => {
  const order: string[] = [];
  const plant = newPlant();
  const state = job(
    { ...OIL, ...DYE },
    {
      plant,
      watch: ({ commands, state: now }) => {
        for (const output of ['oilValve', 'dyeValve', 'chargeValve'] as const)
          if (commands[output].on && order.at(-1) !== output) order.push(output);
        if (!commands.dyeValve.on) return undefined;
        expect(commands.dyeValve.offAfterMs).toBeGreaterThan(0);
        expect(now.seen!.manifoldPa!).toBeLessThan(10_000);
        for (const output of [
          'oilValve',
          'lowSideValve',
          'vacuumValve',
          'recoveryValve',
          'chargeValve',
        ] as const)
          expect(commands[output].on).toBe(false);
        expect(commands.highSideValve.on).toBe(true);
        return undefined;
      },
    },
  );
  // Drained oil needs a pulse of tank liquid long before.
  expect(order.slice(order.indexOf('oilValve'))).toEqual(['oilValve', 'dyeValve', 'chargeValve']);
  expect(visits(state, 'add-oil')).toEqual(['oil-added']);
  expect(jobResult(state).oil!.injectedM3! / ML).toBeCloseTo(20, 3);
  expect(jobResult(state).dye!.injectedM3! / ML).toBeCloseTo(8, 3);
  expect(plant.vehicleOilM3 / ML).toBeCloseTo(22, 0);
  expect(Math.abs(plant.vehicleDyeM3 / ML - 8)).toBeLessThan(0.3);
  expect(jobResult(state).outcome).toBe('completed');
});

test('without oil the film of the dry line is drawn besides, and its doubt is stated', () => {
  const plant = newPlant();
  const dry = job(DYE, { plant });
  expect(Math.abs(plant.vehicleDyeM3 / ML - 10)).toBeLessThan(0.3);
  const { dye } = jobResult(dry);
  expect(dye!.injectedM3! / ML).toBeCloseTo(8, 3);
  const after = jobResult(job({ ...OIL, ...DYE })).dye!;
  expect(dye!.injectedUncertaintyM3).toBeGreaterThan(after.injectedUncertaintyM3!);
  expect(after.injectedUncertaintyM3! / ML).toBeLessThan(1);
});

test('a ticket that asks for none opens no dye and has none in its result', () => {
  const state = job(OIL, {
    watch: ({ commands }) => {
      expect(commands.dyeValve.on).toBe(false);
      return undefined;
    },
  });
  expect(jobResult(state)).not.toHaveProperty('dye');
  expect(visits(state, 'add-oil')).toEqual(['oil-added']);
});

describe('A bottle of dye that runs dry', () => {
  test('is shut at once, the vehicle evacuated again, the bottle filled, the rest added, and no oil twice', () => {
    const plant = newPlant({ dyeBottleM3: 4 * ML });
    const asked: string[] = [];
    const state = job(
      { ...OIL, ...DYE },
      {
        plant,
        watch: ({ state: now }) => {
          if (now.prompt !== undefined && asked.at(-1) !== now.prompt.id) asked.push(now.prompt.id);
          return undefined;
        },
      },
    );
    expect(visits(state, 'add-oil')).toEqual(['air-drawn-in', 'oil-added']);
    expect(visits(state, 'evacuate')).toHaveLength(2);
    expect(codes(state)).toContain('dye-bottle-empty');
    expect(codes(state)).not.toContain('oil-bottle-empty');
    expect(asked).toContain('fill-dye-bottle');
    expect(asked).not.toContain('fill-oil-bottle');
    const { dye, oil } = jobResult(state);
    expect(oil!.injectedM3! / ML).toBeCloseTo(20, 3);
    expect(Math.abs(plant.vehicleOilM3 / ML - 22)).toBeLessThan(0.5);
    expect(Math.abs(plant.vehicleDyeM3 - dye!.injectedM3!)).toBeLessThan(dye!.injectedUncertaintyM3!);
    expect(jobResult(state).outcome).toBe('completed');
  });

  test('and stays empty is given up after the second time: the missing dye is told, and the charge goes on', () => {
    const state = job(DYE, {
      plant: newPlant({ dyeBottleM3: 0 }),
      watch: (_, plant) => {
        plant.dyeBottleM3 = 0;
        return undefined;
      },
    });
    expect(codes(state).filter((code) => code === 'dye-bottle-empty')).toHaveLength(2);
    expect(jobResult(state).notices.find(({ code }) => code === 'dye-not-added')!.text).toContain('8 mL');
    expect(codes(state)).not.toContain('oil-not-replaced');
    expect(jobResult(state).outcome).toBe('completed');
  });

  test('does not keep an oil bottle that was given up from being told, nor the other way round', () => {
    const state = job(
      { ...OIL, ...DYE },
      {
        watch: (_, plant) => {
          plant.oilBottleM3 = 0;
          return undefined;
        },
        plant: newPlant({ oilBottleM3: 0 }),
      },
    );
    expect(codes(state)).toContain('oil-not-replaced');
    expect(codes(state)).not.toContain('dye-not-added');
    expect(jobResult(state).dye!.injectedM3! / ML).toBeCloseTo(8, 3);
    expect(visits(state, 'add-oil').at(-1)).toBe('oil-not-added');
  });
});

test('with a blind absolute sensor neither bottle opens, both are told as missing, and the job goes on', () => {
  const state = job(
    { ...OIL, ...DYE },
    {
      readings: (_, { stage }) =>
        stage?.stage === 'add-oil' ? { manifoldPressurePa: none('open-circuit') } : {},
      watch: ({ commands }) => {
        expect([commands.oilValve.on, commands.dyeValve.on]).toEqual([false, false]);
        return undefined;
      },
    },
  );
  expect(codes(state)).toEqual(expect.arrayContaining(['oil-not-replaced', 'dye-not-added']));
  expect(jobResult(state).outcome).toBe('completed');
});

test.each([
  ['while dye is drawn in', 'dose', 600],
  ['after all of it is in', 'run-in', 1_000],
] as const)('a pause %s costs no second dose', (_, step, afterMs) => {
  const plant = newPlant();
  let pausedAtMs: number | undefined;
  const state = job(
    { ...OIL, ...DYE },
    {
      plant,
      events: (_, { stage }) => {
        if (pausedAtMs !== undefined)
          return plant.nowMs - pausedAtMs > 5_000 && plant.nowMs - pausedAtMs < 5_200
            ? [{ type: 'resumed' }]
            : [];
        const draws = stage?.stage === 'add-oil' && stage.step === step && stage.liquid === 'dye';
        if (!draws || plant.nowMs - stage.stepSinceMs < afterMs) return [];
        pausedAtMs = plant.nowMs;
        return [{ type: 'paused' }];
      },
      watch: ({ commands }) => {
        if (commands.dyeValve.on) expect(commands.dyeValve.offAfterMs).toBeGreaterThan(0);
        return undefined;
      },
    },
  );
  expect(pausedAtMs).toBeDefined();
  expect(Math.abs(plant.vehicleDyeM3 / ML - 8)).toBeLessThan(1);
  expect(jobResult(state).outcome).toBe('completed');
});

test('oil that may not go in is left alone where dye may: an electric compressor, dye approved, PAG in the bottle', () => {
  const electric: Partial<Ticket> = {
    electricCompressor: true,
    oil: { kind: 'POE', addM3: 0 },
    dye: { addM3: 8 * ML, approved: true },
  };
  const plant = newPlant({ separatorOilM3: 6 * ML });
  const state = job(electric, { plant });
  expect(plant.vehicleOilM3).toBe(0);
  expect(Math.abs(plant.vehicleDyeM3 / ML - 10)).toBeLessThan(0.3);
  expect(jobResult(state).notices.find(({ code }) => code === 'oil-not-replaced')!.text).toContain('6 mL');
});
