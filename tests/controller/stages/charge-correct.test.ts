// A charge that counted on an engine of no help is corrected; one that the draw back has left short is filled once more.

import { describe, expect, test } from 'vitest';
import { startCount } from '../../../controller/estimates/condenser.ts';
import { SAFE_COMMANDS } from '../../../controller/signals.ts';
import { correct, waitsForEngine } from '../../../controller/stages/charge-correct.ts';
import { beginDrawBack } from '../../../controller/stages/charge-draw-back.ts';
import { refill } from '../../../controller/stages/charge-refill.ts';
import { heldUpKg } from '../../../controller/stages/charge-target.ts';
import type { DrawBack } from '../../../controller/stages/data-charge.ts';
import { charging, type Given, scanOf, weighing } from '../support/charging.ts';
import { onOf } from '../support/weighings.ts';

describe('Before the hoses are drawn back', () => {
  const APART_PA = 30_000 + 3 * Math.hypot(7_500, 2_500);
  const waits = ({ accounts, seen, ...given }: Given = {}, stepSinceMs = 1_000) =>
    waitsForEngine(
      charging({
        stepSinceMs,
        weighing: { sinceMs: 1, quietSinceMs: 1, samples: 1, sum: 1, hosePaSum: 0, lastAtMs: 1 },
      }),
      scanOf({
        nowMs: 5_000,
        ...given,
        accounts: { engineOfNoHelp: true, ...accounts },
        seen: { highSidePa: 900_000, lowSidePa: 300_000, ...seen },
      }),
    );

  test('the engine is stopped', () => {
    const step = waits({ engine: 'running' })!;
    expect(step).toMatchObject({ prompt: 'stop-engine', wanted: SAFE_COMMANDS, data: { step: 'weigh' } });
    expect(step.data.weighing).toBeUndefined();
    expect(waits({ engine: 'suspected' })!.prompt).toBeUndefined();
  });

  test('the sides are let come together: within 30 kPa and what their sensors differ by', () => {
    const apart = (pa: number) => waits({ seen: { lowSidePa: 900_000 - pa } });
    expect(apart(APART_PA - 1)).toBeUndefined();
    expect(apart(APART_PA + 1)).toMatchObject({
      wanted: SAFE_COMMANDS,
      data: { step: 'weigh', weighing: undefined },
    });
  });

  test('for five minutes at most, and not at all where they cannot be seen', () => {
    expect(waits({ nowMs: 301_000 })).toBeDefined();
    expect(waits({ nowMs: 301_001 })).toBeUndefined();
    expect(waits({ seen: { lowSidePa: undefined } })).toBeUndefined();
  });

  test('nothing is waited for where the engine was of help', () =>
    expect(waits({ accounts: { engineOfNoHelp: false }, engine: 'running' })).toBeUndefined());
});

test('What was given counts on: the hoses are drawn back from where the charge stands', () => {
  const before = weighing({ counts: 2_160_000 });
  const accounts = {
    weighedBeforeCharge: before,
    weighed: weighing(),
    targetKg: 0.63,
    highSideZeroPa: 3_000,
  };
  const step = correct(
    charging(),
    scanOf({ nowMs: 7_000, accounts, seen: { highSidePa: 603_000 } }),
    weighing({ atMs: 7_000 }),
  );
  expect(step.data).toMatchObject({
    step: 'draw-manifold',
    stepSinceMs: 7_000,
    targetKg: 0.63,
    drawsBack: true,
    result: 'charged',
    vehiclePa: 600_000,
    drawBack: { heldKg: undefined, refills: 0, draws: 0 },
  });
  expect(step.data.deliveredAtShutKg).toBeCloseTo(0.6, 9);
  expect(step.wanted).toBe(SAFE_COMMANDS);
  expect(step.accounts!.weighed!.atMs).toBe(7_000);
  expect(step.accounts!.weighedBeforeCharge!.counts).toBeCloseTo(2_160_000, 6);
  expect(step.accounts!.targetKg).toBe(0.63);
  const blind = correct(charging(), scanOf({ seen: { highSidePa: undefined } }), weighing());
  expect(blind.data.vehiclePa).toBeUndefined();
  expect(blind.data.targetKg).toBe(0.6);
});

describe('A charge that is short after its draw back', () => {
  const seen = { tankTemperatureK: 293.15, ambientK: 293.15 };
  const vehiclePa = 571_710;
  const data = charging({
    vehiclePa,
    deliveredAtShutKg: 0.68,
    pulses: 9,
    pulseMs: 200,
    peakFlowKgPerS: 0.02,
  });
  const drawn: DrawBack = {
    ...beginDrawBack(data, scanOf({ seen })).drawBack!,
    count: startCount(0),
    heldKg: 0.06,
    refills: 1,
  };
  const filled = (drawBack: DrawBack, firstExcessKg = -0.02, accounts: Given['accounts'] = {}) =>
    refill(data, drawBack, { firstExcessKg, wantedLostKg: 0.61 }, scanOf({ nowMs: 8_000, seen, accounts }));
  const HOLDS_KG = heldUpKg(scanOf({ seen }), vehiclePa);
  /** Three quarters of 35 g are left to the draws that follow the first. */
  const LEAVES_KG = 0.75 * 0.035;

  test('is given what it was, half of what it was short by, and what the warmer tank leaves in the hoses', () => {
    const step = filled(drawn);
    const topUpKg = 0.68 + 0.5 * (LEAVES_KG + 0.02) + HOLDS_KG - 0.06;
    expect(step.data.topUpKg).toBeCloseTo(topUpKg, 9);
    expect(step.data.targetKg).toBe(step.data.topUpKg);
    expect(step.data).toMatchObject({
      step: 'settle',
      stepSinceMs: 8_000,
      pulses: 0,
      pulseMs: 0,
      drawBack: { refills: 2 },
    });
    expect(onOf(step.wanted)).toEqual(['highSideValve']);
    expect(step.accounts).toBeDefined();
  });

  test('is given more where a search has left more to draw', () => {
    const more = filled(drawn, -0.02, { leakCheck: { admittedKg: 0.078 } }).data.topUpKg!;
    expect(more - filled(drawn).data.topUpKg!).toBeCloseTo(0.5 * 0.75 * 0.025, 9);
  });

  test('is reckoned anew where an engine has moved what the hoses held', () => {
    const step = filled({ ...drawn, heldKg: undefined });
    expect(step.data.topUpKg).toBeCloseTo(0.61 + LEAVES_KG + HOLDS_KG, 9);
  });
});
