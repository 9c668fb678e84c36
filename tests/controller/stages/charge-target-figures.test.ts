// What must leave the tank so that the vehicle ends up with its grams, figure by figure; and what a search takes of it.
import { describe, expect, test } from 'vitest';
import {
  aimedKg,
  chargeForGoodKg,
  chargeTargetKg,
  heldUpKg,
  hosesWillBeCleared,
  overKg,
  predictedHoseKg,
} from '../../../controller/stages/charge-target.ts';
import { dueM3, missing } from '../../../controller/stages/due.ts';
import { coilAfterFill, filled } from '../../../controller/stages/filled.ts';
import { partialChargeKg, partialSpareKg, referenceOf } from '../../../controller/stages/partial-charge.ts';
import { charging, type Given, scanOf, weighing } from '../support/charging.ts';
import { OIL_EQUIPMENT } from '../support/machine.ts';

/** R-134a, liquid at 20, 10 and 30 °C (Tillner-Roth and Baehr). */
const LIQUID = { at20: 1_225.3, at10: 1_261, at30: 1_187.5 };
/** The most that a blown-down hose holds of a liquid fill, and what stays in the low one. */
const FILL = 0.55;
const LOW_HOSE_KG = 0.003;
const HELD_KG = FILL * 93e-6 * LIQUID.at20 + LOW_HOSE_KG;

describe('Hose and manifold are reckoned to hold', () => {
  test('the full share where tank, room and vehicle are even; of it the hose its own volume', () => {
    expect(heldUpKg(scanOf())).toBeCloseTo(HELD_KG, 6);
    expect(predictedHoseKg(scanOf())).toBeCloseTo(FILL * 33e-6 * LIQUID.at20 + LOW_HOSE_KG, 6);
    expect(heldUpKg(scanOf({ ticket: { ports: 1 } }))).toBeCloseTo(HELD_KG - LOW_HOSE_KG, 6);
  });

  test('no more in a vehicle that is warmer, and less in one that is colder than the tank', () => {
    expect(heldUpKg(scanOf(), 571_710)).toBeCloseTo(HELD_KG, 6);
    expect(heldUpKg(scanOf(), 414_610)).toBeLessThan(0.4 * HELD_KG);
  });

  test('what stands in for a thermometer: the room for the tank, the tank for the room, 20 °C for both', () => {
    const at = (tankTemperatureK: number | undefined, ambientK: number | undefined) =>
      heldUpKg(scanOf({ seen: { tankTemperatureK, ambientK } }));
    const evenAt30 = FILL * 93e-6 * LIQUID.at30 + LOW_HOSE_KG;
    expect(at(undefined, 303.15)).toBeCloseTo(evenAt30, 6);
    expect(at(303.15, undefined)).toBeCloseTo(evenAt30, 6);
    expect(at(undefined, undefined)).toBeCloseTo(HELD_KG, 6);
    // A tank colder than its room: the vehicle ends no higher than the tank.
    const coldTank = heldUpKg(scanOf({ seen: { tankTemperatureK: 283.15, ambientK: 293.15 } }));
    expect(coldTank).toBeCloseTo(
      heldUpKg(scanOf({ seen: { tankTemperatureK: 283.15, ambientK: 293.15 } }), 414_610),
      9,
    );
  });
});

describe('What must leave the tank', () => {
  test('is, where the hoses are drawn back, what they hold and 35 g to be drawn out of the vehicle', () => {
    expect(chargeTargetKg(scanOf(), true)).toBeCloseTo(0.6 + HELD_KG + 0.035, 6);
    expect(overKg({ recoveredKg: undefined, leakCheck: undefined })).toBe(0.035);
    expect(overKg({ recoveredKg: undefined, leakCheck: {} })).toBe(0.035);
    expect(overKg({ recoveredKg: undefined, leakCheck: { admittedKg: 0 } })).toBeCloseTo(0.06, 9);
  });

  test('is a gram less where the vehicle was recovered: its oil gives up no more', () => {
    const recovered = (recoveredKg: number | undefined) =>
      chargeTargetKg(scanOf({ accounts: { recoveredKg } }), true);
    expect(recovered(0.5) - recovered(undefined)).toBeCloseTo(-0.0009, 9);
    expect(recovered(0.05)).toBe(recovered(undefined));
  });

  test('is hardly more than the charge where an engine sucks the hoses dry: thin vapour in all of them', () => {
    // 126 mL at the pressure of 0 °C, 2.928 bar, at 20 °C, by the curve's thinnest vapour: 0.105 kg/mol (Tillner-Roth and Baehr).
    const clearedKg = (126e-6 * 292_800 * 0.105) / (8.314 * 293.15);
    expect(chargeTargetKg(scanOf(), false) - 0.6).toBeCloseTo(clearedKg, 4);
    const warm = chargeTargetKg(scanOf({ seen: { ambientK: 313.15 } }), false) - 0.6;
    expect(warm).toBeCloseTo((126e-6 * 571_710 * 0.105) / (8.314 * 313.15), 4);
    const byTank = { ambientK: undefined, tankTemperatureK: 313.15 };
    expect(chargeTargetKg(scanOf({ seen: byTank }), false) - 0.6).toBeCloseTo(warm, 9);
    const neither = { ambientK: undefined, tankTemperatureK: undefined };
    expect(chargeTargetKg(scanOf({ seen: neither }), false) - 0.6).toBeCloseTo(clearedKg, 4);
  });

  test('for good is without what is drawn back', () => {
    expect(chargeForGoodKg(scanOf())).toBeCloseTo(0.6 + HELD_KG, 6);
    const engine = { ticket: { engine: 'can-run' } } as const;
    expect(chargeForGoodKg(scanOf(engine))).toBe(chargeTargetKg(scanOf(engine), false));
  });

  test('is aimed at with what a help adds, up to 10 g below what the interlock lets out', () => {
    expect(aimedKg(scanOf(), true, 0)).toBe(chargeTargetKg(scanOf(), true));
    expect(aimedKg(scanOf(), true, 0.005)).toBeCloseTo(0.6 + HELD_KG + 0.04, 6);
    // Nominal charge, hose and manifold full of liquid, 30 g of tolerance.
    const mostKg = 0.6 + 93e-6 * LIQUID.at20 + 0.03;
    expect(aimedKg(scanOf(), true, 0.2)).toBeCloseTo(mostKg - 0.01, 6);
    expect(aimedKg(scanOf({ seen: { ambientK: undefined } }), true, 0.2)).toBeCloseTo(mostKg - 0.01, 6);
    const cold = aimedKg(scanOf({ seen: { ambientK: 283.15 } }), true, 0.2);
    expect(cold).toBeCloseTo(0.6 + 93e-6 * LIQUID.at10 + 0.02, 6);
  });
});

describe('An engine will suck the hoses dry', () => {
  const cleared = (seen: NonNullable<Given['seen']>, engine: 'can-run' | 'cannot-run' = 'can-run') =>
    hosesWillBeCleared(scanOf({ ticket: { engine }, seen }));

  test('where it is planned and its compressor may switch on: from 13 °C', () => {
    expect(cleared({ ambientK: 286.15 })).toBe(true);
    expect(cleared({ ambientK: 286.14 })).toBe(false);
    expect(cleared({}, 'cannot-run')).toBe(false);
  });

  test('by the tank where the room has no thermometer, and where neither has one', () => {
    expect(cleared({ ambientK: undefined, tankTemperatureK: 286 })).toBe(false);
    expect(cleared({ ambientK: undefined, tankTemperatureK: 287 })).toBe(true);
    expect(cleared({ ambientK: undefined, tankTemperatureK: undefined })).toBe(true);
  });
});

describe('A search', () => {
  test('takes 13 % of the charge, and can do with 10 %', () => {
    expect(partialChargeKg(scanOf())).toBeCloseTo(0.078, 9);
    expect(partialSpareKg(scanOf())).toBeCloseTo(0.018, 9);
  });

  const now = weighing({ counts: 2_091_000, atMs: 9_000 });
  const from = (
    accounts: NonNullable<Given['accounts']>,
    part: 'whole' | 'partial' = 'whole',
    weighed = now,
  ) => referenceOf(charging({ part }), scanOf({ accounts }), weighed).counts;
  const before = weighing({ counts: 2_100_000 });
  const searched = weighing({ counts: 2_090_000 });

  test('is counted into the charge: from before it, with what the scale has drifted since', () => {
    expect(
      from({ weighedBeforeCharge: before, weighed: searched }, 'whole', weighing({ counts: 2_090_050 })),
    ).toBe(2_100_050);
    // Ten grams more are drift as well, because the tank stands above the vehicle; ten less have gone.
    expect(from({ weighedBeforeCharge: before, weighed: searched })).toBe(2_101_000);
    expect(
      from({ weighedBeforeCharge: before, weighed: searched }, 'whole', weighing({ counts: 2_089_000 })),
    ).toBe(2_100_000);
  });

  test('and what was never weighed before counts from now, and so does a search itself', () => {
    expect(from({ weighedBeforeCharge: undefined, weighed: searched })).toBe(2_091_000);
    expect(from({ weighedBeforeCharge: before, weighed: undefined })).toBe(2_091_000);
    expect(from({ weighedBeforeCharge: before, weighed: searched }, 'partial')).toBe(2_091_000);
  });
});

describe('Oil and dye still due', () => {
  const ticket = { oil: { kind: 'PAG', addM3: 10e-6 }, dye: { addM3: 8e-6, approved: false } } as const;
  const scene = (accounts: NonNullable<Given['accounts']> = {}) =>
    scanOf({ ticket, equipment: OIL_EQUIPMENT, accounts });

  test('are what is asked for and what was drained, less what is in', () => {
    expect(dueM3('oil', scene())).toBeCloseTo(10e-6, 12);
    expect(dueM3('dye', scene())).toBeCloseTo(8e-6, 12);
    const oil = { emptied: 0, drainedM3: 5e-6, injectedM3: 3e-6 };
    const dye = { emptied: 0, injectedM3: 2e-6 };
    expect(dueM3('oil', scene({ oil, dye }))).toBeCloseTo(12e-6, 12);
    expect(dueM3('dye', scene({ oil, dye }))).toBeCloseTo(6e-6, 12);
  });

  test('are told from half a millilitre on, each by its name', () => {
    const short = (ml: number) => ({ emptied: 0, injectedM3: 10e-6 - ml * 1e-6 });
    expect(missing('oil', scene({ oil: short(0.49) }))).toEqual([]);
    expect(missing('oil', scene({ oil: short(0.51) }))).toEqual([
      { code: 'oil-not-replaced', with: expect.objectContaining({ missing: '1', kind: 'PAG' }) },
    ]);
    expect(missing('dye', scene())).toEqual([{ code: 'dye-not-added', with: { missing: '8' } }]);
  });
});

describe('A tank that was filled', () => {
  const first = weighing();
  const last = weighing({ counts: 2_300_000 });
  const kept = { kg: 0.008, sdKg: 0.015, pushes: 2, share: 1 };
  const fillOf = (cylinderKg?: number, accounts: NonNullable<Given['accounts']> = {}) => {
    const input = scanOf({
      ticket: { service: 'fill-tank', ...(cylinderKg === undefined ? {} : { cylinderKg }) },
      accounts: { weighedFirst: first, kept, ...accounts },
    });
    return filled(input.accounts, last, input);
  };

  test('has gained what the scale says, since it was weighed first', () => {
    const { fill, weighed } = fillOf();
    expect(fill!.kg).toBeCloseTo(2, 9);
    // At least 0.03 % of span and 0.04 % of creep, twice over.
    expect(fill!.uncertaintyKg).toBeGreaterThan(2 * 2 * Math.hypot(0.0003, 0.0004));
    expect(fill!.uncertaintyKg).toBeLessThan(0.004);
    expect(fill).not.toHaveProperty('leftInCylinderKg');
    expect(weighed).toBe(last);
    expect(fillOf(undefined, { weighedFirst: undefined }).fill!.kg).toBe(0);
  });

  test('leaves in the cylinder what neither tank nor coil has, and never less than nothing', () => {
    expect(fillOf(10).fill!.leftInCylinderKg).toBeCloseTo(7.992, 9);
    expect(fillOf(10).fill!.leftUncertaintyKg).toBeCloseTo(
      2 * Math.hypot(0.015, fillOf(10).fill!.uncertaintyKg / 2),
      9,
    );
    expect(fillOf(1.5).fill!.leftInCylinderKg).toBe(0);
    expect(fillOf(10, { lostTrack: true }).fill).not.toHaveProperty('leftInCylinderKg');
  });

  test('keeps in its coil a little that nobody has counted', () => {
    expect(coilAfterFill({ kg: 0.1, sdKg: 0, pushes: 3, share: 0.9 })).toEqual({
      kg: 0.008,
      sdKg: 0.015,
      pushes: 3,
      share: 0.9,
    });
  });
});
