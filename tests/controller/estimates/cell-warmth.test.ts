// The cell of the scale above the room: how it follows the drives, and what that adds to the doubt of two weighings.
import { describe, expect, test } from 'vitest';
import { warmerK } from '../../../controller/estimates/cell-warmth.ts';
import { gainOf, type Weighing } from '../../../controller/estimates/masses.ts';
import { EQUIPMENT } from '../support/machine.ts';

const SCAN_MS = 100;
const warmerAfter = (minutes: number, driven: boolean, fromK = 0): number => {
  let k = fromK;
  for (let ms = 0; ms < minutes * 60_000; ms += SCAN_MS) k = warmerK(k, driven, SCAN_MS);
  return k;
};

describe('A cell in a machine that runs', () => {
  test('warms by 4 K with a time constant of 20 min, and cools with the same', () => {
    for (const minutes of [5, 20, 60]) {
      const share = Math.exp(-minutes / 20);
      expect(warmerAfter(minutes, true)).toBeCloseTo(4 * (1 - share), 3);
      expect(warmerAfter(minutes, false, 3)).toBeCloseTo(3 * share, 3);
    }
  });

  test('keeps its warmth in a clock that stands or runs back, and never overshoots in one that jumps', () => {
    expect(warmerK(2, true, 0)).toBe(2);
    expect(warmerK(2, true, -5_000)).toBe(2);
    expect(warmerK(2, true, 1e9)).toBe(4);
  });
});

describe('A gain between two weighings', () => {
  const { zeroDriftKgPerKSd } = EQUIPMENT.scale;
  const weighing = (cellWarmerK: number, ambientK = 293): Weighing => ({
    counts: 2_100_000,
    meanSdKg: 0,
    offsetKg: 0,
    bumps: 0,
    undecidedVarianceKg2: 0,
    hoseGaugePa: 0,
    ambientK,
    hoseDoubtPa: 0,
    cellWarmerK,
    driftKgPerS: 0,
    atMs: 0,
  });
  const sdKg = (before: Weighing, later: Weighing) =>
    gainOf(before, later, EQUIPMENT, { kgPerPa: 0, sdKgPerPa: 0 }).sdKg;

  test('is as unsure as the zero may drift over what the cell has warmed, the room and the machine together', () => {
    expect(sdKg(weighing(0), weighing(3))).toBeCloseTo(zeroDriftKgPerKSd * Math.hypot(3, 0.1), 9);
    expect(sdKg(weighing(0), weighing(3, 295))).toBeCloseTo(zeroDriftKgPerKSd * Math.hypot(5, 0.1), 9);
    expect(sdKg(weighing(0), weighing(3, 290))).toBeCloseTo(zeroDriftKgPerKSd * 0.1, 9);
    expect(sdKg(weighing(3), weighing(3))).toBeCloseTo(zeroDriftKgPerKSd * 0.1, 9);
  });
});
