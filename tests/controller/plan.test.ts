// A ticket that cannot be is refused before anything moves, with every reason at once.
import { describe, expect, test } from 'vitest';
import type { Equipment } from '../../controller/equipment.ts';
import { planJob } from '../../controller/plan.ts';
import type { Ticket } from '../../controller/ticket.ts';
import { EQUIPMENT, planFor, R134A, R1234YF, TICKET } from './support/machine.ts';

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

  test('refuses a service that this machine does not have', () => {
    expect(blockersOf({ service: 'leak-check' })).toContain('service-not-available');
    expect(blockersOf({ service: 'fill-tank' })).toContain('service-not-available');
  });

  test('refuses figures that are no figures', () => {
    expect(blockersOf({ nominalChargeKg: Number.NaN })).toEqual(['figure-missing']);
    expect(blockersOf({}, { ...EQUIPMENT, scale: { ...EQUIPMENT.scale, countsPerKg: 0 } })).toEqual([
      'figure-missing',
    ]);
    expect(blockersOf({}, EQUIPMENT, { ...R134A, temperatureK: [] })).toContain('curve-missing');
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
