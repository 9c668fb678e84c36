// A way to the room stands open while the compressor draws: the tank shows by its weight that what arrives is air.
import { describe, expect, test } from 'vitest';
import { runScenario } from './run-scenario.ts';

type Job = Awaited<ReturnType<typeof runScenario>>;
const trips = ({ notices }: Job): readonly string[] =>
  notices.filter(({ code }) => code === 'tripped').map(({ text }) => text);

const filling = (more: object) =>
  runScenario({
    seed: 4,
    weather: { ambientC: 20 },
    ticket: { service: 'fill-tank', refrigerant: 'R-134a', fillKg: 0.2, cylinderKg: 12 },
    cylinder: { contentKg: 12 },
    tank: { contentKg: 8 },
    ...more,
  });

describe.each(['good', 'hobby'])('Air that is drawn in past a valve (%s)', (equipment) => {
  test.each([
    { fault: 'vacuum-valve-stuck-open', stage: 'fill', afterS: 250 },
    { fault: 'relay-welded', output: 'dyeValve', stage: 'fill', afterS: 250 },
  ])('is stopped before 10 g of air are in the tank: $fault', async (fault) => {
    const job = await filling({ equipment, faults: [fault] });
    expect(trips(job).join()).toContain('IL-17 tripped: air-suspected');
    expect(job.truth.tankAirG).toBeGreaterThan(5);
    expect(job.truth.tankAirG).toBeLessThan(10);
  });

  test.each([
    { ambientC: 42, contentKg: 14, refrigerant: 'R-134a' },
    { ambientC: 42, contentKg: 2, refrigerant: 'R-1234yf' },
    { ambientC: 2, contentKg: 0.5, refrigerant: 'R-134a' },
  ])(
    '$refrigerant into a tank of $contentKg kg at $ambientC °C, hot or cold, full or almost empty is NOT air',
    async (c) => {
      const job = await runScenario({
        seed: 7,
        equipment,
        weather: { ambientC: c.ambientC },
        ticket: { service: 'recover', refrigerant: c.refrigerant, nominalChargeG: 500 },
        vehicle: { chargeG: 300 },
        tank: { contentKg: c.contentKg },
      });
      expect(job.outcome).toBe('completed');
      expect(trips(job)).toEqual([]);
    },
  );
});
