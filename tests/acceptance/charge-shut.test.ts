// A charge that a hand has shut off, at the vehicle's coupler or at the tank, and the twins that stop by themselves.
import { describe, expect, test } from 'vitest';
import { gramsScenario } from '../accuracy/grams-scenario.ts';
import { runScenario } from './run-scenario.ts';

type Case = {
  readonly equipment: 'good' | 'hobby';
  readonly ambientC: number;
  readonly ports: 1 | 2;
  readonly service?: 'whole';
  readonly refrigerant?: string;
  readonly expansionDevice?: string;
};

const vehicleOf = (
  { equipment, ambientC, ports, service, refrigerant = 'R-134a', expansionDevice = 'orifice-tube' }: Case,
  fault: object,
) => ({
  seed: 4,
  equipment,
  weather: { ambientC },
  ticket: { refrigerant, nominalChargeG: 600, ports, service: service ?? 'evacuate-and-charge' },
  vehicle: { chargeG: service === 'whole' ? 450 : 0, expansionDevice },
  tank: { contentKg: 8 },
  faults: [fault],
});

/** The job, for how long the tank was heated once the charge had begun to flow, and the most that had left the tank. */
async function charged(file: unknown) {
  let heated = 0;
  let mostG = 0;
  const job = await runScenario(file, [
    ({ commands, progress }) => {
      if (progress.stage !== 'charge') return;
      mostG = Math.max(mostG, (progress.figures.phaseKg ?? 0) * 1000);
      if (commands.tankHeater.on && mostG > 5) heated += 1;
    },
  ]);
  return { job, codes: job.notices.map(({ code }) => code), heatedS: heated / 10, mostG };
}

describe('a high-side coupler left closed on a vehicle under vacuum', () => {
  test.each<Case>([
    { equipment: 'good', ports: 2, ambientC: 20 },
    { equipment: 'hobby', ports: 2, ambientC: 8 },
    { equipment: 'hobby', ports: 2, ambientC: 20, expansionDevice: 'expansion-valve' },
    { equipment: 'hobby', ports: 2, ambientC: 35 },
    // Ten bar push twelve grams a second past the low-side valve, from behind.
    { equipment: 'good', ports: 2, ambientC: 35, service: 'whole' },
    { equipment: 'good', ports: 1, ambientC: 8 },
    { equipment: 'good', ports: 1, ambientC: 35 },
    { equipment: 'hobby', ports: 1, ambientC: 20 },
  ])(
    'is named after a hose full, and nothing is heated: $equipment, $ports port(s), $ambientC °C',
    async (where) => {
      const { job, codes, heatedS, mostG } = await charged(
        vehicleOf(where, { fault: 'coupler-shut', stage: 'charge' }),
      );
      expect(codes).toContain('charge-stalled-coupler');
      expect(codes).not.toContain('charge-stalled-supply');
      expect(heatedS).toBe(0);
      expect(job.outcome).toBe('stopped');
      // Hose and manifold: 33 and 60 mL of liquid at 1270 kg/m³ at the most, and as hose volumes err.
      expect(mostG - job.truth.vehicleRefrigerantG).toBeLessThan(125);
      expect(job.truth.ventedG).toBe(0);
    },
  );

  // While the charge pauses, the full hose warms above the tank: it comes down when the valve opens again.
  test.each<Case>([
    { equipment: 'good', ports: 2, ambientC: 28 },
    { equipment: 'hobby', ports: 1, ambientC: 36 },
  ])('is named with a tank colder than the room as well: $equipment, $ports port(s)', async (where) => {
    const file = {
      ...vehicleOf(where, { fault: 'coupler-shut', stage: 'charge' }),
      tank: { contentKg: 8, temperatureC: where.ambientC - 3 },
    };
    const { job, codes } = await charged(file);
    expect(codes).toContain('charge-stalled-coupler');
    expect(codes).not.toContain('charge-stalled-supply');
    expect(job.outcome).toBe('stopped');
  });

  // Liquid that was pressed past the low-side valve boils in the vehicle: its low side rises, and the sides stay apart.
  test.each([
    { seed: 8, ambientC: 25, tankC: 25, service: 'whole', nominalChargeG: 400, chargeG: 320 },
    { seed: 2, ambientC: 35, tankC: 38, service: 'evacuate-and-charge', nominalChargeG: 850, chargeG: 0 },
  ])('is named where the low side seems to answer: seed $seed', async (where) => {
    const { seed, ambientC, tankC, service, nominalChargeG, chargeG } = where;
    const { job, codes, heatedS } = await charged({
      seed,
      weather: { ambientC },
      ticket: { refrigerant: 'R-134a', nominalChargeG, service },
      vehicle: { chargeG },
      tank: { contentKg: 8, temperatureC: tankC },
      faults: [{ fault: 'coupler-shut', stage: 'charge' }],
    });
    expect(codes).toContain('charge-stalled-coupler');
    expect(heatedS).toBe(0);
    expect(job.outcome).toBe('stopped');
  });

  test.each<Case>([
    { equipment: 'good', ports: 2, ambientC: 35, refrigerant: 'R-1234yf' },
    { equipment: 'hobby', ports: 2, ambientC: 35, refrigerant: 'R-1234yf' },
  ])('and closed since the leak check as well: $equipment', async (where) => {
    const { codes } = await charged(vehicleOf(where, { fault: 'coupler-shut', stage: 'leak-check' }));
    expect(codes).toContain('charge-stalled-coupler');
    expect(codes).not.toContain('charge-waits-heating');
  });
});

describe('a tank valve shut by hand', () => {
  const shut = (where: Case, afterS: number) =>
    charged(vehicleOf(where, { fault: 'tank-valve-shut', stage: 'charge', afterS }));

  test.each<Case & { readonly afterS: number }>([
    { equipment: 'good', ports: 2, ambientC: 20, afterS: 0 },
    { equipment: 'hobby', ports: 1, ambientC: 20, afterS: 0 },
    { equipment: 'good', ports: 2, ambientC: 20, afterS: 14 },
    { equipment: 'good', ports: 2, ambientC: 20, afterS: 40 },
    { equipment: 'good', ports: 2, ambientC: 20, afterS: 14, expansionDevice: 'expansion-valve' },
    { equipment: 'good', ports: 1, ambientC: 8, afterS: 40 },
    { equipment: 'hobby', ports: 2, ambientC: 20, afterS: 14 },
    { equipment: 'hobby', ports: 2, ambientC: 35, afterS: 40 },
  ])(
    'is what is named, though the vehicle is as warm: $equipment, $ports port(s), $ambientC °C, $afterS s',
    async ({ afterS, ...where }) => {
      const { job, codes, heatedS } = await shut(where, afterS);
      expect(codes).toContain('charge-stalled-supply');
      expect(codes).not.toContain('charge-stalled-coupler');
      expect(heatedS).toBe(0);
      expect(job.outcome).toBe('stopped');
    },
  );

  test('within the doubt of its sensors is named once heating has shown it', async () => {
    const fault = { fault: 'tank-valve-shut', stage: 'charge', afterS: 42 };
    const file = vehicleOf({ equipment: 'hobby', ports: 2, ambientC: 20 }, fault);
    const { codes } = await charged({ ...file, seed: 6 });
    expect(codes.filter((code) => code === 'charge-waits-heating')).toHaveLength(1);
    expect(codes).toContain('charge-stalled-supply');
  });
});

describe('neither is named', () => {
  // Seeds of the accuracy runs: stalls of warm vehicles, and a charge that paused in its first second.
  test.each([
    { profile: 'good', seed: 17 },
    { profile: 'hobby', seed: 7 },
  ] as const)('where nothing is shut: $profile, seed $seed', async ({ profile, seed }) => {
    const { codes, job } = await charged(gramsScenario(profile, seed));
    expect(codes).not.toContain('charge-stalled-supply');
    expect(codes).not.toContain('charge-stalled-coupler');
    expect(job.outcome).toBe('completed');
  });
});
