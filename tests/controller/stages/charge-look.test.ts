// The last look at the vacuum before anything is let into a vehicle.
import { describe, expect, test } from 'vitest';
import { jobResult } from '../../../controller/result.ts';
import { openJob } from '../../../controller/scan.ts';
import { newPlant, run } from '../support/bench.ts';
import { EQUIPMENT, planFor } from '../support/machine.ts';

/** A job in which so much air comes into the vehicle as the stage begins. */
function withAir(leakCheck: boolean, airPa: number) {
  let began = false;
  let fed = false;
  const plant = newPlant({ vehicleKg: 0, airPa: 101_000 });
  const state = run(openJob(planFor({ service: 'evacuate-and-charge', leakCheck }), EQUIPMENT, 0), {
    plant,
    watch: ({ state: now, commands }) => {
      fed ||= commands.chargeValve.on && commands.highSideValve.on;
      if (began || now.stage?.stage !== (leakCheck ? 'leak-check' : 'charge')) return false;
      began = true;
      plant.airPa = airPa;
      return false;
    },
  });
  const { outcome, notices } = jobResult(state);
  return { outcome, codes: notices.map(({ code }) => code), fed, tankKg: plant.tankKg };
}

describe.each([
  { part: 'the charge', leakCheck: false },
  { part: 'the first charge of a search', leakCheck: true },
])('Before $part', ({ leakCheck }) => {
  test('a vehicle that has lost its vacuum ends the job, and nothing leaves the tank', () => {
    const job = withAir(leakCheck, 21_000);
    expect(job.codes).toContain('vacuum-gone');
    expect(job).toMatchObject({ outcome: 'stopped', fed: false, tankKg: 8 });
  });

  test('one that has NOT lost it is charged', () => {
    const job = withAir(leakCheck, 15_000);
    expect(job.codes).not.toContain('vacuum-gone');
    expect(job.fed).toBe(true);
  });
});
