// What is exchanged before a job begins: the plugs of two sensors, the tank on the scale. Found before anything is recovered.
import { describe, expect, test } from 'vitest';
import { clockMs, fluidOnce, PACING } from '../../app/bench/whole-jobs.ts';
import { prepare } from '../../app/run/prepare.ts';
import { runSession } from '../../app/run/session.ts';
import { toScenario } from '../../app/scenario/scenario.ts';
import { runScenario } from './run-scenario.ts';

const WARM = {
  seed: 4,
  weather: { ambientC: 20 },
  ticket: { refrigerant: 'R-134a', nominalChargeG: 600, service: 'recover' },
  vehicle: { chargeG: 450 },
  tank: { contentKg: 8 },
};
type Job = Awaited<ReturnType<typeof runScenario>>;
const codes = (job: Job): string[] => job.notices.map(({ code }) => code);

describe('high-side and low-side sensors with their plugs exchanged', () => {
  const CASES = [
    { ambientC: 5, chargeG: 600 },
    { ambientC: 20, chargeG: 80 },
    { ambientC: 38, chargeG: 700 },
  ];
  const drawn = CASES.flatMap((one, index) =>
    ['R-134a', 'R-1234yf'].flatMap((refrigerant) =>
      ['good', 'hobby'].map((equipment) => ({ ...one, refrigerant, equipment, seed: 10 + index })),
    ),
  );
  const jobOf = ({ ambientC, chargeG, refrigerant, equipment, seed }: (typeof drawn)[number], more = {}) => ({
    ...WARM,
    seed,
    equipment,
    weather: { ambientC },
    ticket: { ...WARM.ticket, refrigerant },
    vehicle: { chargeG },
    ...more,
  });

  test.each(drawn)(
    'are found by a pulse of the high-side valve: $refrigerant, $chargeG g at $ambientC °C, $equipment',
    async (one) => {
      const job = await runScenario(jobOf(one, { faults: [{ fault: 'sensors-swapped' }] }));
      const notice = job.notices.find(({ code }) => code === 'sides-swapped')!;
      expect(notice.text).toMatch(/plugs.*exchanged/);
      expect(notice.remedy).toMatch(/Exchange the plugs/);
      expect(job.stages.at(-1)).toMatchObject({ stage: 'settle', result: 'sides-swapped' });
      expect(job.masses.recoveredG).toBeUndefined();
      expect(job.truth.tankRefrigerantG).toBeCloseTo(8000, 3);
      expect(job.truth.ventedG).toBe(0);
    },
  );

  test.each(drawn.filter((_, index) => index % 4 === 1 || index % 4 === 2))(
    'are NOT suspected where each sits in its place: $refrigerant, $chargeG g at $ambientC °C, $equipment',
    async (one) => {
      const job = await runScenario(jobOf(one));
      expect(codes(job)).not.toContain('sides-swapped');
      expect(job.masses.recoveredG).toBeGreaterThan(0);
    },
  );

  test.each(drawn.filter((_, index) => index % 4 === 1 || index % 4 === 2))(
    'are found on a vehicle with one port, where the low hose is a dead end: $refrigerant, $chargeG g at $ambientC °C, $equipment',
    async (one) => {
      const ticket = { ...WARM.ticket, refrigerant: one.refrigerant, ports: 1, service: 'recover' };
      const swapped = await runScenario(jobOf(one, { ticket, faults: [{ fault: 'sensors-swapped' }] }));
      expect(codes(swapped)).toContain('sides-swapped');
      expect(swapped.masses.recoveredG).toBeUndefined();
      expect(codes(await runScenario(jobOf(one, { ticket })))).not.toContain('sides-swapped');
    },
  );

  test.each(['high-sensor-stuck', 'coupler-shut', 'high-sensor-short', 'low-sensor-open'])(
    'are NOT what is told of %s',
    async (fault) => {
      const job = await runScenario({ ...WARM, faults: [{ fault }] });
      expect(codes(job)).not.toContain('sides-swapped');
    },
  );
});

describe('another tank on the scale', () => {
  const known = (equipment: string) => ({ profile: equipment, tankLastKg: 8 });

  test.each([
    { size: 0.8, equipment: 'good' },
    { size: 0.8, equipment: 'hobby' },
    { size: -0.8, equipment: 'good' },
    { size: -0.8, equipment: 'hobby' },
  ])(
    'whose empty mass differs by $size kg is refused before anyone is asked anything ($equipment)',
    async ({ size, equipment }) => {
      const job = await runScenario({
        ...WARM,
        equipment: known(equipment),
        faults: [{ fault: 'wrong-tank', size }],
      });
      expect(job.outcome).toBe('refused');
      expect(job.blockers.map(({ code }) => code)).toEqual(['tank-exchanged']);
      expect(job.blockers[0]!.remedy).toMatch(/label.*empty mass/);
      expect(job.stages).toEqual([]);
      expect(job.truth.vehicleRefrigerantG).toBeCloseTo(450, 3);
    },
  );

  test('is refused as well when it comes while the hoses are not yet on', async () => {
    const job = await runScenario({
      ...WARM,
      equipment: known('good'),
      faults: [{ fault: 'wrong-tank', stage: 'identify' }],
    });
    expect(codes(job)).toEqual(['tank-exchanged']);
    expect(job.stages.at(-1)).toMatchObject({ stage: 'settle' });
    expect(job.truth.vehicleRefrigerantG).toBeCloseTo(450, 3);
  });

  test.each([1, 2, 3, 4, 5, 6])(
    'is NOT suspected of a scale that has drifted since, cold or warm (seed %i)',
    async (seed) => {
      for (const [profile, ambientC] of [
        ['good', 8],
        ['hobby', 32],
      ] as const) {
        const weather = { ambientC };
        const job = await runScenario({ ...WARM, seed, weather, equipment: known(profile) });
        expect(job.blockers).toEqual([]);
      }
    },
  );

  test('of another refrigerant is refused by its label, whatever it weighs', async () => {
    const job = await runScenario({
      ...WARM,
      ticket: { ...WARM.ticket, refrigerant: 'R-1234yf' },
      tank: { ...WARM.tank, refrigerant: 'R-134a' },
      vehicle: { ...WARM.vehicle, refrigerant: 'R-134a' },
      operator: { identifierRefrigerant: 'R-1234yf' },
    });
    expect(job.outcome).toBe('refused');
    expect(job.blockers.map(({ code }) => code)).toEqual(['tank-refrigerant-differs']);
  });

  /** R-134a stands on the scale, and the machine was told that it is R-1234yf. */
  async function mislabelled(tankLastKg?: number) {
    const scenario = toScenario(
      {
        ...WARM,
        weather: { ambientC: 5 },
        ticket: { ...WARM.ticket, refrigerant: 'R-1234yf' },
        tank: { ...WARM.tank, refrigerant: 'R-134a' },
        vehicle: { ...WARM.vehicle, refrigerant: 'R-134a' },
        operator: { identifierRefrigerant: 'R-1234yf' },
        faults: [{ fault: 'wrong-tank', size: 0.8 }],
      },
      'the test',
    );
    const session = prepare(scenario, 'the test', fluidOnce, clockMs);
    const { curve, equipment } = session;
    const tank = {
      ...equipment.tank,
      refrigerant: 'R-1234yf',
      ...(tankLastKg === undefined ? {} : { lastNetKg: tankLastKg }),
    };
    return runSession(
      { ...session, tankCurve: curve, equipment: { ...equipment, tank } },
      { observers: [], pacing: PACING },
    );
  }

  test('of another refrigerant under a wrong label is refused by its mass', async () => {
    const facts = await mislabelled(8);
    expect(facts.blockers.map(({ code }) => code)).toContain('tank-exchanged');
  });

  test('of R-134a under the label R-1234yf is NOT seen by pressure and temperature: the two stand within 25 kPa of each other', async () => {
    expect((await mislabelled()).outcome).not.toBe('refused');
  });
});
