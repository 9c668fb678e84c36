// What the vehicle holds at the end, reckoned by hand from the weighings, and when it is told that it is off.
import { describe, expect, test } from 'vitest';
import { NOTHING_KEPT } from '../../../controller/estimates/kept.ts';
import { settleAccounts, shortOf } from '../../../controller/stages/net-charge.ts';
import type { Accounts } from '../../../controller/state.ts';
import { type Given, shown, weighing } from '../support/stage-input.ts';

/** 600 g have left the tank since the charge began, and the hoses are empty unless told otherwise. */
function settled(accounts: Partial<Accounts> = {}, given: Given = {}, hosesPa = 0): Accounts {
  const input = shown({ ...given, accounts: { weighedBeforeCharge: weighing(8.6), ...accounts } });
  return settleAccounts(input.accounts, weighing(8), hosesPa, input);
}
const gramsOf = (kg: number | undefined): number => (kg ?? Number.NaN) * 1000;

describe('The net charge', () => {
  test('is what the tank has lost', () => expect(gramsOf(settled().netChargeKg)).toBeCloseTo(600, 6));

  test('counts the gram that the oil of a recovered vehicle has kept, and NOT where next to nothing came', () => {
    expect(gramsOf(settled({ recoveredKg: 0.051 }).netChargeKg)).toBeCloseTo(600.9, 6);
    expect(gramsOf(settled({ recoveredKg: 0.05 }).netChargeKg)).toBeCloseTo(600, 6);
  });

  test('leaves out what has stayed in the coil meanwhile', () => {
    const kept = { ...NOTHING_KEPT, kg: 0.005 };
    expect(gramsOf(settled({ kept }).netChargeKg)).toBeCloseTo(600, 6);
    expect(gramsOf(settled({ kept, keptBeforeCharge: NOTHING_KEPT }).netChargeKg)).toBeCloseTo(595, 6);
  });

  test('leaves out the vapour of hoses and manifold, an ideal gas of 102 g/mol', () => {
    // p V M / R T with 126 mL at two ports and 93 mL at one, 50 kPa: 0.264 and 0.195 g at 20 °C, 0.294 g at -10 °C.
    const vapour = (given: Given): number => 600 - gramsOf(settled({}, given, 50_000).netChargeKg);
    expect(Math.abs(vapour({}) - 0.264)).toBeLessThan(0.01);
    expect(Math.abs(vapour({ ticket: { ports: 1 } }) - 0.195)).toBeLessThan(0.01);
    expect(Math.abs(vapour({ seen: { ambientK: 263.15 } }) - 0.294)).toBeLessThan(0.01);
    expect(vapour({ seen: { ambientK: undefined } })).toBeCloseTo(vapour({}), 6);
  });

  test('is as sure as scale, machine, residue, coil and creep are together', () => {
    // Variances in g²: means 0.04 each, span 0.0324, creep 0.0576, warmth 0.01, machine 0.04, residue 0.09.
    expect(gramsOf(settled().uncertaintyKg)).toBeCloseTo(2 * Math.sqrt(0.31), 6);
    expect(gramsOf(settled({ scaleMovesKg: 0.002 }).uncertaintyKg)).toBeCloseTo(2 * Math.sqrt(2), 6);
    const coil = { keptBeforeCharge: NOTHING_KEPT, kept: { ...NOTHING_KEPT, sdKg: 0.0013 } };
    expect(gramsOf(settled(coil).uncertaintyKg)).toBeCloseTo(2 * Math.sqrt(0.31 + 1.69 - 0.25), 6);
  });

  test('is NOT stated where nothing was weighed before, or refrigerant has gone uncounted', () => {
    expect(settled({ weighedBeforeCharge: undefined })).not.toHaveProperty('netChargeKg', expect.any(Number));
    expect(settled({ lostTrack: true })).not.toHaveProperty('netChargeKg', expect.any(Number));
  });

  test('of a service that fills the tank is none: the tank has gained', () => {
    const ticket = { service: 'fill-tank', nominalChargeKg: 0 } as const;
    const accounts = settled({ weighedFirst: weighing(7.5) }, { ticket });
    expect(accounts.netChargeKg).toBeUndefined();
    expect(gramsOf(accounts.fill?.kg)).toBeCloseTo(500, 6);
  });
});

describe('A net charge that is off', () => {
  const toldOf = (accounts: Partial<Accounts>) => {
    const input = shown({ accounts });
    return shortOf(input.accounts, input);
  };
  const told = (netChargeKg: number) => toldOf({ netChargeKg, chargedKg: 0.6 });

  test('is told beyond 8 g either way, and NOT up to that', () => {
    expect(told(0.5913)).toEqual([
      { code: 'net-charge-off', with: { net: '591', difference: '9', direction: 'below' } },
    ]);
    expect(told(0.6087)).toMatchObject([{ with: { net: '609', direction: 'above' } }]);
    expect(told(0.5921)).toEqual([]);
    expect(told(0.6079)).toEqual([]);
  });

  test('by its limit exactly is NOT told', () => {
    const { plan, accounts } = shown({
      ticket: { nominalChargeKg: 1 },
      accounts: { netChargeKg: 1.008, chargedKg: 1 },
    });
    const limited = { ...plan, hoses: { ...plan.hoses, shortKg: 1.008 - 1 } };
    expect(shortOf(accounts, { ...shown(), plan: limited })).toEqual([]);
  });

  test('is NOT told where nothing was charged or no net charge is stated', () => {
    expect(toldOf({ netChargeKg: 0.5 })).toEqual([]);
    expect(toldOf({ chargedKg: 0.6 })).toEqual([]);
  });
});
