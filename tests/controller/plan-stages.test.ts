// Which stages a ticket comes to on a machine, and what is planned beside them.
import { describe, expect, test } from 'vitest';
import type { Equipment } from '../../controller/equipment.ts';
import { draftPlan, planByHand } from '../../controller/plan.ts';
import { TARGETS } from '../../controller/targets/index.ts';
import type { Ticket } from '../../controller/ticket.ts';
import { EQUIPMENT, OIL_EQUIPMENT, planFor, R134A, TICKET } from './support/machine.ts';

const POE = { oil: { kind: 'POE', addM3: 0 } } as const;

describe('The engine', () => {
  const CAN = { engine: 'can-run' } as const;
  const uses = (ticket: Partial<Ticket>) => {
    const { stages } = planFor(ticket);
    return [stages.includes('verify'), stages.includes('clear-hoses')];
  };

  test('tests the charge and clears the hoses where it can run', () => {
    expect(uses(CAN)).toEqual([true, true]);
    expect(uses({})).toEqual([false, false]);
    expect(Object.keys(planFor(CAN))).not.toContain('engineUnused');
  });

  test('is left alone where it turns no compressor or has no low side to suck at, and the plan says why', () => {
    const electric = { ...CAN, electricCompressor: true, ...POE } as const;
    expect(uses(electric)).toEqual([false, false]);
    expect(planFor(electric).engineUnused).toMatch(/electric: no engine turns it/);
    expect(uses({ ...CAN, ports: 1 })).toEqual([false, false]);
    expect(planFor({ ...CAN, ports: 1 }).engineUnused).toMatch(/^a vehicle with one port/);
    expect(planFor({ ...CAN, ports: 1, service: 'evacuate-and-charge' }).engineUnused).toMatch(/one port/);
  });

  test.each(['recover', 'fill-tank', 'leak-check'] as const)(
    'needs no word of it in a service that never uses it: %s',
    (service) => expect(Object.keys(planFor({ ...CAN, ports: 1, service }))).not.toContain('engineUnused'),
  );

  test('needs no word where it cannot run', () =>
    expect(Object.keys(planFor({ ports: 1 }))).not.toContain('engineUnused'));
});

describe('A filling of the tank', () => {
  test('hangs the cylinder on one hose, as a vehicle with one port does, and ends with that hose', () => {
    const plan = planFor({ service: 'fill-tank', ports: 2 });
    expect(plan.stages).toEqual(['identify', 'fill', 'recover-hoses']);
    expect(plan.ticket).toEqual({ ...TICKET, service: 'fill-tank', ports: 1 });
    expect(planFor({ ports: 2 }).ticket).toEqual(TICKET);
  });
});

describe('A repair', () => {
  const mends = (ticket: Partial<Ticket>) => planFor(ticket).stages.includes('repair');

  test('is a stage where it is asked for, or where a loss is judged that nobody has mended', () => {
    expect(mends({ repair: true })).toBe(true);
    expect(mends({ jurisdiction: 'eu' })).toBe(true);
    expect(mends({ jurisdiction: 'eu', repaired: true })).toBe(false);
    expect(mends({ jurisdiction: 'us' })).toBe(false);
    expect(mends({})).toBe(false);
  });
});

test('Contaminated refrigerant is neither purged nor let over the oil', () => {
  const machine: Equipment = {
    ...OIL_EQUIPMENT,
    fitted: [...OIL_EQUIPMENT.fitted, 'airPurgeValve'],
    tankRestedMs: 7_200_000,
  };
  const foreign = { ...machine, tank: { ...machine.tank, contaminated: true } };
  expect(planFor({ service: 'recover' }, machine).stages).toEqual(
    expect.arrayContaining(['purge-air', 'drain-oil']),
  );
  expect(planFor({ service: 'recover' }, foreign).stages).toEqual([
    'identify',
    'settle',
    'recover',
    'rest',
    'recover-hoses',
  ]);
});

test('Oil that would be given back is left out where nothing is known of its flow', () => {
  const { oil: _, ...unknown } = OIL_EQUIPMENT;
  expect(planFor({}, unknown).adds).toEqual([]);
  const electric = { electricCompressor: true, ...POE } as const;
  expect(planFor(electric, unknown).adds).toEqual([]);
});

test('A machine that is worked by hand has the figures of every stage, and no stage', () => {
  expect(planByHand(TICKET, R134A)).toEqual({
    ...TARGETS,
    ticket: TICKET,
    service: 'by-hand',
    stages: [],
    adds: [],
    curve: R134A,
  });
});

describe('A draft', () => {
  test('is what the job would be, though something stands against it', () => {
    const wrong = { ...TICKET, refrigerant: 'R-1234yf', leakCheck: true };
    expect(draftPlan(wrong, EQUIPMENT, R134A)!.stages).toContain('leak-check');
    expect(draftPlan(TICKET, EQUIPMENT, R134A)).toEqual(planFor());
  });

  test('is none where its figures are none', () =>
    expect(draftPlan({ ...TICKET, nominalChargeKg: Number.NaN }, EQUIPMENT, R134A)).toBeUndefined());
});
