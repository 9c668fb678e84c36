// Seeded recoveries held to what the project promises of all; the hundreds are run by `npm run accuracy -- recovery`.
import { describe, expect, test } from 'vitest';
import { fluidOnce } from '../../app/bench/whole-jobs.ts';
import { OUTPUTS } from '../../controller/signals.ts';
import { recoverableKg } from '../accuracy/recovery-bound.ts';
import { recoveryJob, recoveryOf } from '../accuracy/recovery-job.ts';
import { recoveryScenario } from '../accuracy/recovery-scenario.ts';
import { runScenario } from './run-scenario.ts';

const ofHeld = ({ held, left }: { held: number; left: number }): number => 100 * (1 - left / held);

describe('half an hour of recovery', () => {
  test('takes 97 % at least of a vehicle that its engine has warmed, and leaves no liquid', async () => {
    for (const seed of [1, 2, 3, 4]) {
      const row = await recoveryJob({ profile: 'good', start: 'warmed' }, seed);
      expect(ofHeld(row), `seed ${seed}`).toBeGreaterThan(97);
      expect(row.liquid, `seed ${seed}`).toBe(0);
    }
  });

  test('takes 95 % at least of what heat allows out of the coldest accumulators, which are told to be warmed', async () => {
    // The three that a rest in the middle of the half hour would bring below it, of four hundred, and the next to them.
    for (const seed of [103, 179, 389, 75]) {
      const row = await recoveryJob({ profile: 'good', start: 'cold' }, seed);
      expect((100 * (row.held - row.left)) / row.bound, `seed ${seed}`).toBeGreaterThan(95);
      expect(row.held - row.left, `seed ${seed}`).toBeLessThanOrEqual(row.bound);
      expect(row.advised, `seed ${seed}`).toBe(true);
    }
  });

  const AT_THE_EDGE = [
    [5, 640, 400, 0.8],
    [10, 700, 400, 0.8],
    [5, 700, 300, 0.8],
    [5, 760, 500, 1],
  ] as const;
  const edges = (['good', 'hobby'] as const).flatMap((profile) =>
    AT_THE_EDGE.map((of) => [profile, ...of] as const),
  );
  test.each(edges)(
    'and so it does at the edge of what is drawn: %s, %d °C, %d g, %d J/K, %d W/K',
    async (profile, ambientC, chargeG, jPerK, wPerK) => {
      const drawn = recoveryScenario(profile, 'cold', 1);
      const row = await recoveryOf({
        ...drawn,
        weather: { ambientC, barometerPa: 101_325 },
        ticket: { ...drawn.ticket, refrigerant: 'R-134a', nominalChargeG: chargeG },
        vehicle: {
          ...drawn.vehicle,
          chargeG,
          volumeL: 1.2 + chargeG / 400,
          expansionDevice: 'orifice-tube',
          oilG: 120,
          accumulatorHeatCapacityJPerK: jPerK,
          accumulatorUaWPerK: wPerK,
        },
        tank: { contentKg: 8, temperatureC: ambientC },
      });
      expect((100 * (row.held - row.left)) / row.bound).toBeGreaterThan(95);
      expect(row.held - row.left).toBeLessThan(row.bound);
      expect(row.advised).toBe(true);
    },
  );
});

describe('what heat allows', () => {
  const { tables } = fluidOnce('R-134a');
  const pool = {
    vehicleKg: 1,
    vesselKg: 0.9,
    vesselOilKg: 0,
    outsideM3: 2e-3,
    outsideOilKg: 0,
    oil: 'PAG',
    metalJPerK: 300,
    uaWPerK: 0,
    ambientK: 283.15,
    tankK: 283.15,
    sweptM3PerS: 0.2417e-3,
  } as const;

  test('is, without heat from the room, what the pool gives by cooling itself and its metal', () => {
    // m = (m₀ + C/c)·exp(−c ΔT/h) − C/c with mean c and h, from 10 °C to where dead space lets nothing more pass.
    const [c, h] = [1300, 213_000];
    const around = pool.metalJPerK / c;
    const boilsAtC = -62;
    const left = (pool.vesselKg + around) * Math.exp((-c * (10 - boilsAtC)) / h) - around;
    expect(recoverableKg(tables, pool, 3600)).toBeCloseTo(1 - left, 1);
  });

  test('grows without a jump when the liquid is gone: oil gives up what it held, and slower and slower', () => {
    const oily = {
      ...pool,
      vehicleKg: 0.6,
      vesselKg: 0.4,
      vesselOilKg: 0.04,
      outsideOilKg: 0.08,
      uaWPerK: 2,
    };
    const at = (s: number): number => recoverableKg(tables, oily, s);
    const rates = Array.from({ length: 100 }, (_, i) => (at(20 * i + 220) - at(20 * i + 200)) / 20);
    // Never more than a full cylinder of the room's vapour (20.2 kg/m³ at 10 °C, Tillner-Roth and Baehr 1994).
    expect(Math.max(...rates)).toBeLessThan(oily.sweptM3PerS * 20.2);
    expect(rates.at(-1)).toBeLessThan(rates[0]! / 10);
    expect(at(3600)).toBeGreaterThan(0.58);
    expect(at(3600)).toBeLessThan(0.6);
  });

  test('grows with the heat that flows in: by UA·ΔT·t/h once the pool is cold', () => {
    const warmer = { ...pool, vehicleKg: 3, vesselKg: 2.9, uaWPerK: 1 };
    const gained = recoverableKg(tables, warmer, 3600) - recoverableKg(tables, warmer, 2400);
    // 50 K over 1 W/K against 227 kJ/kg at −45 °C (Tillner-Roth and Baehr 1994).
    expect(gained).toBeCloseTo((1 * 53 * 1200) / 227_000, 1);
  });
});

describe('600 g in a cold vehicle with an accumulator that takes up little heat', () => {
  test('come in three and more draws of the same size, the first but one on, with the advice to warm it', async () => {
    const job = await runScenario({
      seed: 3,
      weather: { ambientC: 10 },
      ticket: { refrigerant: 'R-134a', nominalChargeG: 600, service: 'recover' },
      vehicle: { chargeG: 600, accumulatorHeatCapacityJPerK: 300 },
      tank: { contentKg: 8 },
    });
    const [, ...later] = job.recovery!.cycles.map(({ recoveredG }) => recoveredG);
    // The last one empties the pool and so may be smaller.
    const [one, two] = later as [number, number];
    expect(later.length).toBeGreaterThanOrEqual(2);
    expect(Math.abs(one / two - 1)).toBeLessThan(0.2);
    expect(job.notices.map(({ code }) => code)).toContain('liquid-trapped');
    const gone = 600 - job.truth.vehicleRefrigerantG;
    expect(Math.abs(job.masses.recoveredG! - gone)).toBeLessThan(job.masses.recoveredUncertaintyG! + 1);
  });
});

describe('A cold vehicle of which the first run leaves much', () => {
  const cold = (more: object = {}) =>
    runScenario({
      seed: 3,
      weather: { ambientC: 10 },
      ticket: { refrigerant: 'R-134a', nominalChargeG: 900, service: 'recover' },
      vehicle: { chargeG: 900, accumulatorHeatCapacityJPerK: 300 },
      tank: { contentKg: 8 },
      ...more,
    });
  type Job = Awaited<ReturnType<typeof cold>>;
  const told = ({ notices }: Job): readonly string[] =>
    notices
      .map(({ code }) => code)
      .filter((code) => code === 'liquid-trapped' || code.startsWith('restarted'));

  test('is drawn on without a rest, which is told once, with the advice to warm it', async () => {
    const job = await cold();
    expect(told(job).slice(0, 2)).toEqual(['liquid-trapped', 'restarted-on-rise']);
    expect(told(job).filter((code) => code === 'liquid-trapped')).toHaveLength(1);
    expect(job.recovery!.cycles[0]!.recoveredG).toBeGreaterThan(600);
  });

  test('rests as ever where nothing tells air in the tank from liquid in the vehicle', async () => {
    const job = await cold({ faults: [{ fault: 'tank-temperature-open', stage: 'recover' }] });
    expect(told(job).slice(0, 2)).toEqual(['restarted-on-rise', 'liquid-trapped']);
    expect(job.recovery!.cycles[0]!.recoveredG).toBeLessThan(500);
  });

  test('rests at once when that can no longer be told', async () => {
    const blind = { fault: 'tank-temperature-open', stage: 'recover', afterS: 1200 };
    const [whole, cut] = [await cold(), await cold({ faults: [blind] })];
    expect(told(cut)[0]).toBe('liquid-trapped');
    const firstG = ({ recovery }: Job): number => recovery!.cycles[0]!.recoveredG;
    expect(firstG(cut)).toBeGreaterThan(500);
    expect(firstG(cut)).toBeLessThan(firstG(whole) - 50);
  });

  test.each([5, 20])(
    'and NOT where the label alone says that much is left: 300 g at %d °C',
    async (ambientC) => {
      const vehicle = { chargeG: 300, accumulatorHeatCapacityJPerK: 300, oilG: 180 };
      const job = await cold({ weather: { ambientC }, vehicle });
      expect(told(job)[0]).toBe('restarted-on-rise');
    },
  );
});

test('oil that came out is put in by nobody in a service that only recovers: no bottle and no sensor is blamed for it', async () => {
  const told = async (service: 'recover' | 'whole') => {
    const job = await runScenario({
      seed: 3,
      weather: { ambientC: 12 },
      ticket: { refrigerant: 'R-134a', nominalChargeG: 660, service },
      vehicle: { chargeG: 660, oilG: 150, volumeL: 3.4 },
      equipment: {
        profile: 'good',
        fitted: OUTPUTS.filter((output) => output !== 'oilValve' && output !== 'dyeValve'),
      },
    });
    return job.notices.find(({ code }) => code === 'oil-not-replaced')!;
  };
  const recovered = await told('recover');
  expect(recovered.text).toMatch(/this service puts none in/);
  expect(recovered.remedy).toMatch(/ticket of its next charge/);
  expect(recovered.remedy).not.toMatch(/sensor/);
  expect((await told('whole')).remedy).toMatch(/Check the bottle/);
});
