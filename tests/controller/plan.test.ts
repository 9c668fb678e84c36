// A ticket that cannot be is refused before anything moves, with every reason at once.
import { describe, expect, test } from 'vitest';
import type { Equipment } from '../../controller/equipment.ts';
import { planJob } from '../../controller/plan.ts';
import type { Ticket } from '../../controller/ticket.ts';
import { EQUIPMENT, OIL_EQUIPMENT, planFor, R134A, R1234YF, TICKET } from './support/machine.ts';

const blockersOf = (ticket: Partial<Ticket>, equipment: Equipment = EQUIPMENT, curve = R134A): string[] => {
  const planned = planJob({ ...TICKET, ...ticket }, equipment, curve);
  return planned.ok ? [] : planned.blockers.map(({ code }) => code);
};

describe('The plan', () => {
  test('holds the stages of its service and the curve, as plain data', () => {
    const plan = planFor();
    expect(plan.stages).toEqual([
      'identify',
      'settle',
      'recover',
      'rest',
      'evacuate',
      'hold',
      'charge',
      'recover-hoses',
    ]);
    expect(JSON.parse(JSON.stringify(plan))).toEqual(plan);
  });

  test('names every blocker at once', () => {
    const poor = { ...EQUIPMENT, fitted: EQUIPMENT.fitted.filter((output) => output !== 'vacuumPump') };
    expect(blockersOf({ refrigerant: 'R-1234yf', nominalChargeKg: 25 }, poor, R134A).sort()).toEqual(
      [
        'tank-refrigerant-differs',
        'curve-refrigerant-differs',
        'charge-implausible',
        'charge-above-tank',
        'output-not-fitted',
      ].sort(),
    );
  });

  test('gives each blocker a remedy', () => {
    const planned = planJob({ ...TICKET, refrigerant: 'R-1234yf' }, EQUIPMENT, R1234YF);
    expect(planned.ok).toBe(false);
    if (!planned.ok)
      for (const { text, remedy } of planned.blockers) expect(text.length * remedy.length).toBeGreaterThan(0);
  });

  test('refuses figures that are no figures', () => {
    expect(blockersOf({ nominalChargeKg: Number.NaN })).toEqual(['figure-missing']);
    expect(blockersOf({}, { ...EQUIPMENT, scale: { ...EQUIPMENT.scale, countsPerKg: 0 } })).toEqual([
      'figure-missing',
    ]);
    expect(blockersOf({}, EQUIPMENT, { ...R134A, temperatureK: [] })).toContain('curve-missing');
  });

  test.each([Number.NaN, 0, -1])(
    "refuses a cylinder's content of %d kg, and takes one of 12 kg",
    (cylinderKg) => {
      const service = 'fill-tank';
      expect(blockersOf({ service, cylinderKg })).toContain('figure-missing');
      expect(blockersOf({ service, cylinderKg: 12 })).not.toContain('figure-missing');
    },
  );

  test('wants a curve of two temperatures at least', () => {
    const curveOf = (points: number) => ({
      ...R134A,
      temperatureK: R134A.temperatureK.slice(0, points),
      pressurePa: R134A.pressurePa.slice(0, points),
    });
    expect(blockersOf({}, EQUIPMENT, curveOf(1))).toContain('curve-missing');
    expect(blockersOf({}, EQUIPMENT, curveOf(2))).not.toContain('curve-missing');
  });

  test('does NOT ask a recovery for a vacuum pump, nor a one-port vehicle for a low-side valve', () => {
    const without = (missing: string): Equipment => ({
      ...EQUIPMENT,
      fitted: EQUIPMENT.fitted.filter((output) => output !== missing),
    });
    expect(blockersOf({ service: 'recover' }, without('vacuumPump'))).toEqual([]);
    expect(blockersOf({ ports: 1 }, without('lowSideValve'))).toEqual([]);
    expect(blockersOf({ ports: 2 }, without('lowSideValve'))).toEqual(['output-not-fitted']);
  });
});

describe('A purge of the tank', () => {
  const rested = {
    ...EQUIPMENT,
    fitted: [...EQUIPMENT.fitted, 'airPurgeValve'],
    tankRestedMs: 7_200_000,
  } as const;
  const purges = (equipment: Equipment): boolean => planFor({}, equipment).stages.includes('purge-air');

  test('is planned where a valve is fitted and the tank is known to have rested for two hours', () => {
    expect(purges(rested)).toBe(true);
    expect(planFor({ service: 'evacuate-and-charge' }, rested).stages[0]).toBe('purge-air');
  });

  test('is NOT planned without the valve, after a shorter rest, or after one that nobody knows', () => {
    const { tankRestedMs: _, ...unknown } = rested;
    expect(purges(unknown)).toBe(false);
    expect(purges({ ...rested, tankRestedMs: 7_199_999 })).toBe(false);
    expect(purges({ ...rested, fitted: EQUIPMENT.fitted })).toBe(false);
  });
});

describe('A cylinder for contaminated refrigerant', () => {
  const cylinder = { ...EQUIPMENT, tank: { ...EQUIPMENT.tank, contaminated: true } };

  test('takes a recovery of whatever the ticket names, and NOTHING is charged out of it', () => {
    expect(blockersOf({ service: 'recover' }, cylinder)).toEqual([]);
    expect(blockersOf({ service: 'recover', refrigerant: 'R-1234yf' }, cylinder, R1234YF)).toEqual([]);
    expect(blockersOf({ service: 'whole' }, cylinder)).toEqual(['tank-contaminated']);
    expect(blockersOf({ service: 'evacuate-and-charge' }, cylinder)).toEqual(['tank-contaminated']);
  });

  test('leaves a machine that must be cleaned: nothing else is begun with it, but the next such recovery', () => {
    expect(blockersOf({}, { ...EQUIPMENT, uncleaned: true })).toEqual(['machine-not-cleaned']);
    expect(blockersOf({ service: 'recover' }, { ...cylinder, uncleaned: true })).toEqual([]);
    expect(blockersOf({}, { ...EQUIPMENT, uncleaned: false })).toEqual([]);
  });
});

describe('The leak check', () => {
  const flammable: Equipment = { ...EQUIPMENT, tank: { ...EQUIPMENT.tank, refrigerant: 'R-1234yf' } };
  const ofA2l = (ticket: Partial<Ticket>): readonly string[] =>
    planFor({ refrigerant: 'R-1234yf', ...ticket }, flammable, R1234YF).stages;

  test('comes after the hold and before the charge where the ticket asks for it, and does NOT otherwise', () => {
    for (const service of ['whole', 'evacuate-and-charge'] as const) {
      const { stages } = planFor({ service, leakCheck: true });
      expect(stages.indexOf('leak-check')).toBe(stages.indexOf('charge') - 1);
      expect(planFor({ service }).stages).not.toContain('leak-check');
    }
  });

  test('cannot be skipped with a flammable refrigerant, whatever the ticket says', () => {
    for (const service of ['whole', 'evacuate-and-charge'] as const)
      for (const leakCheck of [true, false]) expect(ofA2l({ service, leakCheck })).toContain('leak-check');
    expect(ofA2l({ service: 'recover' })).not.toContain('leak-check');
  });

  test('as a service of its own never charges', () => {
    const { stages } = planFor({ service: 'leak-check', engine: 'can-run' });
    expect(stages).toEqual([
      'identify',
      'settle',
      'evacuate',
      'hold',
      'leak-check',
      'recover',
      'rest',
      'recover-hoses',
    ]);
  });

  test('adds no oil: a ticket that asks for it is refused', () => {
    const oil = { kind: 'PAG', addM3: 15e-6 } as const;
    expect(blockersOf({ service: 'leak-check', oil }, OIL_EQUIPMENT)).toEqual(['oil-not-added']);
  });
});

describe('The stages for oil and engine', () => {
  const stages = (ticket: Partial<Ticket> = {}, equipment: Equipment = OIL_EQUIPMENT): readonly string[] =>
    planFor(ticket, equipment).stages;
  const without = (output: string): Equipment => ({
    ...OIL_EQUIPMENT,
    fitted: OIL_EQUIPMENT.fitted.filter((fitted) => fitted !== output),
  });
  const add = { kind: 'PAG', addM3: 15e-6 } as const;

  test('stand where the trade has them: the test while both couplers are open, then clear, then recover', () => {
    expect(stages({ engine: 'can-run' })).toEqual([
      'identify',
      'settle',
      'recover',
      'rest',
      'drain-oil',
      'evacuate',
      'hold',
      'add-oil',
      'charge',
      'verify',
      'clear-hoses',
      'recover-hoses',
    ]);
    expect(stages({ service: 'recover', engine: 'can-run' })).toEqual([
      'identify',
      'settle',
      'recover',
      'rest',
      'drain-oil',
      'recover-hoses',
    ]);
  });

  test('are left out where they do not apply', () => {
    expect(stages({ engine: 'cannot-run' })).not.toContain('verify');
    expect(stages({}, EQUIPMENT)).not.toContain('drain-oil');
    expect(stages({}, without('separatorDrainValve'))).not.toContain('add-oil');
    expect(stages({}, without('oilValve'))).toContain('drain-oil');
    expect(stages({}, without('oilValve'))).not.toContain('add-oil');
    expect(stages({ service: 'evacuate-and-charge' })).not.toContain('add-oil');
    expect(stages({ service: 'evacuate-and-charge', oil: add })).toContain('add-oil');
  });

  test('an engine that cannot run, or drives no compressor, is refused to warm a vehicle; one that can is NOT', () => {
    expect(blockersOf({ warmUp: true })).toEqual(['warm-up-impossible']);
    const electric = { electricCompressor: true, oil: { kind: 'POE', addM3: 0 } } as const;
    expect(blockersOf({ warmUp: true, engine: 'can-run', ...electric })).toContain('warm-up-impossible');
    expect(blockersOf({ warmUp: true, engine: 'can-run', service: 'evacuate-and-charge' })).toEqual([
      'warm-up-impossible',
    ]);
    expect(blockersOf({ warmUp: true, engine: 'can-run' })).toEqual([]);
  });

  test('PAG in an electric compressor is refused by name, whatever the service and whether oil is asked for or not', () => {
    for (const service of ['whole', 'recover', 'evacuate-and-charge'] as const)
      expect(blockersOf({ electricCompressor: true, service }, OIL_EQUIPMENT)).toEqual(['oil-forbidden']);
    expect(blockersOf({ electricCompressor: true, oil: add }, OIL_EQUIPMENT)).toEqual([
      'oil-forbidden',
      'oil-unfit',
    ]);
    expect(blockersOf({ electricCompressor: false }, OIL_EQUIPMENT)).toEqual([]);
  });

  test('PAG from the bottle never goes into an electric compressor: refused when asked for, left out when not', () => {
    const electric = { electricCompressor: true, oil: { kind: 'POE', addM3: 0 } } as const;
    expect(blockersOf({ ...electric, oil: { ...add, kind: 'POE' } }, OIL_EQUIPMENT)).toEqual(['oil-unfit']);
    expect(blockersOf(electric, OIL_EQUIPMENT)).toEqual([]);
    expect(stages(electric)).not.toContain('add-oil');
    const poe = { ...OIL_EQUIPMENT, oil: { ...OIL_EQUIPMENT.oil!, kind: 'POE' as const } };
    expect(stages(electric, poe)).toContain('add-oil');
  });

  test('POE from a bottle of POE does, and an oil of another kind does NOT', () => {
    const poe = { ...OIL_EQUIPMENT, oil: { ...OIL_EQUIPMENT.oil!, kind: 'POE' as const } };
    const ticket = { oil: { kind: 'POE', addM3: 15e-6 } } as const;
    expect(blockersOf({ electricCompressor: true, ...ticket }, poe)).toEqual([]);
    expect(blockersOf(ticket, OIL_EQUIPMENT)).toEqual(['oil-unfit']);
    expect(stages({ oil: { kind: 'POE', addM3: 0 } })).not.toContain('add-oil');
  });

  test('oil that is asked for and cannot be added is refused by name', () => {
    expect(blockersOf({ oil: add }, without('oilValve'))).toEqual(['output-not-fitted']);
    expect(blockersOf({ oil: add, service: 'recover' }, OIL_EQUIPMENT)).toEqual(['oil-not-added']);
    expect(blockersOf({ oil: { kind: 'PAG', addM3: Number.NaN } }, OIL_EQUIPMENT)).toEqual([
      'oil-implausible',
    ]);
    expect(blockersOf({ oil: { kind: 'PAG', addM3: 6e-4 } }, OIL_EQUIPMENT)).toEqual(['oil-implausible']);
    const { oil: _, ...unmeasured } = OIL_EQUIPMENT;
    expect(blockersOf({ oil: add }, unmeasured)).toEqual(['figure-missing']);
  });
});
