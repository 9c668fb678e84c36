// The course of a charge: from the weighing before it, by the open valve, to the weighing after it.

import { describe, expect, test } from 'vitest';
import { SAFE_COMMANDS } from '../../../controller/signals.ts';
import { stepCharge } from '../../../controller/stages/charge.ts';
import { beginDrawBack } from '../../../controller/stages/charge-draw-back.ts';
import type { ChargeData } from '../../../controller/stages/data-charge.ts';
import { charging, type Given, scanOf, weighed, weighing } from '../support/charging.ts';
import { HELP } from '../support/charging-engine.ts';
import { assisting } from '../support/charging-help.ts';
import { codesOf, onOf } from '../support/weighings.ts';

const ENGINE_STEPS = [
  'clear-manifold',
  'prove-shut',
  'start-engine',
  'engine-runs',
  'engine-look',
  'engine-pulse',
  'engine-draw',
] as const;

/** The valve is open, liquid flows at 20 g/s, and the force of the hoses is known. */
function open(
  gaveKg: number,
  data: Partial<ChargeData> = {},
  { accounts, scale, seen, ...given }: Given = {},
) {
  return stepCharge(
    charging({ step: 'full', stepSinceMs: 50_000, ...data }),
    scanOf({
      nowMs: 60_000,
      gaveKg,
      ...given,
      seen: { tankPa: 600_000, highSidePa: 560_000, lowSidePa: 300_000, ...seen },
      scale: { flowKgPerS: -0.02, ...scale },
      accounts: { hoseForce: { kgPerPa: 0, sdKgPerPa: 0 }, ...accounts },
    }),
  );
}

describe('The open valve', () => {
  test('lets liquid in, and what has been given at the most is remembered', () => {
    const step = open(0.3, { mostKg: 0.2 });
    expect(onOf(step.wanted)).toEqual(['highSideValve', 'chargeValve']);
    expect(step.wanted.chargeValve).toEqual({ on: true });
    expect(step.data).toMatchObject({ step: 'full', peakFlowKgPerS: 0.02, shutDueMs: undefined });
    expect(step.data.mostKg).toBeCloseTo(0.3, 9);
    expect(open(0.3, { mostKg: 0.4 }).data.mostKg).toBe(0.4);
    expect(step.notices).toBeUndefined();
  });

  test('is shut 40 g before the target at this flow: two seconds of it', () => {
    // 20 g/s over 60 ms of dead time: the last word is 1.2 g earlier, by the countdown of the rig within 0.4 s.
    expect(open(0.5507).wanted.chargeValve).toEqual({ on: true });
    const last = open(0.5509);
    expect(last.wanted.chargeValve).toEqual({ on: true, offAfterMs: 395 });
    expect(last.data.shutDueMs).toBeCloseTo(60_395, 6);
    const shut = open(0.5589);
    expect(shut.data).toMatchObject({ step: 'settle', stepSinceMs: 60_000, kgPerMs: 2e-5 });
    expect(shut.data.deliveredAtShutKg).toBeCloseTo(0.5589, 9);
    expect(onOf(shut.wanted)).toEqual(['highSideValve']);
    expect(open(0.5587).data.step).toBe('full');
    expect(open(0.559, { kgPerMs: 1e-5 }).data.kgPerMs).toBe(1e-5);
  });

  test('is shut 30 g before it where little flows, or nothing', () => {
    const slow = { scale: { flowKgPerS: -0.001 } };
    expect(open(0.5698, {}, slow).data.step).toBe('full');
    expect(open(0.57, {}, slow).data.step).toBe('settle');
    expect(open(0.5701, {}, { scale: { flowKgPerS: 0.001 } }).data.step).toBe('settle');
    expect(open(0.5699, {}, { scale: { flowKgPerS: 0.001 } }).data.step).toBe('full');
  });

  test('is shut by a countdown that is under way, which may come earlier and never later', () => {
    expect(open(0.5509, { shutDueMs: 60_200 }).data.shutDueMs).toBe(60_200);
    expect(open(0.5509, { shutDueMs: 60_900 }).data.shutDueMs).toBeCloseTo(60_395, 6);
    expect(open(0.4, { shutDueMs: 60_200 }).data.shutDueMs).toBe(60_200);
    expect(open(0.4, { shutDueMs: 60_000 }).data.step).toBe('settle');
    expect(open(0.4, { shutDueMs: 60_001 }).data.step).toBe('full');
  });

  test('pauses on the way where the force of the hoses is worth it', () => {
    const accounts = { hoseForce: { kgPerPa: 0, sdKgPerPa: 1e-7 } };
    expect(open(0.081, {}, { accounts }).data.step).toBe('settle');
    expect(open(0.081, { paused: true }, { accounts }).data.step).toBe('full');
  });

  test('is shut by a scale that is disturbed, and given up with one that was moved too often', () => {
    expect(codesOf(open(0.3, {}, { scale: { trust: 'disturbed' } }))).toEqual(['scale-disturbed']);
    expect(open(0.3, {}, { scale: { bumps: 4 } }).data.result).toBe('scale-lost');
  });
});

describe('Where nothing flows any more', () => {
  const still = { scale: { flowKgPerS: 0 }, seen: { highSidePa: 600_000, lowSidePa: 595_000 } };
  const stalls = (ms: number, data: Partial<ChargeData> = {}, given: Given = {}) =>
    open(0.3, { peakFlowKgPerS: 0.02, stallSinceMs: 60_000 - ms, ...data }, { ...still, ...given });

  test('the cause is told, and the valve stays open', () => {
    const step = stalls(10_000);
    expect(codesOf(step)).toEqual(['charge-stalled-warm']);
    expect(step.data.told).toEqual(['charge-stalled-warm']);
    expect(onOf(step.wanted)).toEqual(['highSideValve', 'chargeValve']);
    expect(codesOf(stalls(9_999))).toEqual([]);
  });

  test('the charge is helped after five minutes, and falls short where nothing helps', () => {
    expect(stalls(300_000).data.step).toBe('full');
    expect(stalls(300_001).data.step).toBe('cushion');
    const blind = { ...still, seen: { tankPa: undefined } };
    expect(stalls(300_000, {}, blind).data.step).toBe('full');
    expect(stalls(300_001, {}, blind).data).toMatchObject({ step: 'blow-down', result: 'stalled' });
  });

  const shut = { ...still, seen: { highSidePa: 600_000, lowSidePa: 1_000 } };
  const hose = { peakFlowKgPerS: 0.02, stallSinceMs: 45_000, lowFromPa: 1_000 };

  test('a shut coupler ends it', () => {
    const step = open(0.1, hose, shut);
    expect(step.data).toMatchObject({ step: 'blow-down', result: 'no-response' });
    expect(codesOf(step)).toEqual(['charge-stalled-coupler', 'charge-fell-short']);
    expect(step.accounts).toBeUndefined();
    // A search looks itself whether the vehicle has got it.
    expect(open(0.04, { ...hose, part: 'partial', targetKg: 0.078 }, shut).data.step).toBe('full');
  });

  test('and of a vehicle that had shown no pressure when a sample was taken nobody knows what it holds', () => {
    const step = open(0.1, hose, { ...shut, accounts: { emptyYetSampled: true } });
    expect(codesOf(step)).toEqual(['charge-stalled-coupler', 'charge-fell-short', 'content-unknown']);
    expect(step.accounts).toMatchObject({ lostTrack: true, emptyYetSampled: true });
  });
});

describe('A charge that takes longer than twenty minutes', () => {
  const at = (nowMs: number, data: Partial<ChargeData> = {}) =>
    stepCharge(charging({ step: 'settle', stepSinceMs: nowMs, ...data }), scanOf({ nowMs }));

  test('is given up, the time not counted in which it was helped', () => {
    expect(at(1_200_000).data.step).toBe('settle');
    expect(at(1_200_001).data).toMatchObject({ step: 'blow-down', result: 'stalled' });
    expect(at(1_300_000, { sinceMs: 100_000 }).data.step).toBe('settle');
    expect(at(1_500_000, { assist: assisting({ spentMs: 300_000 }) }).data.step).toBe('settle');
    expect(at(1_500_001, { assist: assisting({ spentMs: 300_000 }) }).data.step).toBe('blow-down');
  });

  test('is NOT given up once it has ended, nor while it is helped', () => {
    expect(at(1_300_000, { step: 'blow-down', result: 'charged' }).data.result).toBe('charged');
    for (const step of ['cushion', 'weigh-still', 'heat', 'weigh-again'] as const)
      expect(at(1_300_000, { step, assist: assisting({ sinceMs: 1_290_000 }) }).data.result).toBeUndefined();
  });
});

describe('After a wait', () => {
  const assist = (helped: boolean) =>
    assisting({ helped, still: weighing({ counts: 2_070_000 }), sinceMs: 20_000 });
  const again = (gaveKg: number, helped: boolean, given: Given = {}) =>
    weighed(
      { step: 'weigh-again', assist: assist(helped), pulses: 7, peakFlowKgPerS: 0.02 },
      { gaveKg, ...given },
    );

  test('that has helped, the charge goes on: by the open valve where more than 90 g are missing', () => {
    const far = again(0.5, true);
    expect(far.data).toMatchObject({ step: 'full', stepSinceMs: 30_000, pulses: 0, peakFlowKgPerS: 0 });
    expect(onOf(far.wanted)).toEqual(['highSideValve']);
    expect(far.accounts).toBeDefined();
    expect(again(0.52, true).data.step).toBe('settle');
  });

  test('in vain, the engine is asked to help, or the charge falls short', () => {
    const vain = again(0.3, false);
    expect(vain.data).toMatchObject({ step: 'blow-down', result: 'stalled', assist: { spentMs: 10_000 } });
    expect(vain.accounts).toBeDefined();
    const seen = { highSidePa: 600_000, lowSidePa: 590_000 };
    const engine = again(0.3, false, { ticket: { engine: 'can-run' }, seen });
    expect(engine.data.step).toBe('clear-manifold');
    expect(engine.accounts).toBeDefined();
  });
});

describe('A step whose memory is gone', () => {
  const lost = (step: ChargeData['step']) => stepCharge(charging({ step }), scanOf({ nowMs: 30_000 }));

  test('waits for the scale with every valve shut', () => {
    for (const step of ['cushion', 'weigh-still', 'heat', ...ENGINE_STEPS] as const) {
      expect(lost(step).data.step).toBe('settle');
      expect(lost(step).wanted).toBe(SAFE_COMMANDS);
    }
    const again = weighed({ step: 'weigh-again' });
    expect(again.data.step).toBe('settle');
    expect(again.wanted).toBe(SAFE_COMMANDS);
  });

  test('of a draw back weighs what there is', () => {
    for (const step of ['draw-manifold', 'draw-hose', 'pump-out', 'stand-apart', 'prove-dry'] as const)
      expect(lost(step).data.step).toBe('weigh-after');
    expect(weighed({ step: 'weigh-drawn' }).data.step).toBe('weigh-after');
  });
});

test('Every step goes on with what is its own', () => {
  const next = (data: Partial<ChargeData>, given: Given = {}) =>
    stepCharge(charging(data), scanOf({ nowMs: 30_000, ...given })).data.step;
  expect(next({ step: 'cushion', assist: assisting() })).toBe('weigh-still');
  expect(next({ step: 'look' }, { seen: { manifoldPa: 900 } })).toBe('full');
  expect(next({ step: 'pulse', pulseMs: 200 })).toBe('settle');
  expect(next({ step: 'blow-down', result: 'stalled' })).toBe('weigh-after');
  expect(next({ step: 'blow-down', result: 'stalled', stepSinceMs: 29_000 })).toBe('blow-down');
  const disturbed = stepCharge(charging({ step: 'settle' }), scanOf({ scale: { trust: 'disturbed' } }));
  expect(codesOf(disturbed)).toEqual([]);
  const answers = [{ type: 'confirmed', prompt: 'start-engine' }] as const;
  expect(next({ step: 'start-engine', engineHelp: HELP }, { answers })).toBe('engine-runs');
});

test('A charge that escapes is shut in at once', () => {
  const stood = { atMs: 20_000, highPa: 600_000, lowPa: 500_000 };
  const step = stepCharge(
    charging({ step: 'blow-down', result: 'charged', stood }),
    scanOf({ nowMs: 30_000, seen: { highSidePa: 560_000, lowSidePa: 460_000 } }),
  );
  expect(step.data).toMatchObject({ step: 'weigh-after', result: 'valve-open' });
  expect(codesOf(step)).toEqual(['charge-escapes']);
});

describe('After a charge', () => {
  const over = (data: Partial<ChargeData>, accounts: NonNullable<Given['accounts']> = {}) =>
    weighed(
      { step: 'weigh-after', ...data },
      { gaveKg: 0.6, accounts: { weighed: weighing(), ...accounts } },
    );

  test('what the tank has lost is booked as in the vehicle', () => {
    const step = over({ result: 'charged' }, { chargedKg: 0.078 });
    expect(step).toMatchObject({ event: 'charged', result: 'charged', wanted: SAFE_COMMANDS });
    expect(step.ledger).toHaveLength(1);
    expect(step.ledger![0]).toMatchObject({ movement: 'tank-to-vehicle', atMs: 30_000 });
    expect(step.ledger![0]!.massKg).toBeCloseTo(0.6, 6);
    expect(step.accounts!.chargedKg).toBeCloseTo(0.678, 6);
    expect(step.accounts!.weighed!.counts).toBeCloseTo(2_040_000, 6);
    expect(over({ result: 'charged' }).accounts!.chargedKg).toBeCloseTo(0.6, 6);
    expect(over({}, { weighed: undefined }).accounts!.chargedKg).toBe(0);
  });

  test('that fell short its cause is kept', () => {
    expect(over({ result: 'no-response' })).toMatchObject({
      event: 'charge-fell-short',
      result: 'no-response',
    });
    expect(over({})).toMatchObject({ event: 'charge-fell-short', result: 'charge-fell-short' });
  });

  test('the coil keeps what a draw under way has left in it', () => {
    const { drawBack } = beginDrawBack(charging(), scanOf());
    const count = { ...drawBack!.count, drawnKg: 0.03, totalKg: 0.03 };
    const keeps = (startedAtMs: number | undefined) =>
      over({ drawBack: { ...drawBack!, count, startedAtMs } }).accounts!.kept.kg;
    expect(keeps(undefined)).toBe(0);
    expect(keeps(20_000)).toBeGreaterThan(0.01);
  });
});
