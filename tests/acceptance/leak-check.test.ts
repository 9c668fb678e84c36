// Whole jobs with a pressurised leak check on the simulated bench: what a detector finds, and what it must not.
import { describe, expect, test } from 'vitest';
import { runScenario } from './run-scenario.ts';

const A2L = {
  seed: 4,
  weather: { ambientC: 22 },
  ticket: { refrigerant: 'R-1234yf', nominalChargeG: 550 },
  vehicle: { chargeG: 450, oilG: 100 },
  tank: { contentKg: 8 },
};

type Job = Awaited<ReturnType<typeof runScenario>>;
const codes = (job: Job) => job.notices.map(({ code }) => code);
const stages = (job: Job) => job.stages.map(({ stage }) => stage);

function clean(job: Job): void {
  expect(job.truth.ventedG).toBeLessThan(1);
  expect(Math.abs(job.truth.massDriftG)).toBeLessThan(1e-3);
}

describe.each(['good', 'hobby'])('with equipment %s', (equipment) => {
  test('a tight vehicle is charged as exactly as without the check', async () => {
    const job = await runScenario({ ...A2L, equipment });
    expect(job.outcome).toBe('completed');
    expect(stages(job)).toContain('leak-check');
    expect(job.leakCheck).toMatchObject({ found: false });
    expect(Math.abs(job.truth.vehicleRefrigerantG - 550)).toBeLessThan(equipment === 'good' ? 8 : 15);
    const { admittedG } = job.leakCheck!;
    expect(admittedG! / 550).toBeGreaterThan(0.1);
    expect(admittedG! / 550).toBeLessThan(0.15);
    clean(job);
  });

  test('a leak that the hold cannot see is found, nothing more is charged, and what was let in comes back', async () => {
    const job = await runScenario({ ...A2L, equipment, vehicle: { ...A2L.vehicle, leakGPerYear: 60 } });
    expect(job.leakCheck).toMatchObject({ found: true });
    expect(job.outcome).toBe('stopped');
    expect(stages(job)).not.toContain('charge');
    expect(codes(job)).toContain('search-found');
    expect(job.truth.vehicleRefrigerantG).toBeLessThan(15);
    expect(job.masses.returnedG!).toBeGreaterThan(40);
    // The account of the vehicle's own charge is not mixed with it.
    expect(Math.abs(job.masses.recoveredG! - 450)).toBeLessThan(20);
    clean(job);
  });
});

test('a leak below what a detector smells at that pressure is NOT found', async () => {
  const job = await runScenario({ ...A2L, vehicle: { ...A2L.vehicle, leakGPerYear: 1 } });
  expect(job.leakCheck).toMatchObject({ found: false });
  expect(job.outcome).toBe('completed');
});

test.each([
  ['cannot-run', 6],
  ['can-run', 8],
])('a whole job with a check and an engine that %s asks at most %i questions', async (engine, most) => {
  const asked = new Set<number>();
  await runScenario({ ...A2L, ticket: { ...A2L.ticket, engine } }, [
    ({ progress }) => {
      if (progress.prompt !== undefined) asked.add(progress.prompt.askedAtMs);
    },
  ]);
  expect(asked.size).toBeLessThanOrEqual(most);
});

describe('the service leak-check', () => {
  const ticket = { refrigerant: 'R-134a', nominalChargeG: 550, service: 'leak-check' };
  const check = (vehicle: object) => runScenario({ ...A2L, ticket, vehicle });

  test('searches what is under pressure as it stands, and leaves it there', async () => {
    for (const leakGPerYear of [0, 60]) {
      const job = await check({ chargeG: 300, leakGPerYear });
      expect(job.outcome).toBe('completed');
      expect(job.leakCheck).toEqual(expect.objectContaining({ found: leakGPerYear > 0 }));
      expect(job.leakCheck!.watch!.said).toBe('saturated');
      expect(job.truth.pumpExhaustG).toBe(0);
      expect(job.truth.vehicleRefrigerantG).toBeGreaterThan(285);
      clean(job);
    }
  });

  test('evacuates an empty one, holds, lets in a part, and takes it back', async () => {
    for (const leakGPerYear of [0, 60]) {
      const job = await check({ chargeG: 0, leakGPerYear });
      expect(job.outcome).toBe('completed');
      expect(job.hold!.verdict).toBe('tight');
      expect(job.leakCheck).toMatchObject({ found: leakGPerYear > 0 });
      expect(job.truth.vehicleRefrigerantG).toBeLessThan(8);
      expect(job.masses.netChargeG).toBeUndefined();
      clean(job);
    }
  });

  test('lets nothing into a vehicle with a hole', async () => {
    const job = await check({ chargeG: 0, holeMm: 0.3 });
    expect(stages(job)).not.toContain('leak-check');
    expect(job.truth.leakedG).toBeLessThan(1);
  });
});
