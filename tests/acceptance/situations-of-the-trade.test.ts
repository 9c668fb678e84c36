// Situations that instructors teach: wet and outgassing vehicles, hands on the cart, thin air, dry bottles, failing mains.
import { describe, expect, test } from 'vitest';
import { lookAfterCut } from '../../app/run/after-cut.ts';
import { VALVES_SHUT_MS } from '../../app/run/session.ts';
import { type JobResult, jobResult } from '../../controller/result.ts';
import type { Truth } from '../../sim/spec.ts';
import { SteppedJob, sessionOf } from '../properties/job.ts';
import { runScenario } from './run-scenario.ts';

const WARM = {
  seed: 4,
  weather: { ambientC: 20 },
  ticket: { refrigerant: 'R-134a', nominalChargeG: 600 },
  vehicle: { chargeG: 450 },
  tank: { contentKg: 8 },
};
const EMPTY = {
  ...WARM,
  ticket: { ...WARM.ticket, service: 'evacuate-and-charge' },
  vehicle: { chargeG: 0 },
};
type Job = Awaited<ReturnType<typeof runScenario>>;
const codes = (job: Job): string[] => job.notices.map(({ code }) => code);
const results = (job: Job, stage: string): string[] =>
  job.stages.filter((visit) => visit.stage === stage).map(({ result }) => String(result));

describe('8 g of refrigerant in 120 g of PAG, in a vehicle that is dry and tight', () => {
  test.each(['good', 'hobby'])(
    'are told as outgassing of the oil and never as a leak (%s)',
    async (equipment) => {
      const vehicle = { chargeG: 12, oilG: 120, airG: 0 };
      const job = await runScenario({ ...EMPTY, vehicle, equipment });
      expect(job.hold!.verdict).toBe('outgassing');
      expect(job.hold!.cause).toBe('oil');
      for (const code of ['leak-suspected', 'leak-found', 'vacuum-lost'])
        expect(codes(job)).not.toContain(code);
      expect(results(job, 'charge')).toEqual(['charged']);
    },
  );
});

describe('5 g of water in an evaporator at 8 °C', () => {
  const wet = { ...EMPTY, weather: { ambientC: 8 }, ticket: { ...EMPTY.ticket, opened: true } };

  test('are seen boiling at their plateau, with the advice to warm, and the vehicle is pumped until they are gone', async () => {
    const atS: number[] = [];
    const job = await runScenario({ ...wet, vehicle: { chargeG: 0, waterG: 5 } }, [
      ({ progress, readings, nowMs }) => {
        const { manifoldPressurePa: at } = readings;
        // Vapour pressure of water from 0 to 9 °C: 6.1 to 11.5 mbar (IAPWS).
        if (progress.stage === 'evacuate' && at.ok && at.value > 400 && at.value < 1150)
          atS.push(nowMs / 1000);
      },
    ]);
    expect(atS.at(-1)! - atS[0]!).toBeGreaterThan(120);
    const advice = job.notices.find(({ code }) => code === 'water-boils')!;
    expect(advice.remedy).toMatch(/warm/i);
    expect(job.evacuation!.minutes).toBeGreaterThanOrEqual(45);
    expect(job.truth.vehicleWaterG).toBeLessThan(0.5);
    expect(codes(job)).not.toContain('leak-found');
  });

  test('and a dry vehicle on the same day is NOT said to boil', async () => {
    expect(codes(await runScenario(wet))).not.toContain('water-boils');
  });
});

describe('someone leans on the cart for eight seconds while it charges', () => {
  test.each([60, 90, 120])('%d s after its start: none of the 3 kg is booked', async (afterS) => {
    const job = await runScenario({
      ...EMPTY,
      faults: [{ fault: 'scale-leaned-on', stage: 'charge', afterS, forS: 8, size: 3 }],
    });
    expect(job.outcome).toBe('completed');
    expect(Math.abs(job.truth.vehicleRefrigerantG - 600)).toBeLessThan(8);
    expect(Math.abs(job.masses.netChargeG! - job.truth.vehicleRefrigerantG)).toBeLessThan(
      job.masses.uncertaintyG!,
    );
  });

  test('widens what is stated for the charge', async () => {
    const leaned = await runScenario({
      ...EMPTY,
      faults: [{ fault: 'scale-leaned-on', stage: 'charge', afterS: 60, forS: 8, size: 3 }],
    });
    expect(leaned.masses.uncertaintyG).toBeGreaterThan((await runScenario(EMPTY)).masses.uncertaintyG!);
  });
});

describe('a scale that creeps by 8 g of 500 within half an hour, and is known to', () => {
  test.each([
    { creep: 0.016, drift: 0.001 },
    { creep: -0.016, drift: -0.001 },
  ])('states an uncertainty that holds its error: creep $creep', async ({ creep, drift }) => {
    const build = { scaleCreepFraction: creep, scaleDriftKgPerK: drift };
    const job = await runScenario({ ...EMPTY, build }, [], (equipment) => ({
      ...equipment,
      scale: { ...equipment.scale, creepSd: 0.008 },
    }));
    const error = Math.abs(job.masses.netChargeG! - job.truth.vehicleRefrigerantG);
    expect(error).toBeLessThan(job.masses.uncertaintyG!);
    expect(job.masses.uncertaintyG).toBeLessThan(15);
  });
});

describe('a scale that creeps by 8 g of 500 within half an hour and warms in its cabinet, and nobody knows', () => {
  test.each(
    ['good', 'hobby'].flatMap((equipment) =>
      [1, -1].flatMap((sign) =>
        // Of 320 such jobs (seeds 1 to 40) the noise hides it in three, all hobby: stated 3 to 6 g, error 6 to 10 g.
        ['cannot-run', 'can-run'].map((engine, i) => ({ equipment, sign, engine, seed: 4 + i })),
      ),
    ),
  )(
    'is seen to move after the charge, and what is stated holds its error: $equipment, $sign, engine $engine',
    async ({ equipment, sign, engine, seed }) => {
      const job = await runScenario({
        ...EMPTY,
        seed,
        equipment,
        ticket: { ...EMPTY.ticket, engine },
        // One standard deviation of the drift of its class, the way the creep goes.
        build: {
          scaleCreepFraction: sign * 0.016,
          scaleDriftKgPerK: sign * (equipment === 'good' ? 0.001 : 0.003),
        },
        operator: { delayS: 20 },
      });
      expect(job.outcome).toBe('completed');
      const error = Math.abs(job.masses.netChargeG! - job.truth.vehicleRefrigerantG);
      expect(error).toBeLessThan(job.masses.uncertaintyG!);
      expect(job.masses.uncertaintyG).toBeLessThan(25);
    },
  );
});

test.each([
  { refrigerant: 'R-134a', chargeG: 1100, ambientC: 12, seed: 11 },
  { refrigerant: 'R-134a', chargeG: 960, ambientC: 25, seed: 3 },
  { refrigerant: 'R-1234yf', chargeG: 1180, ambientC: 32, seed: 5 },
  { refrigerant: 'R-134a', chargeG: 1160, ambientC: 26, seed: 7 },
])(
  'a scale that creeps so after a large charge accuses no valve: $refrigerant, $chargeG g at $ambientC °C',
  async ({ refrigerant, chargeG, ambientC, seed }) => {
    const job = await runScenario({
      ...EMPTY,
      seed,
      weather: { ambientC },
      ticket: { ...EMPTY.ticket, refrigerant, nominalChargeG: chargeG },
      vehicle: { chargeG: 0, volumeL: 4.2 },
      build: { scaleCreepFraction: 0.016, scaleDriftKgPerK: 0.001 },
    });
    expect(codes(job)).not.toContain('tripped');
    expect(job.outcome).toBe('completed');
    expect(Math.abs(job.truth.vehicleRefrigerantG - chargeG)).toBeLessThan(30);
  },
);

test('what a manifold drawn for the proof of its charge valve gives back is not counted as kept, when it is given once more', async () => {
  const job = await runScenario({
    ...EMPTY,
    seed: 11,
    equipment: 'hobby',
    ticket: { ...EMPTY.ticket, engine: 'can-run' },
    build: { scaleCreepFraction: 0.016, scaleDriftKgPerK: 0.003 },
    operator: { delayS: 20 },
  });
  expect(codes(job)).toContain('charge-valve-doubted');
  expect(Math.abs(job.masses.netChargeG! - job.truth.vehicleRefrigerantG)).toBeLessThan(10);
});

describe('a tank valve shut by hand', () => {
  test('during a recovery: the compressor is cut, nothing is vented, and the cause is named', async () => {
    const job = await runScenario({
      ...WARM,
      ticket: { ...WARM.ticket, service: 'recover' },
      faults: [{ fault: 'tank-valve-shut', stage: 'recover', afterS: 70 }],
    });
    expect(job.notices.find(({ code }) => code === 'tripped')!.text).toMatch(/valve is shut by hand/);
    expect(job.outcome).toBe('stopped');
    expect(job.truth.ventedG).toBe(0);
  });

  test('during the charge of a cold vehicle: the supply is named as what stopped it', async () => {
    const job = await runScenario({
      ...EMPTY,
      weather: { ambientC: 8 },
      tank: { contentKg: 8, temperatureC: 20 },
      faults: [{ fault: 'tank-valve-shut', stage: 'charge', afterS: 20 }],
    });
    expect(codes(job)).toContain('charge-stalled-supply');
    expect(job.outcome).toBe('stopped');
  });
});

test('a high coupler that stays closed: no more leaves the tank than hose and manifold hold, and no charge is claimed', async () => {
  const job = await runScenario({ ...EMPTY, faults: [{ fault: 'coupler-shut', stage: 'charge' }] });
  expect(job.outcome).toBe('stopped');
  expect(codes(job)).toContain('charge-fell-short');
  // 33 and 60 mL of liquid at 1225 kg/m³, and what a valve lets back at five bar.
  expect(8000 - job.truth.tankRefrigerantG).toBeLessThan(130);
  expect(job.truth.vehicleRefrigerantG).toBeLessThan(30);
});

test.each(['good', 'hobby'])('at 2000 m the vacuum is judged as at the sea (%s)', async (profile) => {
  const weather = { ambientC: 20, barometerPa: 79_500 };
  const job = await runScenario({ ...EMPTY, weather, equipment: { profile, altitudeM: 2000 } });
  expect(results(job, 'evacuate')).toEqual(['vacuum-reached']);
  expect(job.hold!.verdict).toBe('tight');
  expect(job.outcome).toBe('completed');
  const holed = await runScenario({
    ...EMPTY,
    weather,
    vehicle: { chargeG: 0, holeMm: 0.3 },
    equipment: { profile, altitudeM: 2000 },
  });
  expect(holed.hold?.verdict ?? 'none').not.toBe('tight');
  expect(holed.outcome).toBe('stopped');
});

test('an oil bottle that runs dry lets air in: it is noticed, and the vehicle is evacuated and held again', async () => {
  const job = await runScenario({
    ...WARM,
    ticket: { ...WARM.ticket, oil: { addMl: 20 } },
    vehicle: { chargeG: 450, oilG: 120 },
    faults: [{ fault: 'oil-bottle-empty', stage: 'add-oil', afterS: 0.5, forS: 60 }],
  });
  expect(codes(job)).toContain('oil-bottle-empty');
  expect(results(job, 'add-oil')).toEqual(['air-drawn-in', 'oil-added']);
  expect(job.stages.filter(({ stage }) => stage === 'evacuate')).toHaveLength(2);
  expect(job.outcome).toBe('completed');
  expect([job.truth.ventedG, job.truth.leakedG]).toEqual([0, 0]);
});

/** The power comes back, and the machine weighs. */
const LOOKED_AT_MS = 30_000;
/** 33 mL at 1225 kg/m³. */
const HOSE_OF_LIQUID_G = 40;

describe('mains that fail', () => {
  const SMALL = {
    ...WARM,
    ticket: { ...WARM.ticket, nominalChargeG: 150 },
    vehicle: { chargeG: 100, volumeL: 1.5, accumulatorHeatCapacityJPerK: 2000, accumulatorUaWPerK: 10 },
  };

  test('at every second of a whole job: nothing overcharged, nothing vented, no gram lost from sight', () => {
    const job = SteppedJob.open(sessionOf(SMALL));
    const { bench } = sessionOf(SMALL);
    let cuts = 0;
    let looks = 0;
    while (!job.loop.ended) {
      const { nowMs } = job.step();
      if (nowMs % 1_000 !== 0) continue;
      cuts++;
      const { bench: moment, state } = job.save();
      bench.restore(moment);
      bench.switchFault({ fault: 'power-lost' }, true);
      bench.advanceTo(nowMs + VALVES_SHUT_MS);
      const what = `cut at ${nowMs / 1000} s`;
      expectNothingLost(bench.truth(), jobResult(state), what);
      if (nowMs % LOOKED_AT_MS !== 0) continue;
      bench.switchFault({ fault: 'power-lost' }, false);
      const { vehicle } = lookAfterCut(state, bench);
      const trueKg = bench.truth().vehicleRefrigerantKg;
      if (vehicle === undefined) continue;
      looks++;
      expect(trueKg, what).toBeGreaterThan(vehicle.leastKg - 0.005);
      expect(trueKg, what).toBeLessThan(vehicle.mostKg + 0.005);
    }
    expect(cuts).toBeGreaterThan(2_500);
    expect(looks).toBeGreaterThan(15);
  });

  function expectNothingLost(truth: Truth, { masses, stages }: JobResult, what: string): void {
    const vehicleG = 1000 * truth.vehicleRefrigerantKg;
    // Beyond the last valve the coupler is open: what the hose holds is drawn back only after the power returns.
    expect(vehicleG, what).toBeLessThan(150 + HOSE_OF_LIQUID_G);
    expect(truth.ventedKg, what).toBeLessThan(1e-9);
    expect(truth.leakedKg + truth.purgedKg, what).toBe(0);
    expect(Math.abs(truth.massDriftKg), what).toBeLessThan(1e-6);
    if (masses.recoveredKg === undefined) return;
    const recoveredG = 1000 * masses.recoveredKg;
    // What is booked has come; what came since the last weighing is not booked yet.
    if (stages.some(({ stage }) => stage === 'evacuate'))
      expect(Math.abs(recoveredG - 100), what).toBeLessThan(5);
    else expect(recoveredG - (100 - vehicleG), what).toBeLessThan(5);
  }
});
