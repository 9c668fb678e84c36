// The engine that sucks the rest of a charge in: when it may be asked for, what is proven first, and what ends it.

import { describe, expect, test } from 'vitest';
import { startCount } from '../../../controller/estimates/condenser.ts';
import type { OperatorEvent } from '../../../controller/operator.ts';
import { SAFE_COMMANDS } from '../../../controller/signals.ts';
import { beginEngineHelp, mayUseEngine } from '../../../controller/stages/charge-engine.ts';
import type { ChargeData } from '../../../controller/stages/data-charge.ts';
import { charging, type Given, scanOf, weighing } from '../support/charging.ts';
import { ENGINE, HELP, type Scene, stepOf } from '../support/charging-engine.ts';
import { EQUIPMENT } from '../support/machine.ts';
import { codesOf, onOf } from '../support/weighings.ts';

const NOT_PROVEN = ['valves-not-proven', 'charge-fell-short'];

describe('The engine', () => {
  const may = (data: Partial<ChargeData> = {}, given: Given = {}) =>
    mayUseEngine(
      charging(data),
      scanOf({ ticket: ENGINE, ...given, seen: { highSidePa: 6e5, lowSidePa: 5e5, ...given.seen } }),
    );

  test('may help a whole charge that is watched by both gauges, once', () => {
    expect(may()).toBe(true);
    expect(may({ part: 'partial' })).toBe(false);
    expect(may({ drawsBack: true })).toBe(false);
    expect(may({ engineHelp: HELP })).toBe(false);
    expect(may({}, { seen: { highSidePa: undefined } })).toBe(false);
    expect(may({}, { seen: { lowSidePa: undefined } })).toBe(false);
  });

  test('may NOT help where it is not planned, too cold to run, or runs already', () => {
    expect(may({}, { ticket: { engine: 'cannot-run' } })).toBe(false);
    expect(may({}, { seen: { ambientK: 286 } })).toBe(false);
    expect(may({}, { seen: { ambientK: 286.15 } })).toBe(true);
    expect(may({}, { seen: { highSidePa: 9e5, lowSidePa: 2e5 } })).toBe(false);
  });

  test('is waited for with every valve shut, the manifold cleared first, and that is told', () => {
    const input = scanOf({ ticket: ENGINE, gaveKg: 0.42, nowMs: 5_000, accounts: { weighed: weighing() } });
    const step = beginEngineHelp(charging(), input);
    expect(step.wanted).toBe(SAFE_COMMANDS);
    expect(step.notices).toEqual([{ code: 'charge-waits-engine', with: { charged: '420' } }]);
    expect(step.data).toMatchObject({
      step: 'clear-manifold',
      stepSinceMs: 5_000,
      engineHelp: { drew: false, fanStopped: false, left: 0, fired: 0 },
    });
    expect(step.data.engineHelp!.count.shownKg).toBeCloseTo(-0.42, 9);
  });
});

describe('Clearing the manifold', () => {
  const drawing = { ...SAFE_COMMANDS, compressor: { on: true } };
  const clear = ({ seen, ...scene }: Scene = {}) =>
    stepOf('clear-manifold', { nowMs: 1_000, ...scene, seen: { manifoldPa: 90_000, ...seen } });

  test('waits for the compressor to have rested and for a scale that is trusted', () => {
    expect(onOf(clear({ compressorRested: false }).wanted)).toEqual([]);
    expect(onOf(clear({ compressorRested: true }).wanted)).toEqual(['recoveryValve', 'compressor']);
    expect(onOf(clear({ compressorRested: true, scale: { trust: 'disturbed' } }).wanted)).toEqual([]);
  });

  test('goes on once it has begun, without the fan where the tank is the warmer', () => {
    const begun = clear({ permitted: drawing, compressorRested: false });
    expect(begun.data.engineHelp!.drew).toBe(true);
    expect(onOf(begun.wanted)).toEqual(['recoveryValve', 'compressor']);
    const still = clear({ help: { drew: true, fanStopped: true } });
    expect(onOf(still.wanted)).toEqual(['recoveryValve', 'compressor', 'fanStop']);
  });

  test('is over at 60 kPa, and NOT before the compressor has drawn', () => {
    const at = (manifoldPa: number | undefined, drew = true) =>
      clear({ seen: { manifoldPa }, help: { drew } }).data.step;
    expect(at(60_000)).toBe('prove-shut');
    expect(at(60_001)).toBe('clear-manifold');
    expect(at(undefined)).toBe('clear-manifold');
    expect(at(60_000, false)).toBe('clear-manifold');
    expect(onOf(clear({ help: { drew: true }, seen: { manifoldPa: 60_000 } }).wanted)).toEqual([]);
  });

  test('is given up after six minutes', () => {
    const seen = { manifoldPa: 90_000 };
    expect(clear({ nowMs: 360_000, seen }).data.step).toBe('clear-manifold');
    expect(clear({ nowMs: 370_000, seen, data: { stepSinceMs: 10_000 } }).data.step).toBe('clear-manifold');
    const late = clear({ nowMs: 360_001, seen });
    expect(late.data).toMatchObject({ step: 'weigh-after', result: 'stalled' });
    expect(late.notices).toEqual([
      { code: 'valves-not-proven' },
      { code: 'charge-fell-short', with: { charged: '500', target: '600' } },
    ]);
  });

  test('counts what is drawn', () => {
    const before = clear({ nowMs: 2_000, permitted: drawing, seen: { manifoldPa: 120_000 } });
    expect(before.data.engineHelp!.count.totalKg).toBeGreaterThan(0.0001);
  });
});

describe('The valves are proven shut', () => {
  const stands = { manifoldPa: 100_000, highSidePa: 600_000, lowSidePa: 500_000 };
  const prove = ({ seen, ...scene }: Scene = {}) =>
    stepOf('prove-shut', { nowMs: 10_000, ...scene, seen: { ...stands, ...seen } });

  test('by ten seconds of pressure in both hoses and none between them', () => {
    expect(prove({ nowMs: 14_999, data: { stepSinceMs: 5_000 } }).data.step).toBe('prove-shut');
    expect(prove({ nowMs: 9_999 })).toMatchObject({ data: { step: 'prove-shut' }, wanted: SAFE_COMMANDS });
    expect(prove()).toMatchObject({
      data: { step: 'start-engine', stepSinceMs: 10_000 },
      wanted: SAFE_COMMANDS,
    });
    expect(prove().data.mostKg).toBeCloseTo(0.5, 9);
  });

  test('up to 120 kPa in the manifold, and NOT where that is not seen', () => {
    expect(codesOf(prove({ seen: { manifoldPa: 119_999 } }))).toEqual([]);
    expect(codesOf(prove({ seen: { manifoldPa: 120_000 } }))).toEqual(NOT_PROVEN);
    const blind = prove({ seen: { manifoldPa: undefined } });
    expect(codesOf(blind)).toEqual(NOT_PROVEN);
    expect(blind.data.result).toBe('stalled');
  });

  test('by hoses above 2 bar: what is lower proves nothing', () => {
    for (const side of ['highSidePa', 'lowSidePa']) {
      expect(codesOf(prove({ seen: { [side]: 200_001 } }))).toEqual([]);
      expect(codesOf(prove({ seen: { [side]: 200_000 } }))).toEqual(NOT_PROVEN);
      expect(codesOf(prove({ seen: { [side]: undefined } }))).toEqual(NOT_PROVEN);
    }
  });

  test('by a scale that is trusted, for three minutes at most', () => {
    const disturbed = { trust: 'disturbed' } as const;
    expect(prove({ nowMs: 179_999, scale: disturbed }).data.step).toBe('prove-shut');
    const late = prove({ nowMs: 180_000, scale: disturbed });
    expect(late.data).toMatchObject({ step: 'weigh-after', result: 'stalled' });
    expect(codesOf(late)).toEqual(NOT_PROVEN);
    expect(prove({ nowMs: 180_000 }).data.step).toBe('start-engine');
  });

  test('and what the coil has kept since before the charge is given on top', () => {
    const kept = (kg: number, pushes = 0) => ({ kg, sdKg: 0.001, pushes, share: 1 });
    const count = { ...startCount(0), drawnKg: 0.02, totalKg: 0.02, shownKg: -0.5, fromShownKg: -0.5 };
    const targets = (accounts: Given['accounts']) => {
      const { data, accounts: after } = prove({
        help: { count },
        accounts: { weighed: weighing(), ...accounts },
      });
      expect(after!.targetKg).toBe(data.targetKg);
      return { targetKg: data.targetKg, keptKg: after!.kept.kg };
    };
    const plain = targets({ kept: kept(0) });
    const since = targets({ kept: kept(0.01), keptBeforeCharge: kept(0.004) });
    expect(since.targetKg - since.keptKg + 0.004).toBeCloseTo(plain.targetKg - plain.keptKg, 9);
    // Nothing but vapour at the low side stays in 126 mL of hoses and manifold: some 12 kg/m³.
    expect(plain.targetKg - plain.keptKg).toBeGreaterThan(0.6);
    expect(plain.targetKg - plain.keptKg).toBeLessThan(0.603);
  });
});

test('Nothing opens before the word that the engine runs', () => {
  const asked = stepOf('start-engine');
  expect(asked).toMatchObject({
    prompt: 'start-engine',
    wanted: SAFE_COMMANDS,
    data: { step: 'start-engine' },
  });
  const answers: readonly OperatorEvent[] = [{ type: 'confirmed', prompt: 'start-engine' }];
  const ran = stepOf('start-engine', { answers, nowMs: 7_000 });
  expect(ran.data).toMatchObject({
    step: 'engine-runs',
    stepSinceMs: 7_000,
    engineHelp: { startedAtMs: 7_000 },
  });
  expect(ran.prompt).toBeUndefined();
  expect(ran.wanted).toBe(SAFE_COMMANDS);
});

test('A machine that cannot stop its fan draws with it', () => {
  const warmTank = { tankTemperatureK: 300, ambientK: 293 };
  const fanOf = (fitted: readonly string[]) =>
    beginEngineHelp(
      charging(),
      scanOf({
        ticket: ENGINE,
        seen: warmTank,
        equipment: { ...EQUIPMENT, fitted: EQUIPMENT.fitted.filter((o) => fitted.includes(o)) },
      }),
    ).data.engineHelp!.fanStopped;
  expect(fanOf(EQUIPMENT.fitted)).toBe(true);
  expect(fanOf(EQUIPMENT.fitted.filter((output) => output !== 'fanStop'))).toBe(false);
});
