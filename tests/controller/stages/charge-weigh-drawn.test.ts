// The hoses are drawn, the tank is weighed: what the vehicle has too much is drawn on, what it lacks is given once more.

import { describe, expect, test } from 'vitest';
import { SAFE_COMMANDS } from '../../../controller/signals.ts';
import { beginDrawBack, weighDrawn } from '../../../controller/stages/charge-draw-back.ts';
import type { ChargeData, DrawBack } from '../../../controller/stages/data-charge.ts';
import { charging, type Given, scanOf, weighing } from '../support/charging.ts';
import { onOf } from '../support/weighings.ts';

const BEGUN = beginDrawBack(charging(), scanOf()).drawBack!;
/** Vapour of R-134a at 20 °C in both hoses, 27.78 kg/m³ in 66 mL (Tillner-Roth and Baehr). */
const HOSES_KG = 66e-6 * 27.78;

type Scene = Given & { readonly data?: Partial<ChargeData>; readonly draw?: Partial<DrawBack> };

/** The tank has lost the charge, the vapour in the hoses, and so much more. */
function weighedWith(excessG: number, { data, draw, ...given }: Scene = {}) {
  const lostKg = 0.6 + HOSES_KG + excessG / 1000;
  const after = weighing({ counts: 2_100_000 - lostKg * 100_000, atMs: 30_000 });
  const drawBack = { ...BEGUN, startedAtMs: 9_000, proofs: 2, fromKg: 0.02, openedAtMs: 8_000, ...draw };
  const charge = charging({ step: 'weigh-drawn', drawsBack: true, vehiclePa: 571_710, drawBack, ...data });
  return weighDrawn(charge, scanOf({ nowMs: 30_000, ...given }), after);
}

describe('What the vehicle has', () => {
  test('is right where it is 1.5 g too much or 4 g too little', () => {
    for (const grams of [1.49, 0, -3.99]) {
      const done = weighedWith(grams);
      expect(done.data).toMatchObject({ step: 'weigh-after', stepSinceMs: 30_000 });
      expect(done.wanted).toBe(SAFE_COMMANDS);
      expect(done.data.drawBack!.firstExcessKg).toBeCloseTo(grams / 1000, 6);
    }
  });

  test('and then the tank is to have lost that, with the vapour in the hoses, for good', () => {
    const { data, accounts } = weighedWith(1);
    expect(data.targetKg).toBeCloseTo(0.6 + HOSES_KG, 6);
    expect(accounts!.targetKg).toBe(data.targetKg);
  });

  test('that is too much is drawn on through the drawn manifold', () => {
    const more = weighedWith(1.51);
    expect(more.data).toMatchObject({
      step: 'draw-manifold',
      stepSinceMs: 30_000,
      drawBack: { draws: 1, proofs: 0, fromKg: 0, openedAtMs: undefined, startedAtMs: undefined },
    });
    expect(more.data.drawBack!.takeKg).toBeCloseTo(0.00151, 6);
    expect(more.data.targetKg).toBeCloseTo(0.6 + HOSES_KG, 6);
    expect(more.accounts!.targetKg).toBe(more.data.targetKg);
    expect(more.wanted).toBe(SAFE_COMMANDS);
  });

  test('is drawn on three times at most', () => {
    expect(weighedWith(5, { draw: { draws: 2 } }).data.step).toBe('draw-manifold');
    expect(weighedWith(5, { draw: { draws: 3 } }).data.step).toBe('weigh-after');
  });

  test('that is too little is given once more, twice at most', () => {
    const short = weighedWith(-4.01, { draw: { refills: 1 } });
    expect(short.data).toMatchObject({ step: 'settle', drawBack: { refills: 2, startedAtMs: undefined } });
    expect(short.data.topUpKg).toBeLessThan(0.2);
    expect(onOf(short.wanted)).toEqual(['highSideValve']);
    expect(short.accounts!.targetKg).toBeCloseTo(0.6 + HOSES_KG, 6);
    expect(weighedWith(-4.01, { draw: { refills: 2 } }).data.step).toBe('weigh-after');
  });

  test('after the first go is what a filling is reckoned by, whatever a draw has found since', () => {
    const first = weighedWith(1, { draw: { firstExcessKg: 0.02 } });
    expect(first.data.drawBack!.firstExcessKg).toBe(0.02);
  });
});

describe('It is reckoned', () => {
  const excessOf = (scene: Scene) => weighedWith(0, scene).data.drawBack!.firstExcessKg!;

  test('without what the coil has kept since before the charge', () => {
    const kept = (kg: number) => ({ kg, sdKg: 0.0005, pushes: 0, share: 1 });
    expect(excessOf({ accounts: { kept: kept(0.001) } })).toBeCloseTo(0, 6);
    expect(excessOf({ accounts: { kept: kept(0.001), keptBeforeCharge: kept(0) } })).toBeCloseTo(-0.001, 6);
  });

  test('with what the oil of a recovered vehicle still holds', () =>
    expect(excessOf({ accounts: { recoveredKg: 0.5 } })).toBeCloseTo(0.0009, 6));

  test('with the vapour of one hose where the vehicle has one port, and by its own pressure', () => {
    expect(excessOf({ ticket: { ports: 1 } })).toBeCloseTo(33e-6 * 27.78, 6);
    // 20.23 kg/m³ at 10 °C.
    expect(excessOf({ data: { vehiclePa: 414_610 } })).toBeCloseTo(66e-6 * (27.78 - 20.23), 6);
  });

  test('by the room where the pressure of the vehicle is not known, and by 20 °C where that is not', () => {
    const warm = { data: { vehiclePa: undefined }, seen: { ambientK: 303.15 } };
    expect(excessOf(warm)).toBeCloseTo(66e-6 * (27.78 - 37.54), 6);
    expect(excessOf({ ...warm, seen: { ambientK: undefined } })).toBeCloseTo(0, 6);
  });

  test('by the draw alone from the newest weighing, which a search has put after the reference', () => {
    const suction = { mostPa: 90_000, fell: true, guessed: false, gauge: 'none' as const };
    const count = { ...BEGUN.count, drawnKg: 0.03, totalKg: 0.03, suction };
    const keeps = (weighed: Given['accounts']) =>
      weighedWith(0, { draw: { count }, ...(weighed === undefined ? {} : { accounts: weighed }) }).accounts!
        .kept.kg;
    // The tank shows 20 g of the 30 that were drawn since it was weighed last.
    const lately = weighing({ counts: 2_100_000 - (0.6 + HOSES_KG + 0.02) * 100_000 });
    expect(keeps({ weighed: lately })).toBeCloseTo(0.01, 3);
    expect(keeps({ weighed: undefined })).toBeCloseTo(0.03, 3);
  });
});

test('Where nothing was drawn back, or nobody knows from where it counts, the tank is weighed as it is', () => {
  for (const data of [{ drawBack: undefined }, { reference: undefined }, { drawsBack: false }]) {
    const step = weighedWith(5, { data });
    expect(step.data).toMatchObject({ step: 'weigh-after', weighing: undefined });
    expect(step.wanted).toBe(SAFE_COMMANDS);
    expect(step.accounts).toBeUndefined();
  }
});
