// Charges that the tank's pressure alone does not finish: foreseen, stalled, helped, and the twins that need no help.
import { describe, expect, test } from 'vitest';
import type { RunDocument } from '../../app/run/document-type.ts';
import { VALVES } from '../../controller/signals.ts';
import { gramsScenario } from '../accuracy/grams-scenario.ts';
import { runScenario } from './run-scenario.ts';

/** A tank that has been brought in from the cold to a vehicle in the sun. */
const HOT = {
  seed: 3,
  weather: { ambientC: 35 },
  ticket: { refrigerant: 'R-134a', nominalChargeG: 650, service: 'evacuate-and-charge' },
  vehicle: { chargeG: 0, temperatureC: 35 },
  tank: { contentKg: 8, temperatureC: 15 },
};
const NO_HEATER = [
  'highSideValve',
  'lowSideValve',
  'recoveryValve',
  'vacuumValve',
  'chargeValve',
  'compressor',
  'vacuumPump',
  'fanStop',
];

type Charged = {
  readonly job: RunDocument;
  readonly codes: readonly string[];
  readonly heatedS: number;
  /** Scans in which the heater was on and any valve open. */
  readonly heatedOpen: number;
  /** The most the vehicle had before the hoses were drawn back, and what it had lost when the charge was given up. */
  readonly mostG: number;
  readonly hottestK: number;
};

async function charged(file: unknown): Promise<Charged> {
  let heated = 0;
  let heatedOpen = 0;
  let mostG = 0;
  let hottestK = 0;
  const job = await runScenario(file, [
    ({ commands, progress, readings }) => {
      if (progress.stage === 'charge') mostG = Math.max(mostG, (progress.figures.phaseKg ?? 0) * 1000);
      if (!commands.tankHeater.on) return;
      heated += 1;
      if (readings.tankTemperatureK.ok) hottestK = Math.max(hottestK, readings.tankTemperatureK.value);
      if (VALVES.some((valve) => commands[valve].on)) heatedOpen += 1;
    },
  ]);
  const codes = job.notices.map(({ code }) => code);
  return { job, codes, heatedS: heated / 10, heatedOpen, mostG, hottestK };
}

const errorG = ({ job }: Charged, nominalG: number): number =>
  Math.abs(job.truth.vehicleRefrigerantG - nominalG);

describe('a tank of 15 °C and a vehicle of 35 °C', () => {
  test('are warned of with figures, the tank is warmed first, and 650 g arrive within 8 g', async () => {
    const result = await charged(HOT);
    const { job, codes } = result;
    expect(codes).toContain('tank-heated-first');
    expect(job.notices.find(({ code }) => code === 'tank-heated-first')!.text).toMatch(
      /about [67]\d g of 650 g .* tank stands at \d+ °C .* vehicle at 3[56] °C/,
    );
    expect(job.outcome).toBe('completed');
    // Ten grams of dew dry off the tank meanwhile: they must not count as charged.
    expect(errorG(result, 650)).toBeLessThan(8);
    expect(Math.abs(job.masses.netChargeG! - job.truth.vehicleRefrigerantG)).toBeLessThan(8);
  });

  test('the heater is on with every valve shut, and off below the limit of the tank', async () => {
    const { heatedS, heatedOpen, hottestK } = await charged(HOT);
    expect(heatedS).toBeGreaterThan(10 * 60);
    expect(heatedOpen).toBe(0);
    expect(hottestK).toBeLessThan(318.15);
  });

  test('without a heater are warned of, stall after some 70 g, and hardly any of it runs back', async () => {
    const result = await charged({ ...HOT, equipment: { fitted: NO_HEATER } });
    const { job, codes, mostG, heatedS } = result;
    expect(codes).toEqual(expect.arrayContaining(['charge-will-stall', 'charge-fell-short']));
    expect(heatedS).toBe(0);
    expect(job.outcome).toBe('stopped');
    // An outside estimate for a dry vehicle of 2.5 L: 65 to 75 g, and the hose besides.
    expect(job.truth.vehicleRefrigerantG).toBeGreaterThan(55);
    expect(job.truth.vehicleRefrigerantG).toBeLessThan(115);
    expect(mostG - job.masses.chargedG!).toBeLessThan(20);
  });

  test('a tank that is NOT colder than the vehicle is neither warned of nor warmed', async () => {
    const { job, codes, heatedS } = await charged({ ...HOT, tank: { contentKg: 8, temperatureC: 36 } });
    expect(codes).not.toContain('tank-heated-first');
    expect(codes).not.toContain('charge-will-stall');
    expect(heatedS).toBe(0);
    expect(job.outcome).toBe('completed');
  });

  test('a heater that does not heat is told and switched off within minutes', async () => {
    const dead = {
      ...HOT,
      faults: [{ fault: 'output-dead', output: 'tankHeater' }],
      weather: { ambientC: 25 },
    };
    const { codes, heatedS, job } = await charged(dead);
    expect(codes).toContain('tank-heater-no-effect');
    expect(heatedS).toBeLessThan(8 * 60);
    expect(job.truth.ventedG).toBe(0);
  });
});

const HELP: readonly string[] = ['charge-waits-heating', 'tank-heated-first'];

describe('A charge that stalls on the way', () => {
  // Seeds of the accuracy runs: a stall on the way, and three that are foreseen, of a big charge, a bigger one in the heat, a small one.
  test.each([95, 63, 126, 137])('is helped and ends within 8 g (seed %i)', async (seed) => {
    const file = gramsScenario('good', seed);
    const result = await charged(file);
    // After a leak check it is foreseen: the partial charge has taken the cold that the first liquid would have brought.
    expect(result.codes.some((code) => HELP.includes(code))).toBe(true);
    expect(result.job.outcome).toBe('completed');
    expect(result.heatedOpen).toBe(0);
    expect(errorG(result, file.ticket.nominalChargeG)).toBeLessThan(8);
  });

  test('a shut tank valve is NOT answered with heat', async () => {
    const shut = {
      ...HOT,
      tank: { contentKg: 8, temperatureC: 36 },
      faults: [{ fault: 'tank-valve-shut', stage: 'charge', afterS: 14 }],
    };
    const { codes, heatedS } = await charged(shut);
    expect(codes).toContain('charge-stalled-supply');
    expect(heatedS).toBe(0);
  });

  test('a warm vehicle that fills slowly behind its expansion valve is NOT a shut coupler', async () => {
    const file = gramsScenario('good', 62);
    const { codes } = await charged({ ...file, equipment: { ...file.equipment, fitted: NO_HEATER } });
    expect(codes).not.toContain('charge-stalled-coupler');
  });
});

describe('A charge without a heater, and with an engine that can run', () => {
  // A stall on a mild and on a hot day: seeds of the accuracy runs.
  const jobs = [95, 126].map((seed) => {
    const file = gramsScenario('good', seed);
    return {
      seed,
      nominalG: file.ticket.nominalChargeG,
      file: {
        ...file,
        ticket: { ...file.ticket, engine: 'can-run' },
        equipment: { ...file.equipment, fitted: NO_HEATER },
      },
    };
  });

  test.each(jobs)('is finished by the running engine within 8 g (seed $seed)', async ({ file, nominalG }) => {
    const asked: string[] = [];
    let joined = 0;
    let pulses = 0;
    let highestPa = 0;
    let provenPa = 0;
    const job = await runScenario(file, [
      ({ commands, progress, readings }) => {
        const id = progress.prompt?.id;
        if (id !== undefined && asked.at(-1) !== id) {
          asked.push(id);
          const { highSidePressurePa: high, manifoldPressurePa: manifold } = readings;
          if (id === 'start-engine' && high.ok && manifold.ok) provenPa = high.value - manifold.value;
        }
        if (!asked.includes('start-engine') || !commands.chargeValve.on) return;
        pulses += 1;
        if (commands.highSideValve.on || commands.lowSideValve.on) joined += 1;
        if (readings.highSidePressurePa.ok)
          highestPa = Math.max(highestPa, readings.highSidePressurePa.value);
      },
    ]);
    expect(job.outcome).toBe('completed');
    expect(Math.abs(job.truth.vehicleRefrigerantG - nominalG)).toBeLessThan(8);
    // Valves are proven shut by a pressure that they hold, before the one question; tank and vehicle never meet after it.
    expect(provenPa).toBeGreaterThan(200_000);
    expect(asked.filter((id) => id === 'start-engine')).toHaveLength(1);
    expect(pulses).toBeGreaterThan(10);
    expect(joined).toBe(0);
    expect(highestPa).toBeLessThan(2_000_000);
    expect(job.truthWithin.swallowedLiquidG).toBe(0);
    expect(job.performance).toBeDefined();
  });

  test('a high-side valve that passes is NOT proven shut: nobody is asked to start the engine', async () => {
    const [{ file }] = jobs as [(typeof jobs)[number]];
    const asked: string[] = [];
    const job = await runScenario(
      { ...file, faults: [{ fault: 'relay-welded', output: 'highSideValve', stage: 'charge' }] },
      [({ progress }) => void asked.push(progress.prompt?.id ?? '')],
    );
    expect(asked).not.toContain('start-engine');
    expect(job.notices.map(({ code }) => code)).toContain('valves-not-proven');
    expect(job.outcome).toBe('stopped');
  });

  test('an engine that cannot run is NOT asked for', async () => {
    const [{ file }] = jobs as [(typeof jobs)[number]];
    const lame = { ...file, ticket: { ...file.ticket, engine: 'cannot-run' } };
    const { codes, job } = await charged(lame);
    expect(codes).not.toContain('charge-waits-engine');
    expect(codes).toContain('charge-fell-short');
    expect(job.outcome).toBe('stopped');
  });
});
