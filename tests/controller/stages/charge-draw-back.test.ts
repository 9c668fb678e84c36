// The hoses are drawn back at the end of a charge: each step of the draw, what proves it, and what ends it.

import { describe, expect, test } from 'vitest';
import { SAFE_COMMANDS } from '../../../controller/signals.ts';
import { beginDrawBack } from '../../../controller/stages/charge-draw-back.ts';
import { heldUpKg, predictedHoseKg } from '../../../controller/stages/charge-target.ts';
import type { ChargeData, DrawBack, DrawBackStep } from '../../../controller/stages/data-charge.ts';
import { want } from '../../../controller/stages/stage.ts';
import { charging, type Given, restFalling, scanOf } from '../support/charging.ts';
import { BEGUN, DRAWS, JOINED, RUNNING, type Scene, stepOf } from '../support/drawing-back.ts';
import { codesOf, onOf } from '../support/weighings.ts';

describe('A draw back begins', () => {
  const drawBackOf = (data: Partial<ChargeData> = {}, given: Given = {}, engineRan = false) =>
    beginDrawBack(charging(data), scanOf(given), engineRan).drawBack!;

  test('with what the hose is reckoned to hold, and a quarter of what was given too much', () => {
    const begun = drawBackOf({ vehiclePa: 500_000 });
    expect(begun.takeKg).toBeCloseTo(predictedHoseKg(scanOf(), 500_000) + 0.25 * 0.035, 9);
    expect(begun.heldKg).toBeCloseTo(heldUpKg(scanOf(), 500_000), 9);
    expect(begun).toMatchObject({ draws: 0, proofs: 0, refills: 0, seatDoubted: false, fanStopped: false });
    expect(beginDrawBack(charging({ topUpKg: 0.7 }), scanOf()).topUpKg).toBeUndefined();
  });

  test('knows nothing of what the hoses held where an engine has moved it', () =>
    expect(drawBackOf({}, {}, true).heldKg).toBeUndefined());

  test('remembers how often a shortage was made good, and that the charge valve is in doubt', () => {
    expect(drawBackOf({ drawBack: { ...BEGUN, refills: 2, draws: 3 } })).toMatchObject({
      refills: 2,
      draws: 0,
    });
    expect(drawBackOf({}, { lossWatch: restFalling(1e-5) }).seatDoubted).toBe(true);
    expect(drawBackOf({}, { lossWatch: restFalling(0) }).seatDoubted).toBe(false);
  });
});

describe('The compressor starts', () => {
  const start = (scene: Scene = {}) =>
    stepOf('draw-manifold', {
      permitted: SAFE_COMMANDS,
      compressorRested: true,
      ...scene,
      draw: { startedAtMs: undefined, ...scene.draw },
    });

  test('once it has rested, and the scale is trusted', () => {
    expect(start().wanted).toEqual(DRAWS);
    expect(start({ compressorRested: false }).wanted).toBe(SAFE_COMMANDS);
    expect(start({ scale: { trust: 'disturbed' } }).wanted).toBe(SAFE_COMMANDS);
    expect(start({ draw: { fanStopped: true } }).wanted).toEqual(
      want('recoveryValve', 'compressor', 'fanStop'),
    );
  });

  test('NOT on a manifold that is too low for it: that is fed a little first', () => {
    expect(start({ seen: { manifoldPa: 35_001 } }).wanted).toEqual(DRAWS);
    const fed = start({ seen: { manifoldPa: 35_000 } });
    expect(onOf(fed.wanted)).toContain('highSideValve');
    expect(fed.data.drawBack).toMatchObject({ openedAtMs: 100_000, openedForMs: 100 });
  });

  test('or is given up after four minutes: what there is is weighed', () => {
    const waits = (ms: number) =>
      start({ data: { stepSinceMs: 100_000 - ms }, compressorRested: false }).data.step;
    expect(waits(240_000)).toBe('draw-manifold');
    expect(waits(240_001)).toBe('weigh-drawn');
  });

  test('and once it runs, the time of that is kept', () => {
    const seen = { manifoldPa: 90_000 };
    expect(start({ permitted: RUNNING, seen }).data.drawBack!.startedAtMs).toBe(100_000);
    expect(stepOf('draw-manifold', { seen }).data.drawBack!.startedAtMs).toBe(98_000);
  });

  test('and is given up where it stops again, or the step takes longer than four minutes', () => {
    const seen = { manifoldPa: 90_000 };
    const proofs = (scene: Scene) => stepOf('draw-manifold', { seen, ...scene }).data.step;
    expect(proofs({ permitted: SAFE_COMMANDS, draw: { startedAtMs: 99_300 } })).toBe('draw-manifold');
    expect(proofs({ permitted: SAFE_COMMANDS, draw: { startedAtMs: 99_299 } })).toBe('stand-apart');
    expect(proofs({ data: { stepSinceMs: 100_000 - 240_000 } })).toBe('draw-manifold');
    expect(proofs({ data: { stepSinceMs: 100_000 - 240_001 } })).toBe('stand-apart');
  });
});

describe('The closed manifold is drawn first', () => {
  const manifold = (manifoldPa: number | undefined, draw: Partial<DrawBack> = {}) =>
    stepOf('draw-manifold', { seen: { manifoldPa }, draw });
  const came = (totalKg: number) => ({ count: { ...BEGUN.count, totalKg } });

  test('down to 60 kPa, then the hose; what had come by then is kept', () => {
    expect(manifold(60_001)).toMatchObject({ data: { step: 'draw-manifold' }, wanted: DRAWS });
    expect(manifold(undefined).data.step).toBe('draw-manifold');
    const hose = manifold(60_000, came(0.03));
    expect(hose.data).toMatchObject({ step: 'draw-hose', stepSinceMs: 100_000 });
    expect(hose.data.drawBack!.fromKg).toBeCloseTo(0.03, 9);
    expect(hose.wanted).toEqual(DRAWS);
  });

  test('and left to itself where the charge valve is in doubt', () => {
    const apart = manifold(60_000, { seatDoubted: true });
    expect(apart).toMatchObject({ data: { step: 'stand-apart' }, wanted: SAFE_COMMANDS });
  });

  /** 60 mL full of liquid as cold as it boils, 20 K below the room, and vapour in 0.4 L (R-134a at 0 °C, Tillner-Roth and Baehr). */
  const MOST_KG = 60e-6 * 1_294.8 + 0.4e-3 * 14.43;

  test('and a fifth more than it can hold has come through a valve that does not shut', () => {
    expect(manifold(60_001, came(1.2 * MOST_KG - 1e-3)).data.step).toBe('draw-manifold');
    const fed = manifold(60_001, came(1.2 * MOST_KG + 1e-3));
    expect(fed.data).toMatchObject({ step: 'weigh-after', result: 'valve-open', stepSinceMs: 100_000 });
    expect(fed.wanted).toBe(SAFE_COMMANDS);
    expect(fed.accounts).toMatchObject({ lostTrack: true, emptyYetSampled: false });
    expect(fed.notices).toEqual([{ code: 'manifold-fed', with: { came: '101', most: '83' } }]);
  });

  test('which in an unknown room is reckoned at 20 °C', () => {
    const at = (totalKg: number) =>
      codesOf(
        stepOf('draw-manifold', { seen: { manifoldPa: 90_000, ambientK: undefined }, draw: came(totalKg) }),
      );
    expect(at(1.2 * MOST_KG - 1e-3)).toEqual([]);
    expect(at(1.2 * MOST_KG + 1e-3)).toEqual(['manifold-fed']);
  });
});

test('Above the span of its sensor the first draw is counted from where the vehicle stood, and what follows is not', () => {
  const counted = (step: DrawBackStep) =>
    stepOf(step, {
      seen: { manifoldPa: undefined, manifoldOverSpan: true },
      data: { vehiclePa: 640_000 },
      draw: { count: { ...BEGUN.count, atMs: 99_000 }, takeKg: 1 },
    }).data.drawBack!.count.totalKg;
  // Four times the span: the mean over the logarithm is twice of it, and so is, as nearly, what a second draws.
  expect(counted('draw-manifold') / counted('draw-hose')).toBeGreaterThan(2);
  expect(counted('draw-manifold') / counted('draw-hose')).toBeLessThan(2.5);
});

describe('The hose is drawn', () => {
  const hose = (manifoldPa: number | undefined, draw: Partial<DrawBack> = {}) =>
    stepOf('draw-hose', { seen: { manifoldPa }, draw: { takeKg: 0.05, ...draw } });

  test('by one short opening of its valve after the other, each once the manifold is below 75 kPa', () => {
    const opened = hose(75_000);
    expect(onOf(opened.wanted)).toEqual(
      expect.arrayContaining(['highSideValve', 'recoveryValve', 'compressor']),
    );
    expect(opened.wanted.highSideValve).toEqual({ on: true, offAfterMs: 50 });
    expect(opened.data.drawBack).toMatchObject({ openedAtMs: 100_000, openedForMs: 50 });
    expect(hose(75_001).wanted).toEqual(DRAWS);
    expect(hose(undefined).wanted).toEqual(DRAWS);
  });

  test('the longer the lower the manifold was drawn meanwhile', () => {
    const openMs = (pa: number) => hose(pa).data.drawBack!.openedForMs;
    expect([45_001, 45_000, 30_001, 30_000].map(openMs)).toEqual([50, 100, 100, 200]);
  });

  test('with seven tenths of a second from one to the next, of which the valve is open for its time', () => {
    const since = (ms: number) => hose(40_000, { openedAtMs: 100_000 - ms, openedForMs: 100 });
    expect(onOf(since(99).wanted)).toContain('highSideValve');
    expect(since(99).wanted.highSideValve).toEqual({ on: true, offAfterMs: 100 });
    expect(since(100).wanted).toEqual(DRAWS);
    expect(since(699).wanted).toEqual(DRAWS);
    expect(since(700).data.drawBack!.openedAtMs).toBe(100_000);
  });

  test('until as much has come as was to be taken, with what is still on its way', () => {
    const drawn = (kg: number, manifoldPa = 60_000) =>
      hose(manifoldPa, { fromKg: 0.03, count: { ...BEGUN.count, totalKg: 0.03 + kg } });
    expect(drawn(0.0499).data.step).toBe('draw-hose');
    const enough = drawn(0.0501);
    expect(enough).toMatchObject({ data: { step: 'pump-out', stepSinceMs: 100_000 }, wanted: DRAWS });
    // 0.46 L at 10 kPa above where a draw ends: some 0.2 g of vapour (ideal gas of 0.102 kg/mol).
    const onItsWayKg = (0.46e-3 * 10_000 * 0.102) / (8.314 * 293.15);
    expect(drawn(0.05 - 1.1 * onItsWayKg, 70_000).data.step).toBe('draw-hose');
    expect(drawn(0.05 - 0.9 * onItsWayKg, 70_000).data.step).toBe('pump-out');
    expect(drawn(0.0499, 40_000).data.step).toBe('draw-hose');
  });

  test('and NOT while an opening still brings something, nor while nobody sees the manifold', () => {
    const enough = { count: { ...BEGUN.count, totalKg: 0.09 } };
    const opened = { ...enough, openedAtMs: 99_900, openedForMs: 200 };
    expect(hose(60_000, opened).data.step).toBe('draw-hose');
    expect(onOf(hose(undefined, opened).wanted)).toContain('highSideValve');
    expect(hose(60_000, { ...opened, openedAtMs: 99_300 }).data.step).toBe('pump-out');
    expect(hose(undefined, enough)).toMatchObject({ data: { step: 'draw-hose' }, wanted: DRAWS });
  });

  test('in a cold room with more on its way, for its vapour is denser', () => {
    const coldKg = (0.46e-3 * 10_000 * 0.102) / (8.314 * 233.15);
    const seen = { manifoldPa: 70_000, ambientK: 233.15 };
    const count = { ...BEGUN.count, totalKg: 0.05 - 0.93 * coldKg };
    expect(stepOf('draw-hose', { seen, draw: { takeKg: 0.05, count } }).data.step).toBe('pump-out');
  });
});

describe('The manifold is pumped out', () => {
  const pumped = (manifoldPa: number, ms: number, draw: Partial<DrawBack> = {}) =>
    stepOf('pump-out', { seen: { manifoldPa }, data: { stepSinceMs: 100_000 - ms }, draw });

  test('for ten seconds, or until no liquid can be left', () => {
    expect(pumped(45_000, 9_999)).toMatchObject({ data: { step: 'pump-out' }, wanted: DRAWS });
    expect(pumped(45_000, 10_000).data.step).toBe('stand-apart');
    expect(pumped(45_001, 10_000).data.step).toBe('pump-out');
    expect(pumped(32_000, 100).data.step).toBe('stand-apart');
    expect(pumped(32_001, 100).data.step).toBe('pump-out');
  });

  test('at once after a further draw, whose proof is not of the charge valve', () => {
    const further = pumped(45_000, 100, { draws: 1 });
    expect(further).toMatchObject({ data: { step: 'prove-dry' }, wanted: JOINED });
  });

  test('for two minutes where it was found wet', () => {
    const wet = (ms: number) => pumped(20_000, 100, { proofs: 1, startedAtMs: 100_000 - ms });
    expect(wet(119_999).data.step).toBe('pump-out');
    expect(wet(120_000).data).toMatchObject({
      step: 'prove-dry',
      drawBack: { proofs: 2, provenFromPa: undefined },
    });
  });

  test('and then proven: alone first, but joined to the separator where the charge valve was in doubt', () => {
    expect(pumped(30_000, 100).wanted).toBe(SAFE_COMMANDS);
    expect(pumped(30_000, 100).data.drawBack!.proofs).toBe(1);
    expect(pumped(30_000, 100, { seatDoubted: true }).data.step).toBe('prove-dry');
  });
});
