// Dye on a ticket: what is planned for it, and every reason for which it is refused.
import { describe, expect, test } from 'vitest';
import type { Equipment } from '../../controller/equipment.ts';
import { planJob } from '../../controller/plan.ts';
import type { Ticket } from '../../controller/ticket.ts';
import { EQUIPMENT, OIL_EQUIPMENT, planFor, R134A, TICKET } from './support/machine.ts';

const blockersOf = (ticket: Partial<Ticket>, equipment: Equipment = EQUIPMENT): string[] => {
  const planned = planJob({ ...TICKET, ...ticket }, equipment, R134A);
  return planned.ok ? [] : planned.blockers.map(({ code }) => code);
};

describe('Dye', () => {
  const dye = (addMl: number, approved = false): Pick<Ticket, 'dye'> => ({
    dye: { addM3: addMl * 1e-6, approved },
  });
  const without = (output: string): Equipment => ({
    ...OIL_EQUIPMENT,
    fitted: OIL_EQUIPMENT.fitted.filter((fitted) => fitted !== output),
  });
  const electric = { electricCompressor: true, oil: { kind: 'POE', addM3: 0 } } as const;
  const poe: Equipment = { ...OIL_EQUIPMENT, oil: { ...OIL_EQUIPMENT.oil!, kind: 'POE' } };

  test('is drawn in after the oil, in the same stage, and by itself where no oil is due or none may go in', () => {
    const service = 'evacuate-and-charge';
    expect(planFor({}, OIL_EQUIPMENT).adds).toEqual(['oil']);
    expect(planFor(dye(8), OIL_EQUIPMENT).adds).toEqual(['oil', 'dye']);
    expect(planFor({ service, ...dye(8) }, OIL_EQUIPMENT)).toMatchObject({ adds: ['dye'] });
    expect(planFor({ service, ...dye(8) }, OIL_EQUIPMENT).stages).toContain('add-oil');
    expect(planFor({ ...electric, ...dye(8, true) }, OIL_EQUIPMENT).adds).toEqual(['dye']);
    expect(planFor(dye(8), without('oilValve')).adds).toEqual(['dye']);
  });

  test('is NOT drawn in unless it is asked for', () => {
    expect(planFor({ service: 'evacuate-and-charge' }, OIL_EQUIPMENT)).toMatchObject({ adds: [] });
    expect(planFor({ service: 'evacuate-and-charge' }, OIL_EQUIPMENT).stages).not.toContain('add-oil');
  });

  test('goes into an electric compressor only where the ticket says that its maker allows it', () => {
    expect(blockersOf({ ...electric, ...dye(8) }, poe)).toEqual(['dye-unfit']);
    expect(blockersOf({ ...electric, ...dye(8, true) }, poe)).toEqual([]);
    expect(blockersOf({ ...electric, ...dye(0) }, poe)).toEqual([]);
    expect(blockersOf(dye(8), OIL_EQUIPMENT)).toEqual([]);
  });

  test('that the machine has no valve or no bottle for is refused by name', () => {
    expect(blockersOf(dye(8), without('dyeValve'))).toEqual(['output-not-fitted']);
    const { dye: _, ...bottleless } = OIL_EQUIPMENT;
    expect(blockersOf(dye(8), bottleless)).toEqual(['figure-missing']);
    expect(blockersOf(dye(0), bottleless)).toEqual([]);
  });

  test('beyond what the bottle holds is refused, the film of a dry line counted, and up to that it is NOT', () => {
    const bottle = (ml: number): Equipment => ({
      ...OIL_EQUIPMENT,
      dye: { ...OIL_EQUIPMENT.dye!, bottleM3: ml * 1e-6 },
    });
    const oil = { kind: 'PAG', addM3: 15e-6 } as const;
    expect(blockersOf(dye(8), bottle(9.9))).toEqual(['dye-above-bottle']);
    expect(blockersOf(dye(8), bottle(10))).toEqual([]);
    expect(blockersOf({ oil, ...dye(8) }, bottle(7.9))).toEqual(['dye-above-bottle']);
    expect(blockersOf({ oil, ...dye(8) }, bottle(8))).toEqual([]);
    expect(blockersOf(dye(8), bottle(Number.NaN))).toEqual(['dye-above-bottle']);
  });

  test('that is no volume or too much, or asked of a service that charges nothing, is refused by name', () => {
    for (const ml of [-1, 51, Number.NaN])
      expect(blockersOf(dye(ml), OIL_EQUIPMENT)).toEqual(['dye-implausible']);
    for (const service of ['recover', 'leak-check'] as const)
      expect(blockersOf({ service, ...dye(8) }, OIL_EQUIPMENT)).toEqual(['dye-not-added']);
  });

  test('or oil of which nothing is known is refused in words that name it', () => {
    const { oil: _, dye: __, ...unknown } = OIL_EQUIPMENT;
    const oil = { kind: 'PAG', addM3: 10e-6 } as const;
    const planned = planJob({ ...TICKET, ...dye(8), oil }, unknown, R134A);
    const texts = planned.ok ? [] : planned.blockers.map(({ text }) => text);
    expect(texts.join()).toMatch(/asks for oil, and nothing is known/);
    expect(texts.join()).toMatch(/asks for dye, and nothing is known/);
  });

  test('of an unknown flow cannot be dosed', () => {
    const dry = { ...OIL_EQUIPMENT, dye: { ...OIL_EQUIPMENT.dye!, flowM3PerSPa: 0 } };
    expect(blockersOf(dye(8), dry)).toEqual(['figure-missing']);
  });
});
