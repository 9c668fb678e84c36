// Whole jobs that must end otherwise than in a charged vehicle, and the twins that must not.
import { describe, expect, test } from 'vitest';
import { runScenario } from './run-scenario.ts';

const WARM = {
  seed: 4,
  weather: { ambientC: 20 },
  ticket: { refrigerant: 'R-134a', nominalChargeG: 600 },
  vehicle: { chargeG: 450 },
  tank: { contentKg: 8 },
};

const codes = (job: Awaited<ReturnType<typeof runScenario>>) => job.notices.map(({ code }) => code);

/** Nothing was vented, and every gram is somewhere. */
function clean(job: Awaited<ReturnType<typeof runScenario>>): void {
  expect(job.truth.ventedG).toBe(0);
  expect(Math.abs(job.truth.massDriftG)).toBeLessThan(1e-3);
}

describe('before a valve opens', () => {
  test.each([
    { what: 'a tank without room', tank: { contentKg: 16.5 }, weather: WARM.weather, code: 'tank-too-full' },
    {
      what: 'a tank without reserve',
      tank: { contentKg: 1.2 },
      weather: WARM.weather,
      code: 'tank-too-empty',
    },
    {
      what: 'a hot tank that would keep a kilogram, but hardly any of it liquid',
      tank: { contentKg: 1.75 },
      weather: { ambientC: 35 },
      code: 'tank-too-empty',
    },
    {
      what: 'a tank full of air above its liquid',
      tank: { contentKg: 8, airG: 60 },
      weather: WARM.weather,
      code: 'air-in-tank',
    },
  ])(
    '$what is refused, with its remedy, before anyone is asked anything',
    async ({ tank, weather, code }) => {
      const job = await runScenario({ ...WARM, tank, weather });
      expect(job.outcome).toBe('refused');
      expect(job.blockers.map((blocker) => blocker.code)).toEqual([code]);
      expect(job.blockers[0]!.remedy).not.toBe('');
      expect(job.stages).toEqual([]);
      expect(job.truth.pumpExhaustG).toBe(0);
      expect(job.truth.vehicleRefrigerantG).toBeGreaterThan(449);
      clean(job);
    },
  );

  test('a cold in which full and empty read the same stops the job', async () => {
    const job = await runScenario({ ...WARM, weather: { ambientC: -29 } });
    expect(job.outcome).toBe('stopped');
    expect(codes(job)).toContain('vehicle-too-cold');
    expect(job.truth.pumpExhaustG).toBe(0);
    expect(job.truth.vehicleRefrigerantG).toBeGreaterThan(449);
    clean(job);
  });

  test('a tank with room, reserve and a trace of air does NOT stop it', async () => {
    const job = await runScenario({ ...WARM, tank: { contentKg: 8, airG: 3 } });
    expect(job.outcome).toBe('completed');
    clean(job);
  });
});

describe('the reserve of the dip tube', () => {
  test.each([
    { contentKg: 1.75, ambientC: 20 },
    { contentKg: 2.2, ambientC: 35 },
  ])('$contentKg kg at $ambientC °C do NOT stop a charge of 600 g', async ({ contentKg, ambientC }) => {
    const job = await runScenario({ ...WARM, weather: { ambientC }, tank: { contentKg } });
    expect(codes(job)).not.toContain('tank-too-empty');
    expect(codes(job)).not.toContain('held-by-interlock');
    expect(job.outcome).toBe('completed');
    clean(job);
  });

  test('what is missing, and what to do, is told before a valve opens', async () => {
    const job = await runScenario({ ...WARM, weather: { ambientC: 35 }, tank: { contentKg: 1.75 } });
    const notice = job.blockers.find(({ code }) => code === 'tank-too-empty')!;
    const [net, liquid, charge, reserve, missing] = [...notice.text.matchAll(/(\d\.\d\d) kg/g)].map(
      ([, kg]) => Number(kg),
    ) as [number, number, number, number, number];
    expect(net).toBeCloseTo(1.75, 1);
    // A gram more in the tank is nearly a gram more of liquid: it takes the room of a little vapour.
    expect(Math.abs(charge + reserve - liquid - missing)).toBeLessThan(0.07);
    expect(missing).toBeGreaterThan(0.2);
    expect(notice.remedy).toMatch(/fuller tank.*cylinder/);
  });
});

describe('a hole of 0.3 mm', () => {
  test('is found by the first hold, and nothing is charged', async () => {
    const job = await runScenario({ ...WARM, vehicle: { ...WARM.vehicle, chargeG: 0, holeMm: 0.3 } });
    expect(codes(job)).toContain('vacuum-lost');
    expect(job.hold!.verdict).toBe('leak');
    expect(job.outcome).toBe('stopped');
    expect(job.stages.filter(({ stage }) => stage === 'hold')).toHaveLength(1);
    expect(job.stages.map(({ stage }) => stage)).not.toContain('charge');
    expect(job.truth.vehicleRefrigerantG).toBeLessThan(5);
    expect(job.truth.tankAirG).toBeLessThan(0.5);
  });

  test.each([
    { holeMm: 0.1, profile: 'good', ambientC: 20, volumeL: 2.5 },
    { holeMm: 0.15, profile: 'hobby', ambientC: 31, volumeL: 4.4 },
    { holeMm: 0.2, profile: 'good', ambientC: 9, volumeL: 3.3 },
    { holeMm: 0.2, profile: 'hobby', ambientC: 10, volumeL: 3.2 },
    { holeMm: 0.25, profile: 'good', ambientC: 35, volumeL: 1.8 },
  ])(
    'nor is one of $holeMm mm taken for something that is given off ($profile, $ambientC °C, $volumeL L)',
    async ({ holeMm, profile, ambientC, volumeL }) => {
      const job = await runScenario({
        ...WARM,
        weather: { ambientC },
        equipment: profile,
        vehicle: { chargeG: 0, holeMm, volumeL },
      });
      expect(job.hold!.verdict).toBe('leak');
      expect(job.outcome).toBe('stopped');
      for (const code of ['hold-outgassed', 'hold-outgassing-persists', 'hold-water'])
        expect(codes(job)).not.toContain(code);
      expect(job.stages.map(({ stage }) => stage)).not.toContain('charge');
    },
  );

  test('stops a recovery that draws air in through it, once the tank shows the air', async () => {
    const job = await runScenario({ ...WARM, vehicle: { ...WARM.vehicle, chargeG: 50, holeMm: 0.3 } });
    expect(codes(job)).toContain('air-drawn-in');
    expect(job.outcome).toBe('stopped');
    expect(job.stages.map(({ stage }) => stage)).not.toContain('evacuate');
    expect(job.truth.tankAirG).toBeLessThan(15);
  });

  test.each([
    { what: 'cold, with trapped liquid', weather: { ambientC: 5 }, vehicle: { chargeG: 600 } },
    { what: 'warm, with much oil', weather: { ambientC: 35 }, vehicle: { chargeG: 600, oilG: 180 } },
    { what: 'hot, into a cold tank', weather: { ambientC: 38 }, vehicle: { chargeG: 800, volumeL: 3.5 } },
  ])('is NOT suspected in a sound vehicle: $what', async ({ weather, vehicle }) => {
    const job = await runScenario({ ...WARM, weather, vehicle });
    expect(codes(job)).not.toContain('air-drawn-in');
  });

  test('is found without a barometer as well', async () => {
    const job = await runScenario({
      ...WARM,
      weather: { ...WARM.weather, barometerPa: 79_500 },
      vehicle: { ...WARM.vehicle, chargeG: 0, holeMm: 0.3 },
      equipment: 'hobby',
    });
    expect(job.hold!.verdict).toBe('leak');
    expect(job.outcome).toBe('stopped');
  });
});

describe('leaks', () => {
  const leaking = (leakGPerYear: number) =>
    runScenario({ ...WARM, vehicle: { ...WARM.vehicle, leakGPerYear } });

  test('a gross leak is found by the hold, and the vehicle is not charged', async () => {
    const job = await leaking(50_000);
    expect(job.hold!.verdict).toBe('leak');
    expect(job.outcome).toBe('stopped');
    expect(job.truth.vehicleRefrigerantG).toBeLessThan(5);
    clean(job);
  });

  test('a leak far below the stated limit is NOT called one, and the limit is stated', async () => {
    const job = await leaking(40);
    expect(job.hold!.verdict).toBe('tight');
    expect(job.hold!.detectionLimitGPerYear).toBeGreaterThan(40);
    clean(job);
  });
});

test('a vehicle full of air is never recovered into the tank', async () => {
  const job = await runScenario({ ...WARM, vehicle: { chargeG: 0 } });
  expect(codes(job)).toContain('vehicle-empty');
  expect(job.stages.map(({ stage }) => stage)).not.toContain('recover');
  expect(job.truth.tankAirG).toBeLessThan(0.01);
  clean(job);
});

test.each(['R-134a', 'R-1234yf'])(
  '%s in a one-port vehicle with an expansion valve is served',
  async (refrigerant) => {
    const job = await runScenario({
      ...WARM,
      ticket: { refrigerant, nominalChargeG: 500, ports: 1 },
      vehicle: { chargeG: 450, expansionDevice: 'expansion-valve' },
    });
    expect(job.outcome).toBe('completed');
    expect(Math.abs(job.truth.vehicleRefrigerantG - 500)).toBeLessThan(15);
    clean(job);
  },
);

test('without a vacuum sensor at the vehicle no better vacuum is claimed than the manifold sensor can tell', async () => {
  for (const seed of [1, 2, 3, 4]) {
    const job = await runScenario({ ...WARM, seed, equipment: 'hobby' });
    // One standard deviation of the profile's absolute sensor.
    expect(job.evacuation!.lowestPa).toBeGreaterThanOrEqual(400);
    expect(job.hold!.plateauPa).toBeGreaterThanOrEqual(400);
  }
});

test('a vehicle still hot from the road loses nothing between vehicle, tank and ledger', async () => {
  const job = await runScenario({
    ...WARM,
    ticket: { ...WARM.ticket, service: 'recover' },
    vehicle: { chargeG: 550, temperatureC: 60 },
  });
  const taken = 550 - job.truth.vehicleRefrigerantG;
  expect(Math.abs(job.masses.recoveredG! - taken)).toBeLessThan(10);
  clean(job);
});
