// What the pump sees of a pressure that no longer falls: the plateau, and water that boils.

import { describe, expect, test } from 'vitest';
import type { Seen } from '../../../controller/estimates/seen.ts';
import { TRIPLE_POINT_PA, waterVapourPa } from '../../../controller/estimates/water.ts';
import type { EvacuateData } from '../../../controller/stages/data-vacuum.ts';
import { enterEvacuate, stepEvacuate } from '../../../controller/stages/evacuate.ts';
import type { Given } from '../support/stage-input.ts';
import { inputOf } from '../support/unseen-input.ts';
import { onOf } from '../support/weighings.ts';

/** In the sixth minute of a pumping that has looked at the machine already. */
const NOW_MS = 300_000;
const pumping = (over: Partial<EvacuateData> = {}): EvacuateData => ({
  ...enterEvacuate(0),
  step: 'pump',
  pumpingSinceMs: 0,
  early: true,
  boilingLooked: true,
  ...over,
});
const stepped = (data: EvacuateData, given: Given) =>
  stepEvacuate(data, inputOf({ nowMs: NOW_MS, on: ['vacuumValve'], ...given }));

describe('The pressure no longer falls', () => {
  const looked = (fromPa: number | undefined, seen: Partial<Seen>, sinceMs = NOW_MS - 60_000) =>
    stepped(pumping({ plateauFromPa: fromPa, plateauSinceMs: sinceMs, flatLooks: 1 }), { seen }).data;

  test('when it has fallen by three per cent or less in a minute', () => {
    const thermal = (pa: number) => ({ manifoldPa: 1_000, vehicleVacuumPa: pa });
    expect(looked(1_030, thermal(1_000))).toMatchObject({ plateau: true, flatLooks: 2 });
    expect(looked(1_031, thermal(1_000))).toMatchObject({ plateau: false, flatLooks: 0 });
    expect(looked(900, thermal(1_000)).plateau).toBe(true);
  });

  test('or by two steps of the absolute sensor, where that is more', () => {
    expect(looked(106, { manifoldPa: 100 }).plateau).toBe(true);
    expect(looked(107, { manifoldPa: 100 }).plateau).toBe(false);
    expect(looked(104, { manifoldPa: 50, vehicleVacuumPa: 100 }).plateau).toBe(false);
  });

  test('which is looked at once a minute: no sooner, and anew from there', () => {
    const soon = looked(1_000, { manifoldPa: 1_000 }, NOW_MS - 59_999);
    expect(soon).toMatchObject({ flatLooks: 1, plateau: false, plateauSinceMs: NOW_MS - 59_999 });
    const due = looked(1_000, { manifoldPa: 990 });
    expect(due).toMatchObject({ flatLooks: 2, plateauSinceMs: NOW_MS, plateauFromPa: 990 });
  });

  test('and never at the first look, which has nothing to compare with', () => {
    const first = looked(undefined, { manifoldPa: 800 }, NOW_MS);
    expect(first).toMatchObject({ plateau: false, plateauFromPa: 800, flatLooks: 0 });
  });

  test('and NOT where nobody sees it: what was known stands', () => {
    expect(looked(1_000, {})).toMatchObject({ plateauFromPa: 1_000, flatLooks: 1 });
  });
});

describe('The lowest pressure', () => {
  const lowest = (seen: Partial<Seen>, before?: number, sinceMs = NOW_MS) =>
    stepped(pumping({ plateauFromPa: 500, plateauSinceMs: sinceMs, lowestPa: before }), { seen }).data
      .lowestPa;

  test('is kept between looks and at a look', () => {
    for (const sinceMs of [NOW_MS, 0]) {
      expect(lowest({ manifoldPa: 400 }, 450, sinceMs)).toBe(400);
      expect(lowest({ manifoldPa: 450 }, 400, sinceMs)).toBe(400);
      expect(lowest({ manifoldPa: 450 }, undefined, sinceMs)).toBe(450);
    }
  });

  test('of the absolute sensor is never claimed below what its zero may be off by, that of the thermal one is', () => {
    expect(lowest({ manifoldPa: 20 })).toBe(100);
    expect(lowest({ manifoldPa: 20, vehicleVacuumPa: 30 })).toBe(30);
  });
});

describe('Water that boils', () => {
  const AMBIENT_K = 293.15;
  const boiling = (seen: Partial<Seen>, over: Partial<EvacuateData> = {}) =>
    stepped(pumping({ flatLooks: 3, plateauFromPa: 1_000, plateauSinceMs: NOW_MS, ...over }), {
      seen: { ambientK: AMBIENT_K, ...seen },
    });
  const told = (seen: Partial<Seen>, over?: Partial<EvacuateData>) => boiling(seen, over).notices?.[0];

  test('is told after three flat minutes, once, and is pumped on', () => {
    const step = boiling({ manifoldPa: 1_200 });
    expect(step.notices).toEqual([{ code: 'water-boils', with: { pressure: '1200' } }]);
    expect(step.data.boilingTold).toBe(true);
    expect(step.event).toBeUndefined();
    expect(onOf(step.wanted)).toContain('vacuumValve');
    expect(told({ manifoldPa: 1_200 }, { flatLooks: 2 })).toBeUndefined();
    expect(told({ manifoldPa: 1_200 }, { boilingTold: true })).toBeUndefined();
  });

  test('only after the machine was looked at, which would raise the pressure as well', () => {
    const step = boiling({ manifoldPa: 1_200 }, { boilingLooked: false });
    expect(step.notices).toBeUndefined();
    expect(step.data).toMatchObject({ step: 'apart', boilingLooked: true, boilingTold: false });
    expect(onOf(step.wanted)).toEqual(['vacuumPump']);
  });

  test('stands between half the pressure of melting ice and a fifth above that of water at room temperature', () => {
    // The absolute sensor may be off by 300 Pa either way.
    const least = TRIPLE_POINT_PA / 2 + 300;
    const most = 1.2 * waterVapourPa(AMBIENT_K) + 300;
    expect(told({ manifoldPa: least })).toBeDefined();
    expect(told({ manifoldPa: least - 0.01 })).toBeUndefined();
    expect(told({ manifoldPa: most })).toBeDefined();
    expect(told({ manifoldPa: most + 0.01 })).toBeUndefined();
  });

  test('reads 1.8 times its pressure in a thermal sensor, which has no zero to be off by', () => {
    const thermal = (pa: number) => told({ manifoldPa: 400, vehicleVacuumPa: pa });
    expect(thermal(900)).toEqual({ code: 'water-boils', with: { pressure: '500' } });
    expect(thermal(0.9 * TRIPLE_POINT_PA + 0.01)).toBeDefined();
    expect(thermal(0.9 * TRIPLE_POINT_PA - 0.01)).toBeUndefined();
    expect(thermal(1.8 * 1.2 * waterVapourPa(AMBIENT_K) - 0.01)).toBeDefined();
    expect(thermal(1.8 * 1.2 * waterVapourPa(AMBIENT_K) + 0.01)).toBeUndefined();
  });

  test('is NOT told where pressure or room are unknown', () => {
    expect(told({ manifoldPa: 1_200, ambientK: undefined })).toBeUndefined();
    expect(told({})).toBeUndefined();
  });
});
