// A job that ends on its way says what the tank has given or gained since its last weighing, and what must come next.
import { describe, expect, test } from 'vitest';
import { runScenario } from './run-scenario.ts';

const file = (equipment: string, fault: object) => ({
  seed: 3,
  equipment,
  ticket: { refrigerant: 'R-134a', nominalChargeG: 500 },
  vehicle: { chargeG: 350, volumeL: 2, oilG: 60 },
  tank: { contentKg: 8 },
  faults: [fault],
});

describe.each(['good', 'hobby'])(
  'A job of a %s machine that nobody goes on with after an emergency stop',
  (equipment) => {
    test.each([
      { stage: 'recover', afterS: 240, next: 'recover-again' },
      { stage: 'charge', afterS: 25, next: 'draw-hoses-back' },
    ])('in $stage says what has moved, within its doubt', async ({ stage, afterS, next }) => {
      const job = await runScenario(file(equipment, { fault: 'emergency-stop', stage, afterS, forS: 5 }));
      expect(job.outcome).toBe('stopped');
      const { tankGainG, uncertaintyG, vehicle } = job.afterStop!;
      expect(job.afterStop!.next).toBe(next);
      expect(Math.abs(tankGainG!)).toBeGreaterThan(30);
      // The charge is weighed against the tank as it stood before it, the recovery against the first weighing.
      const { startG, endG } =
        stage === 'charge'
          ? await beforeCharge(equipment, job)
          : { startG: 8000, endG: job.truth.tankRefrigerantG };
      expect(Math.abs(tankGainG! - (endG - startG))).toBeLessThan(Math.max(uncertaintyG!, 5));
      if (vehicle !== undefined) {
        expect(job.truth.vehicleRefrigerantG).toBeGreaterThan(vehicle.leastG);
        expect(job.truth.vehicleRefrigerantG).toBeLessThan(vehicle.mostG);
      }
    });
  },
);

/** What the tank really held when the charge began: that of the same job stopped before anything flowed. */
async function beforeCharge(
  equipment: string,
  job: { readonly truth: { readonly tankRefrigerantG: number } },
) {
  const before = await runScenario(
    file(equipment, { fault: 'emergency-stop', stage: 'charge', afterS: 0.1, forS: 5 }),
  );
  return { startG: before.truth.tankRefrigerantG, endG: job.truth.tankRefrigerantG };
}

describe('Nothing of it is said', () => {
  test('of a job that is completed, or stopped with everything weighed', async () => {
    const whole = await runScenario({ ...file('good', { fault: 'fan-stopped', forS: 1 }) });
    expect(whole.outcome).toBe('completed');
    expect(whole.afterStop).toBeUndefined();
    const hole = { ...file('good', { fault: 'fan-stopped', forS: 1 }), vehicle: { chargeG: 0, holeMm: 0.3 } };
    const leak = await runScenario({ ...hole, ticket: { ...hole.ticket, service: 'evacuate-and-charge' } });
    expect(leak.outcome).toBe('stopped');
    expect(leak.afterStop).toBeUndefined();
  });
});
