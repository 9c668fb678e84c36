// Whether the tank on the scale is the one that it is said to be: by what it weighs since the last job, and by what it stands at.
import { describe, expect, test } from 'vitest';
import { planWithTank, tankAtRest } from '../../controller/begin.ts';
import type { Equipment } from '../../controller/equipment.ts';
import { EQUIPMENT, R134A, TICKET } from './support/machine.ts';
import { readingsAt, type Values } from './support/readings.ts';

/** Net, by the calm readings. */
const NET_KG = (2_100_000 - EQUIPMENT.scale.zeroCounts) / EQUIPMENT.scale.countsPerKg;

function blockersOf(values: Values, lastNetKg?: number): readonly string[] {
  const tank = { ...EQUIPMENT.tank, ...(lastNetKg === undefined ? {} : { lastNetKg }) };
  const equipment: Equipment = { ...EQUIPMENT, tank };
  const planned = planWithTank(
    TICKET,
    equipment,
    R134A,
    tankAtRest([readingsAt(0, values)], equipment, R134A, 0),
  );
  return planned.ok ? [] : planned.blockers.map(({ code }) => code);
}

describe('a tank that stands below the vapour pressure of its refrigerant', () => {
  test.each([
    // Isobutane at 20 °C (NIST Chemistry WebBook): it has 3.02 bar where R-134a has 5.72.
    { what: 'isobutane', tankPressurePa: 302_000 },
    { what: 'air alone', tankPressurePa: 101_325 },
  ])('is none of this refrigerant: $what', ({ tankPressurePa }) => {
    expect(blockersOf({ tankPressurePa })).toEqual(['tank-below-saturation']);
  });

  test.each([
    { what: 'at saturation', values: {} },
    { what: 'a little below, as its sensors may be off', values: { tankPressurePa: 560_000 } },
    { what: 'unread', values: { tankPressurePa: { ok: false, reason: 'open-circuit' } as const } },
  ])('is NOT what is told of one $what', ({ values }) => {
    expect(blockersOf(values)).toEqual([]);
  });
});

describe('a tank that the last job left with a known mass', () => {
  test.each([0.8, 0.4, -0.4, -0.8])('is another one when %d kg have come', (movedKg) => {
    expect(blockersOf({}, NET_KG - movedKg)).toEqual(['tank-exchanged']);
  });

  test.each([0, 0.1, -0.1])('is NOT another one for %d kg', (movedKg) => {
    expect(blockersOf({}, NET_KG - movedKg)).toEqual([]);
  });
});
