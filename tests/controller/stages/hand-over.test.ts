// The word that the hoses are safe to take off: when it is given, shown, and taken back.
import { describe, expect, test } from 'vitest';
import type { Equipment } from '../../../controller/equipment.ts';
import { openJob } from '../../../controller/scan.ts';
import { commandsOf, OFF, ON, type Output } from '../../../controller/signals.ts';
import {
  handOver,
  hosesAreSafe,
  hosesShowPressure,
  takenBack,
} from '../../../controller/stages/hand-over.ts';
import type { ControllerState } from '../../../controller/state.ts';
import { EQUIPMENT, planFor } from '../support/machine.ts';
import { type Given, shown } from '../support/stage-input.ts';

/** 0.3 bar above the standard atmosphere (common practice), and three deviations of each gauge. */
const HIGH_PA = 101_325 + 30_000 + 22_500;
const LOW_PA = 101_325 + 30_000 + 7_500;
const sides = (highSidePa: number | undefined, lowSidePa: number | undefined): Given => ({
  seen: { highSidePa, lowSidePa },
});
const WITHOUT_LOW: Equipment = {
  ...EQUIPMENT,
  fitted: EQUIPMENT.fitted.filter((output) => output !== 'lowSideValve'),
};

describe('A hose shows pressure', () => {
  const shows = (given: Given): boolean => hosesShowPressure(shown(given));

  test('that its gauge could not make up, on either side', () => {
    expect(shows(sides(HIGH_PA, LOW_PA))).toBe(false);
    expect(shows(sides(HIGH_PA + 1, LOW_PA))).toBe(true);
    expect(shows(sides(HIGH_PA, LOW_PA + 1))).toBe(true);
    expect(shows(sides(undefined, undefined))).toBe(false);
    expect(shows(sides(undefined, LOW_PA + 1))).toBe(true);
    expect(hosesShowPressure({ ...shown(), seen: undefined })).toBe(false);
  });

  test('above the barometer of the place', () =>
    expect(shows({ seen: { ...sides(HIGH_PA, LOW_PA).seen, barometerPa: 101_324 } })).toBe(true));

  test('on the low side of a vehicle with one port only where the machine has a valve there', () => {
    const one = { ...sides(100_000, 300_000), ticket: { ports: 1 } } as const;
    expect(shows(one)).toBe(true);
    expect(shows({ ...one, equipment: WITHOUT_LOW })).toBe(false);
  });
});

test('The word is given once, and kept', () => {
  const given = handOver(shown({ accounts: { chargedKg: 0.6 } }));
  expect(given.accounts).toMatchObject({ hosesSafe: true, chargedKg: 0.6 });
  expect(given.notices).toEqual([{ code: 'hoses-safe' }]);
});

describe('The word is taken back', () => {
  const back = (given: Given, hosesSafe = true) => takenBack(shown({ ...given, accounts: { hosesSafe } }));

  test('when pressure returns, with how much', () => {
    expect(back(sides(300_000, 100_000))).toMatchObject({
      accounts: { hosesSafe: false },
      notice: { code: 'hoses-not-safe', with: { pressure: '300' } },
    });
    expect(back(sides(100_000, 250_000))?.notice).toMatchObject({ with: { pressure: '250' } });
  });

  test('NOT while there is none, nor where it was never given', () => {
    expect(back(sides(100_000, 100_000))).toBeUndefined();
    expect(back(sides(300_000, 300_000), false)).toBeUndefined();
  });
});

describe('The word is shown', () => {
  const isSafe = (given: Given = {}, on: readonly Output[] = [], hosesSafe = true): boolean => {
    const { seen, accounts, plan, equipment } = shown({ ...given, accounts: { hosesSafe } });
    const permitted = commandsOf((output) => (on.includes(output) ? ON : OFF));
    const state: ControllerState = { ...openJob(plan, equipment, 0), seen, accounts };
    return hosesAreSafe({ ...state, judged: { permitted } as ControllerState['judged'] });
  };

  test('while it stands, the hoses are read, and nothing is on that could fill them', () => {
    expect(isSafe()).toBe(true);
    expect(isSafe({}, [], false)).toBe(false);
    expect(isSafe({}, ['chargeValve'])).toBe(false);
    expect(isSafe({}, ['fanStop', 'vacuumPump'])).toBe(false);
    expect(isSafe({}, ['fanStop'])).toBe(true);
  });

  test('NOT where a gauge of its hoses is silent', () => {
    expect(isSafe(sides(undefined, 60_000))).toBe(false);
    expect(isSafe(sides(60_000, undefined))).toBe(false);
    const one = { ...sides(60_000, undefined), ticket: { ports: 1 } } as const;
    expect(isSafe(one)).toBe(false);
    expect(isSafe({ ...one, equipment: WITHOUT_LOW })).toBe(true);
  });

  test('NOT before anything was read, and as soon as it is where no interlock has judged yet', () => {
    const { accounts, seen } = shown({ accounts: { hosesSafe: true } });
    const state = { ...openJob(planFor(), EQUIPMENT, 0), accounts };
    expect(hosesAreSafe(state)).toBe(false);
    expect(hosesAreSafe({ ...state, seen })).toBe(true);
  });
});
