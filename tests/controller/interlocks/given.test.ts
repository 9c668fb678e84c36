// How much may leave the tank for a vehicle, whatever the sequence thinks.
import { describe, expect, test } from 'vitest';
import {
  type GivenInput,
  type GivenWatch,
  givenOf,
  mostGivenKg,
  mostKeptKg,
  NOTHING_GIVEN,
  watchGiven,
} from '../../../controller/interlocks/given-watch.ts';
import { EQUIPMENT, R134A } from '../support/machine.ts';

const MOST_KG = mostGivenKg(0.6, EQUIPMENT, EQUIPMENT.scale.hoseForceKgPerPaSd, R134A, 293.15);
const STILL: GivenInput = {
  tankKg: 10,
  empty: false,
  holds: false,
  pressed: false,
  feeds: false,
  draws: false,
  keptKg: mostKeptKg(EQUIPMENT),
  mostKg: MOST_KG,
};

const watched = (...steps: readonly Partial<GivenInput>[]): GivenWatch =>
  steps.reduce<GivenWatch>(
    (watch, step, index) => watchGiven(watch, { ...STILL, ...step }, 1_000 * index),
    NOTHING_GIVEN,
  );

describe('What may leave the tank for a vehicle', () => {
  // 93 mL of hose and manifold at 1225.3 kg/m³ are 114 g, hoses that press by 10 g at 6 bar three times that.
  test('is its nominal charge, hoses full of liquid, and what the scale may be off by', () => {
    expect(MOST_KG).toBeCloseTo(0.6 + 0.114 + 0.03 + 0.03, 3);
  });

  test('is spent when it has left, and NOT before', () => {
    expect(watched({}, { tankKg: 10 - MOST_KG + 0.001 }).spent).toBe(false);
    expect(watched({}, { tankKg: 10 - MOST_KG - 0.001 }).spent).toBe(true);
  });

  test('is there again when it has come back, or when the vehicle has been emptied', () => {
    const spent = { tankKg: 9 };
    expect(watched({}, spent).spent).toBe(true);
    expect(watched({}, spent, { tankKg: 9.9, draws: true }).spent).toBe(false);
    expect(watched({}, spent, { ...spent, empty: true }).spent).toBe(false);
  });

  test('is NOT more by what came out of the vehicle before: from then on the fuller tank counts', () => {
    const recovered = [{}, { tankKg: 10.5, draws: true }] as const;
    expect(watched(...recovered, { tankKg: 10.5 - MOST_KG + 0.01 }).spent).toBe(false);
    expect(watched(...recovered, { tankKg: 10.5 - MOST_KG - 0.01 }).spent).toBe(true);
  });

  // 0.12 L of condenser at 1295 kg/m³, and 50 g in the separator.
  test('is more once something was drawn back out of the hoses: what the machine keeps of it is counted as given', () => {
    const drawnBack = [{ empty: true }, { tankKg: 9.5 }, { tankKg: 9.52, draws: true }] as const;
    const most = 10 - MOST_KG;
    expect(STILL.keptKg).toBeCloseTo(0.12e-3 * 1295 + 0.05, 4);
    expect(watched(...drawnBack, { tankKg: most - 0.2 }).spent).toBe(false);
    expect(watched(...drawnBack, { tankKg: most - 0.21 }).spent).toBe(true);
    expect(watched(...drawnBack, { empty: true, tankKg: 10 }, { tankKg: most - 0.01 }).spent).toBe(true);
  });

  test('is NOT moved by a platform that carries more while nothing is drawn', () => {
    expect(watched({}, { tankKg: 11 }, { tankKg: 10 - 0.9 * MOST_KG }).spent).toBe(false);
  });

  test('is unknown until a vacuum has been seen in the vehicle, with a scale or without', () => {
    expect(givenOf(watched({}, { tankKg: 10.5, draws: true }))).toBe('unknown');
    expect(givenOf(watched({}, { empty: true }, {}))).toBe('some-left');
    expect(givenOf(watched({ tankKg: undefined, empty: true }, {}))).toBe('some-left');
    expect(givenOf(watched({ empty: true }, { tankKg: 9 }))).toBe('spent');
  });

  test('counts from the vehicle last seen empty, and a zero that wanders by less than a gram moves nothing', () => {
    const from = (tankKg: number) => watched({ empty: true, tankKg: 0 }, { empty: true, tankKg }).fromKg;
    expect([from(0.000_999), from(-0.000_999)]).toEqual([0, 0]);
    expect([from(0.001), from(-0.001)]).toEqual([0.001, -0.001]);
  });

  test('counts from the fuller tank once a gram more was drawn out of the vehicle', () => {
    const from = (tankKg: number, draws: boolean) => watched({ tankKg: 0 }, { tankKg, draws }).fromKg;
    expect([from(0.000_999, true), from(0.001, true), from(0.001, false)]).toEqual([0, 0.001, 0]);
    expect(from(-0.5, true)).toBe(0);
  });

  test('is all of it before it is spent: the last gram is NOT too much', () => {
    const given = (tankKg: number) => watched({ tankKg: 1, mostKg: 0.5 }, { tankKg, mostKg: 0.5 }).spent;
    expect([given(0.5), given(0.499)]).toEqual([false, true]);
  });

  test('knows of what was drawn while the scale was not trusted', () => {
    const drawn = watched({ empty: true }, { tankKg: undefined, draws: true });
    expect(watchGiven(drawn, { ...STILL, tankKg: 10 - MOST_KG - 0.2 }, 2_000).spent).toBe(false);
    const nothing = watched({ empty: true }, { tankKg: undefined });
    expect(watchGiven(nothing, { ...STILL, tankKg: 10 - MOST_KG - 0.2 }, 2_000).spent).toBe(true);
  });

  test('counts from what was weighed last, where the scale is not trusted while the vehicle is seen empty', () => {
    const unweighed = [{ empty: true }, { empty: true, tankKg: undefined }];
    expect(watched(...unweighed, { tankKg: 10 - MOST_KG - 0.001 }).spent).toBe(true);
  });

  test('is unknown to a controller that starts, and stays so while the scale is not trusted', () => {
    expect(givenOf(NOTHING_GIVEN)).toBe('unknown');
    expect(watchGiven(NOTHING_GIVEN, { ...STILL, tankKg: undefined }, 0)).toBe(NOTHING_GIVEN);
  });

  test('is the very same while nothing has changed', () => {
    const before = watched({ empty: true }, {});
    expect(watchGiven(before, STILL, 2_000)).toBe(before);
  });

  test('is unknown again when the vehicle that was empty stands above a vacuum though nothing was given', () => {
    const holds = { holds: true };
    expect(givenOf(watched({ empty: true }, holds, holds, holds, holds))).toBe('unknown');
    expect(givenOf(watched({ empty: true }, holds, holds, holds, holds, { empty: true }))).toBe('some-left');
  });

  test('is NOT unknown by what was given, nor by hoses that take a moment to even out with the vacuum', () => {
    const holds = { holds: true };
    expect(givenOf(watched({ empty: true }, { feeds: true }, holds, holds, holds, holds))).toBe('some-left');
    expect(givenOf(watched({ empty: true }, holds, holds, { empty: true }, holds, holds))).toBe('some-left');
  });

  test('is unknown at once while the hose shows pressure though nothing was given, and stays so after three seconds', () => {
    const pressed = { pressed: true };
    expect(givenOf(watched({ empty: true }, pressed))).toBe('unknown');
    expect(givenOf(watched({ empty: true }, { holds: true }, { holds: true, pressed: true }))).toBe(
      'unknown',
    );
    expect(givenOf(watched({ empty: true }, pressed, {}))).toBe('some-left');
    expect(givenOf(watched({ empty: true }, pressed, pressed, pressed, pressed, {}))).toBe('unknown');
    expect(givenOf(watched({ empty: true }, { feeds: true }, pressed, pressed, pressed, pressed))).toBe(
      'some-left',
    );
  });

  test('a scale that is not trusted changes nothing; a mass or a limit that is no number never permits', () => {
    const before = watched({}, { tankKg: 9.5 });
    expect(watchGiven(before, { ...STILL, tankKg: undefined }, 2_000)).toBe(before);
    expect(watched({}, { tankKg: Number.NaN }).spent).toBe(true);
    expect(watched({}, { mostKg: Number.NaN }).spent).toBe(true);
  });
});
