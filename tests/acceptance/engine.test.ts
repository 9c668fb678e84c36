// Whole jobs with oil in the vehicle and an engine that can run, on the simulated bench.
import { beforeAll, describe, expect, test } from 'vitest';
import type { RunDocument } from '../../app/run/document-type.ts';
import { runScenario } from './run-scenario.ts';

const JOBS = [
  { what: 'a warm vehicle', seed: 4, ambientC: 25, refrigerant: 'R-134a', equipment: 'good' },
  { what: 'the same on a hobby machine', seed: 9, ambientC: 25, refrigerant: 'R-134a', equipment: 'hobby' },
  { what: 'R-1234yf', seed: 2, ambientC: 25, refrigerant: 'R-1234yf', equipment: 'good' },
  { what: 'a hot day', seed: 2, ambientC: 35, refrigerant: 'R-134a', equipment: 'good' },
] as const;

describe.each(JOBS)('$what', ({ seed, ambientC, refrigerant, equipment }) => {
  let job: RunDocument;
  beforeAll(async () => {
    job = await runScenario({
      seed,
      weather: { ambientC },
      ticket: { refrigerant, nominalChargeG: 600, engine: 'can-run', oil: { addMl: 15 } },
      vehicle: { chargeG: 450, oilG: 120 },
      tank: { contentKg: 8 },
      equipment,
    });
  });

  test('ends with its nominal charge within 5 g: the hoses keep nothing back', () => {
    expect(job.outcome).toBe('completed');
    expect(Math.abs(job.truth.vehicleRefrigerantG - 600)).toBeLessThan(5);
    expect(job.masses.hoseRecoveredG).toBeLessThan(3);
  });

  test('knows it within 10 g', () => {
    expect(Math.abs(job.masses.netChargeG! - job.truth.vehicleRefrigerantG)).toBeLessThan(10);
  });

  test('has its oil again and the allowance besides, within 2 mL', () => {
    expect(job.oil!.injectedMl).toBeCloseTo(job.oil!.drainedMl! + 15, 6);
    const density = 0.97;
    expect(Math.abs(job.truthOil.vehicleG / density - 120 / density - 15)).toBeLessThan(2);
  });

  test('vents nothing and loses no gram from sight', () => {
    expect(job.truth.ventedG).toBe(0);
    expect(Math.abs(job.truth.massDriftG)).toBeLessThan(1e-3);
  });

  test('shows the pattern of a sound air conditioning', () => {
    expect(job.performance!.verdict).toBe('as-expected');
  });
});

test('whoever takes three quarters of an hour over each question loses nothing by it', async () => {
  const job = await runScenario({
    weather: { ambientC: 22 },
    ticket: { refrigerant: 'R-134a', nominalChargeG: 600, engine: 'can-run' },
    vehicle: { chargeG: 500, oilG: 100 },
    operator: { delayS: 2700 },
  });
  expect(job.outcome).toBe('completed');
  expect(job.notices.map(({ code }) => code)).not.toContain('timed-out');
  expect(Math.abs(job.truth.vehicleRefrigerantG - 600)).toBeLessThan(5);
});
