// Whole jobs with dye on the simulated bench: what is stated against what came into the vehicle.
import { describe, expect, test } from 'vitest';
import type { RunDocument } from '../../app/run/document-type.ts';
import { OIL_DENSITY_KG_PER_M3 } from '../../sim/network/oil.ts';
import { runScenario } from './run-scenario.ts';

const WHOLE = {
  seed: 4,
  weather: { ambientC: 20 },
  ticket: { refrigerant: 'R-134a', nominalChargeG: 600, dyeMl: 8 },
  vehicle: { chargeG: 450, oilG: 120 },
  tank: { contentKg: 8 },
};
const CHARGE = {
  ...WHOLE,
  ticket: { ...WHOLE.ticket, service: 'evacuate-and-charge' },
  vehicle: { chargeG: 0 },
};

const ML_PER_G = 1000 / OIL_DENSITY_KG_PER_M3;
const trueMl = ({ truthOil }: RunDocument): number => truthOil.vehicleDyeG * ML_PER_G;
const codes = (job: RunDocument): string[] => job.notices.map(({ code }) => code);
const results = (job: RunDocument, stage: string): string[] =>
  job.stages.filter((visit) => visit.stage === stage).map(({ result }) => String(result));

/** What is stated holds what is true, and says something. */
function expectStated(job: RunDocument): void {
  const { injectedMl, injectedUncertaintyMl } = job.dye!;
  expect(Math.abs(injectedMl! - trueMl(job))).toBeLessThan(injectedUncertaintyMl!);
  expect(injectedUncertaintyMl).toBeLessThan(3);
}

describe('oil, then dye, then the charge', () => {
  test.each(['good', 'hobby'])(
    'with a %s machine: under vacuum, one after the other, as much as is stated',
    async (equipment) => {
      const order: string[] = [];
      let highestPa = 0;
      const ticket = { ...WHOLE.ticket, oil: { addMl: 20 } };
      const job = await runScenario({ ...WHOLE, ticket, equipment }, [
        ({ commands, readings, progress }) => {
          if (progress.stage !== 'add-oil' && progress.stage !== 'charge') return;
          for (const output of ['oilValve', 'dyeValve', 'chargeValve'] as const)
            if (commands[output].on && order.at(-1) !== output) order.push(output);
          const { manifoldPressurePa: at } = readings;
          if (commands.dyeValve.on && at.ok) highestPa = Math.max(highestPa, at.value);
        },
      ]);
      expect(order).toEqual(['oilValve', 'dyeValve', 'chargeValve']);
      expect(highestPa).toBeLessThan(10_000);
      expect(results(job, 'add-oil')).toEqual(['oil-added']);
      expectStated(job);
      expect(job.dye!.injectedMl).toBeCloseTo(8, 6);
      // All the oil that is in the vehicle at the end: what was there, what was drained, what came as oil and as dye.
      const { drainedMl, injectedMl, injectedUncertaintyMl } = job.oil!;
      const expectedMl = 120 * ML_PER_G - drainedMl! + injectedMl! + job.dye!.injectedMl!;
      const doubtMl = Math.hypot(injectedUncertaintyMl!, job.dye!.injectedUncertaintyMl!) + 1.5;
      expect(Math.abs(job.truthOil.vehicleG * ML_PER_G - expectedMl)).toBeLessThan(doubtMl);
      expect(Math.abs(job.truth.vehicleRefrigerantG - 600)).toBeLessThan(15);
      expect(job.outcome).toBe('completed');
    },
  );

  test.each([1, 2])(
    'through a dry line, on machine %d of the hobby kind, the film is allowed for',
    async (seed) => {
      const job = await runScenario({ ...CHARGE, seed, equipment: 'hobby' });
      expect(job.dye!.injectedMl).toBeCloseTo(8, 6);
      expectStated(job);
      expect(job.oil).toBeUndefined();
    },
  );
});

test('a job without dye is the same job as one of 0 mL, and has none in its document but a zero in the truth', async () => {
  const { dyeMl: _, ...ticket } = CHARGE.ticket;
  const without = await runScenario({ ...CHARGE, ticket });
  const zero = await runScenario({ ...CHARGE, ticket: { ...ticket, dyeMl: 0 } });
  const timeless = ({ wallS: _wall, tablesS: _tables, ...job }: RunDocument) => job;
  expect(timeless(zero)).toEqual(timeless(without));
  expect(without).not.toHaveProperty('dye');
  expect(without.stages.map(({ stage }) => stage)).not.toContain('add-oil');
  expect(without.truthOil.vehicleDyeG).toBe(0);
});

describe('A bottle of dye that runs dry', () => {
  test('in the middle of a dose is noticed, the vehicle is evacuated and held again, and the rest comes', async () => {
    const faults = [{ fault: 'dye-bottle-empty', stage: 'add-oil', afterS: 2.6, forS: 60 }];
    const job = await runScenario({ ...CHARGE, faults });
    expect(codes(job)).toContain('dye-bottle-empty');
    expect(results(job, 'add-oil')).toEqual(['air-drawn-in', 'oil-added']);
    expect(results(job, 'evacuate')).toHaveLength(2);
    const { injectedMl, injectedUncertaintyMl } = job.dye!;
    expect(Math.abs(injectedMl! - trueMl(job))).toBeLessThan(injectedUncertaintyMl!);
    expect(job.outcome).toBe('completed');
  });

  test('because it held less than was said is given up after it has let in air twice, and the rest is told', async () => {
    const ticket = { ...CHARGE.ticket, dyeMl: 50 };
    const job = await runScenario({ ...CHARGE, ticket, equipment: { dyeBottleMl: 100 } });
    // The bench's bottle holds 50 mL, and the film takes 2 of them.
    expect(results(job, 'add-oil')).toEqual(['air-drawn-in', 'air-drawn-in', 'oil-not-added']);
    expect(codes(job)).toContain('dye-not-added');
    const { injectedMl, injectedUncertaintyMl } = job.dye!;
    expect(Math.abs(injectedMl! - trueMl(job))).toBeLessThan(injectedUncertaintyMl!);
    expect(job.outcome).toBe('completed');
  });
});

test('dye that cannot be is refused before anything moves', async () => {
  const refused = async (file: object): Promise<string[]> =>
    (await runScenario(file)).blockers.map(({ code }) => code);
  const electric = { ...CHARGE.ticket, electricCompressor: true };
  expect(await refused({ ...CHARGE, ticket: electric })).toEqual(['dye-unfit']);
  expect(await refused({ ...CHARGE, equipment: { dyeBottleMl: 9 } })).toEqual(['dye-above-bottle']);
  const fitted = ['highSideValve', 'lowSideValve', 'recoveryValve', 'vacuumValve', 'chargeValve'];
  const plain = { fitted: [...fitted, 'compressor', 'vacuumPump', 'fanStop'] };
  expect(await refused({ ...CHARGE, equipment: plain })).toEqual(['output-not-fitted']);
});

test('dye approved for an electric compressor goes in', async () => {
  const ticket = { ...CHARGE.ticket, electricCompressor: true, dyeApproved: true };
  const job = await runScenario({ ...CHARGE, ticket });
  expect(job.blockers).toEqual([]);
  expectStated(job);
});
