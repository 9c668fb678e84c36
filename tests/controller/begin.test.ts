// A job that is about to begin: what the tank shows at rest, and all that stands against the job at once.
import { describe, expect, test } from 'vitest';
import { planWithTank, tankAtRest } from '../../controller/begin.ts';
import type { Equipment } from '../../controller/equipment.ts';
import type { SaturationCurve } from '../../controller/saturation.ts';
import type { Readings } from '../../controller/signals.ts';
import type { Ticket } from '../../controller/ticket.ts';
import { EQUIPMENT, R134A, TICKET } from './support/machine.ts';
import { none, readingsAt, type Values } from './support/readings.ts';

const atRest = (...looks: readonly [Values, ...Values[]]) =>
  tankAtRest(
    looks.map((values) => readingsAt(0, values)) as unknown as [Readings, ...Readings[]],
    EQUIPMENT,
    R134A,
    0,
  );
const counts = (scaleCounts: Values['scaleCounts']): Values => ({ scaleCounts: scaleCounts! });

describe('The tank at rest', () => {
  test('weighs the median of the looks, whatever their order', () => {
    expect(atRest(counts(2_100_000)).netKg).toBe(8);
    expect(atRest(counts(2_300_000), counts(900_000), counts(2_100_000)).netKg).toBe(8);
    // Of two the upper; as numbers, of which one has a digit more than the other.
    expect(atRest(counts(2_100_000), counts(900_000)).netKg).toBe(8);
  });

  test('weighs nothing that is no number, and is unknown where no look has any', () => {
    expect(atRest(counts(none('stale')), counts(2_100_000), counts(Number.NaN)).netKg).toBe(8);
    expect(atRest(counts(none('stale'))).netKg).toBeUndefined();
  });

  test('is else seen as at the last look', () => {
    const { seen, curve } = atRest({ tankPressurePa: 400_000 }, { tankPressurePa: 500_000 });
    expect(seen.tankPa).toBe(500_000);
    expect(curve).toBe(R134A);
  });
});

describe('The plan', () => {
  const planned = (
    values: Values,
    ticket: Partial<Ticket> = {},
    equipment: Equipment = EQUIPMENT,
    curve: SaturationCurve = R134A,
  ) =>
    planWithTank(
      { ...TICKET, ...ticket },
      equipment,
      R134A,
      tankAtRest([readingsAt(0, values)], equipment, curve, 0),
    );
  const codes = (...asked: Parameters<typeof planned>) => {
    const plan = planned(...asked);
    return plan.ok ? [] : plan.blockers.map(({ code }) => code);
  };
  const EMPTY = counts(1_350_000);
  const WRONG = { refrigerant: 'R-1234yf' };

  test('is made where nothing stands against it', () => expect(planned({}).ok).toBe(true));

  test('is refused for what is wrong with the tank, in words that say what to do', () => {
    const plan = planned(EMPTY);
    expect(plan).toMatchObject({ ok: false });
    if (plan.ok) return;
    expect(plan.blockers).toHaveLength(1);
    expect(plan.blockers[0]).toStrictEqual({
      code: 'tank-too-empty',
      text: expect.stringMatching(/^The tank holds 0\.50 kg/),
      remedy: expect.stringMatching(/fuller tank/),
    });
  });

  test('is refused for ticket and tank at once, the ticket first', () => {
    expect(codes(EMPTY, WRONG)).toEqual([
      'tank-refrigerant-differs',
      'curve-refrigerant-differs',
      'tank-too-empty',
    ]);
    expect(codes({}, WRONG)).toEqual(['tank-refrigerant-differs', 'curve-refrigerant-differs']);
  });

  test('is refused for the ticket alone where the scale says nothing, or its figures are none', () => {
    expect(codes(counts(none('stale')), WRONG)).toHaveLength(2);
    expect(codes(counts(none('stale')))).toEqual([]);
    expect(codes(EMPTY, { nominalChargeKg: Number.NaN })).toEqual(['figure-missing']);
  });

  test('is refused for air in the tank, unless the job begins with a purge of it', () => {
    const airy = { tankPressurePa: 800_000 };
    const purges: Equipment = {
      ...EQUIPMENT,
      fitted: [...EQUIPMENT.fitted, 'airPurgeValve'],
      tankRestedMs: 7_200_000,
    };
    expect(codes(airy)).toEqual(['air-in-tank']);
    expect(codes(airy, {}, purges)).toEqual([]);
    expect(codes({ ...airy, ...EMPTY }, {}, purges)).toEqual(['tank-too-empty']);
  });
});
