// A pressure sensor whose wire breaks under vacuum: its reading becomes unknown, and nobody takes it for a deep vacuum.
import { describe, expect, test } from 'vitest';
import { runScenario } from './run-scenario.ts';

const JOB = {
  seed: 4,
  weather: { ambientC: 20 },
  ticket: { refrigerant: 'R-134a', nominalChargeG: 300, service: 'evacuate-and-charge' },
  vehicle: { chargeG: 0, volumeL: 1.5 },
  tank: { contentKg: 8 },
};
type Job = Awaited<ReturnType<typeof runScenario>>;
const results = (job: Job, stage: string): unknown[] =>
  job.stages.filter((visit) => visit.stage === stage).map(({ result }) => result);

describe('the low-side sensor open in the evacuation', () => {
  test.each([
    { equipment: 'good', afterS: 5 },
    { equipment: 'good', afterS: 600 },
    { equipment: 'hobby', afterS: 60 },
  ])(
    'after $afterS s ($equipment) is shown as unknown, and decides nothing: neither sooner nor better a vacuum',
    async ({ equipment, afterS }) => {
      let least = Number.POSITIVE_INFINITY;
      let unread = 0;
      const calm = await runScenario({ ...JOB, equipment });
      const job = await runScenario(
        {
          ...JOB,
          equipment,
          faults: [{ fault: 'low-sensor-open', stage: 'evacuate', afterS }],
        },
        [
          ({ readings: { lowSidePressurePa: low }, progress }) => {
            if (low.ok) least = Math.min(least, low.value);
            else if (low.reason === 'open-circuit') unread++;
            if (!low.ok) expect(progress.figures.lowSidePa).toBeUndefined();
          },
        ],
      );
      expect(unread).toBeGreaterThan(1000);
      // A transducer of 11 bar span that is off by three times 1 % never shows a quarter of a bar below nothing.
      expect(least).toBeGreaterThan(-40_000);
      expect(job.evacuation!.minutes).toBeGreaterThanOrEqual(calm.evacuation!.minutes - 0.1);
      expect(job.evacuation!.lowestPa).toBeGreaterThan(0.5 * calm.evacuation!.lowestPa);
      expect(job.truth.ventedG).toBe(0);
    },
  );
});

describe('the absolute sensor open in the evacuation', () => {
  test.each([
    { equipment: 'good', afterS: 2 },
    { equipment: 'good', afterS: 300 },
    { equipment: 'hobby', afterS: 2 },
    { equipment: 'hobby', afterS: 300 },
  ])(
    'after $afterS s ($equipment): the pump is shut off from the vehicle, and no vacuum is claimed',
    async ({ equipment, afterS }) => {
      let openScans = 0;
      let blindScans = 0;
      const job = await runScenario(
        { ...JOB, equipment, faults: [{ fault: 'manifold-sensor-open', stage: 'evacuate', afterS }] },
        [
          ({ readings, commands }) => {
            if (readings.manifoldPressurePa.ok || readings.manifoldPressurePa.reason !== 'open-circuit')
              return;
            blindScans++;
            if (commands.vacuumValve.on) openScans++;
          },
        ],
      );
      expect(blindScans).toBeGreaterThan(100);
      expect(openScans).toBe(0);
      expect(job.outcome).toBe('stopped');
      expect(results(job, 'evacuate')).not.toContain('vacuum-reached');
      expect(results(job, 'charge')).toEqual([]);
      const told = job.notices.map(({ text, remedy }) => `${text} ${remedy}`).join(' ');
      expect(told).toMatch(/absolute pressure of the manifold/);
      expect(job.truth.ventedG).toBe(0);
    },
  );

  test('for two seconds only is waited for, and does NOT end the evacuation', async () => {
    const job = await runScenario({
      ...JOB,
      faults: [{ fault: 'manifold-sensor-open', stage: 'evacuate', afterS: 300, forS: 2 }],
    });
    expect(results(job, 'evacuate')).toEqual(['vacuum-reached']);
    expect(job.outcome).toBe('completed');
  });
});
