// A charge that runs the dip tube dry, because the tank holds less than the controller believes, and its twins.
import { describe, expect, test } from 'vitest';
import type { Equipment } from '../../controller/equipment.ts';
import { runScenario } from './run-scenario.ts';

const CHARGE = {
  seed: 4,
  weather: { ambientC: 20 },
  ticket: { refrigerant: 'R-134a', nominalChargeG: 600, service: 'evacuate-and-charge' },
  vehicle: { chargeG: 0 },
};

const DRAWS = ['recoveryValve', 'compressor', 'fanStop'];
const DRY = 'charge-stalled-dip-tube';

/** A tare that is 0.3 kg too light, and no reserve worth the name. */
const tooSure = (equipment: Equipment): Equipment => ({
  ...equipment,
  tank: { ...equipment.tank, reserveKg: 0.001 },
  scale: {
    ...equipment.scale,
    zeroCounts: equipment.scale.zeroCounts - 0.3 * equipment.scale.countsPerKg,
  },
});

async function charged(scenario: object, believing?: typeof tooSure) {
  const waited = new Set<string>();
  const job = await runScenario(
    { ...CHARGE, ...scenario },
    [({ progress }) => progress.stage === 'charge' && waited.add(progress.waitingFor)],
    believing,
  );
  return { job, codes: job.notices.map(({ code }) => code), waited: [...waited].join() };
}

describe('A dip tube that runs dry', () => {
  test.each(['good', 'hobby'])('is named as what stopped the charge of a %s machine', async (equipment) => {
    const { job, codes, waited } = await charged({ equipment, tank: { contentKg: 1.2 } }, tooSure);
    expect(codes).toEqual(expect.arrayContaining([DRY, 'charge-fell-short']));
    expect(codes).not.toContain('charge-stalled-warm');
    expect(codes).not.toContain('charge-stalled-supply');
    expect(waited).toContain('short of liquid');
    const { text, remedy } = job.notices.find(({ code }) => code === DRY)!;
    expect(text).toMatch(/only 0\.3\d kg of liquid left: its dip tube/);
    expect(remedy).toMatch(/fuller tank.*cylinder.*tare/);
    // What is left is vapour, and the little that no dip tube reaches.
    expect(job.truth.tankRefrigerantG).toBeLessThan(650);
  });

  test('is named while vapour still flows, into a vehicle so cold that the charge gets done with it', async () => {
    const cold = { weather: { ambientC: -5 }, tank: { contentKg: 1.05, temperatureC: 20 } };
    const { job, codes } = await charged(cold, tooSure);
    expect(codes).toContain(DRY);
    expect(codes).not.toContain('charge-fell-short');
    expect(job.outcome).toBe('completed');
  });

  test('is named when it happens in the last grams, pulse by pulse', async () => {
    const { codes } = await charged({ weather: { ambientC: 30 }, tank: { contentKg: 1.45 } }, tooSure);
    expect(codes).toEqual(expect.arrayContaining([DRY, 'charge-fell-short']));
  });

  test('cannot happen where the reserve is kept: the same tank is refused before a valve opens', async () => {
    const { job } = await charged({ tank: { contentKg: 1.2 } });
    expect(job.blockers.map(({ code }) => code)).toEqual(['tank-too-empty']);
    expect(job.truth.tankRefrigerantG).toBe(1200);
  });
});

describe('What is NOT called a dry dip tube', () => {
  test('a cold tank with plenty of liquid that stalls into a warmer vehicle', async () => {
    const warm = {
      weather: { ambientC: 20 },
      vehicle: { chargeG: 0, temperatureC: 25 },
      tank: { contentKg: 8, temperatureC: 16 },
      // A heater would warm the tank before it came to this.
      equipment: {
        fitted: ['highSideValve', 'lowSideValve', 'chargeValve', 'vacuumValve', 'vacuumPump', ...DRAWS],
      },
    };
    const { codes } = await charged(warm);
    expect(codes).toContain('charge-stalled-warm');
    expect(codes).not.toContain(DRY);
  });

  test('a tank short of liquid whose valve somebody shuts: nothing flows from a tank at full pressure', async () => {
    const shut = {
      weather: { ambientC: -5 },
      tank: { contentKg: 1.05, temperatureC: 20 },
      faults: [{ fault: 'tank-valve-shut', stage: 'charge', afterS: 58 }],
    };
    const { codes } = await charged(shut, tooSure);
    expect(codes).toContain('charge-stalled-supply');
    expect(codes).not.toContain(DRY);
  });

  test('a charge from a tank just above its reserve', async () => {
    const { job, codes } = await charged({ tank: { contentKg: 1.85 } });
    expect(codes).not.toContain(DRY);
    expect(job.outcome).toBe('completed');
  });
});
