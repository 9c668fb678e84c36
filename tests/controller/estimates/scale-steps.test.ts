// The scale chain reading by reading, from a state that a test has made: what one reading, or none, does to it.
import { describe, expect, test } from 'vitest';
import { updateScale } from '../../../controller/estimates/scale.ts';
import { openScale, type ScaleInput, type ScaleState } from '../../../controller/estimates/scale-state.ts';
import { EQUIPMENT } from '../support/machine.ts';
import { countsOf } from '../support/weighings.ts';

const FORCE_KG_PER_PA = 2e-8;
const HOSES_PA = 500_000;
/** At rest with 8 kg for so long that it is as sure as it gets. */
const RESTED: ScaleState = {
  ...openScale(),
  trust: 'trusted',
  recent: [8, 8, 8, 8, 8].map((kg) => countsOf(kg)),
  counts: countsOf(8),
  massKg: 8,
  slowMassKg: 8,
  variance: [1e-8, 0, 1e-12],
  atMs: 10_000,
  sameSinceMs: 10_000,
  hoseForceKgPerPa: FORCE_KG_PER_PA,
};
const CALM: ScaleInput = {
  counts: countsOf(8) + 1,
  atMs: 10_100,
  path: 'shut',
  settling: false,
  drawsSinceMs: undefined,
  coil: undefined,
  hoseGaugePa: 0,
  hoseForceKgPerPa: FORCE_KG_PER_PA,
  hoseForceSdKgPerPa: 1e-8,
};
const after = (state: Partial<ScaleState>, input: Partial<ScaleInput> = {}): ScaleState =>
  updateScale({ ...RESTED, ...state }, { ...CALM, ...input }, EQUIPMENT);
/** The median of five follows a step with its third reading: two have come already. */
const stepped = (kg: number, input: Partial<ScaleInput> = {}, state: Partial<ScaleState> = {}) =>
  after(
    { recent: [8, 8, 8, 8 + kg, 8 + kg].map((each) => countsOf(each)), ...state },
    { counts: countsOf(8 + kg), ...input },
  );

describe('A scale that gives no reading', () => {
  const silent = { counts: undefined, atMs: undefined };

  test.each(['trusted', 'stuck'] as const)('is not believed as it was before, when it was %s', (trust) =>
    expect(after({ trust }, silent)).toMatchObject({ trust: 'disturbed', massKg: 8 }),
  );

  test('stays as it is where it has not been read yet, or not come to rest', () => {
    for (const trust of ['not-read', 'disturbed'] as const) {
      const state = { ...RESTED, trust };
      expect(updateScale(state, { ...CALM, ...silent }, EQUIPMENT)).toBe(state);
    }
  });
});

describe('A step of the reading', () => {
  test('by six grams is a bump with everything shut, and none while something still settles or flows', () => {
    expect(stepped(0.006).trust).toBe('disturbed');
    expect(stepped(0.006, { settling: true }).trust).toBe('trusted');
    expect(stepped(0.006, { path: 'into-tank' }).trust).toBe('trusted');
    expect(stepped(0.06, { path: 'into-tank' }).trust).toBe('disturbed');
  });
});

describe('A side sensor that falls silent', () => {
  test('changes the mean pressure of the hoses, and neither mass nor trust', () => {
    const pushed = { massKg: 8, slowMassKg: 8, calmHosePa: HOSES_PA };
    const counts = countsOf(8 + FORCE_KG_PER_PA * HOSES_PA);
    const recent = [counts, counts, counts, counts, counts];
    const phantomPa = 40_000;
    const lost = after(
      { ...pushed, recent },
      { counts: counts + 1, hoseGaugePa: HOSES_PA + phantomPa, hosePhantomPa: phantomPa },
    );
    // The same load reads as less refrigerant, by the force of the pressure that is not there.
    expect(lost.massKg).toBeCloseTo(8 - FORCE_KG_PER_PA * phantomPa, 6);
    expect(lost).toMatchObject({ trust: 'trusted', hoseForceKgPerPa: FORCE_KG_PER_PA });
    expect(lost.calmHosePa).toBeCloseTo(HOSES_PA + phantomPa, 6);
  });
});
