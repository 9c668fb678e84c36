// The running engine sucks a charge in pulse by pulse: when a pulse may be given, what is learnt of it, and what ends it.

import { describe, expect, test } from 'vitest';
import { SAFE_COMMANDS } from '../../../controller/signals.ts';
import type { ChargeData, EngineHelp } from '../../../controller/stages/data-charge.ts';
import { want } from '../../../controller/stages/stage.ts';
import { type Scene, stepOf } from '../support/charging-engine.ts';
import { codesOf, onOf } from '../support/weighings.ts';

const IN_VAIN = ['engine-help-in-vain', 'charge-fell-short'];

/** The engine has run for ten seconds, both sides fit for a pulse. */
const RUNS: Scene = {
  engine: 'running',
  nowMs: 110_000,
  help: { startedAtMs: 100_000 },
  seen: { highSidePa: 1_200_000, lowSidePa: 300_000 },
};
const running = (step: ChargeData['step'], over: Scene = {}) =>
  stepOf(step, {
    ...RUNS,
    ...over,
    data: { stepSinceMs: 105_000, ...over.data },
    help: { ...RUNS.help, ...over.help },
    seen: { ...RUNS.seen, ...over.seen },
  });

describe('A running engine helps no longer', () => {
  const ends = (over: Scene) => {
    const step = running('engine-runs', over);
    expect(step.wanted).toBe(SAFE_COMMANDS);
    expect(step.data.result).toBe(step.data.step === 'weigh-after' ? 'stalled' : undefined);
    return { codes: codesOf(step), step: step.data.step };
  };

  test('than fifteen minutes', () => {
    expect(ends({ nowMs: 1_000_000, data: { stepSinceMs: 990_000 } }).codes).toEqual([]);
    expect(ends({ nowMs: 1_000_001 })).toEqual({ codes: IN_VAIN, step: 'weigh-after' });
  });

  test('than it is seen to run', () => expect(ends({ engine: 'off' }).codes).toEqual(IN_VAIN));

  test('than its high side stays below 22 bar', () => {
    expect(ends({ seen: { highSidePa: 2_200_000 } }).codes).toEqual([]);
    expect(ends({ seen: { highSidePa: 2_200_001 } }).codes).toEqual([
      'engine-help-cut-short',
      'charge-fell-short',
    ]);
  });

  test('where 20 g are back in the tank, by a scale that is trusted', () => {
    expect(ends({ gaveKg: 0.4801 }).codes).toEqual([]);
    expect(ends({ gaveKg: 0.4799 }).codes).toEqual(['pushed-into-tank', 'charge-fell-short']);
    expect(ends({ gaveKg: 0.4799, scale: { trust: 'disturbed' } }).codes).toEqual([]);
  });

  test('where its sides have not parted within two minutes', () => {
    const seen = { highSidePa: 600_000, lowSidePa: 590_000 };
    const waits = (ms: number) => ends({ seen, nowMs: 200_000, data: { stepSinceMs: 200_000 - ms } });
    expect(waits(119_999).step).toBe('engine-runs');
    expect(waits(120_000)).toEqual({ codes: IN_VAIN, step: 'weigh-after' });
  });
});

describe('A pulse is prepared', () => {
  const APART_PA = 100_000 + 3 * Math.hypot(7_500, 2_500);

  test('once the sides are a bar apart', () => {
    const stepAt = (byPa: number) =>
      running('engine-runs', { seen: { highSidePa: 500_000, lowSidePa: 500_000 - APART_PA - byPa } }).data
        .step;
    expect(stepAt(10)).toBe('engine-look');
    expect(stepAt(-10)).toBe('engine-runs');
    for (const side of ['highSidePa', 'lowSidePa'])
      expect(running('engine-runs', { seen: { [side]: undefined } }).data.step).toBe('engine-runs');
  });

  test('with a high side below 20 bar, a suction below 3.5 bar gauge and a scale that is trusted', () => {
    const ready = (over: Scene) => running('engine-runs', over).data.step === 'engine-look';
    expect(ready({ seen: { highSidePa: 1_999_999 } })).toBe(true);
    expect(ready({ seen: { highSidePa: 2_000_000 } })).toBe(false);
    expect(ready({ seen: { lowSidePa: 101_325 + 349_999 } })).toBe(true);
    expect(ready({ seen: { lowSidePa: 101_325 + 350_000 } })).toBe(false);
    expect(ready({ scale: { trust: 'disturbed' } })).toBe(false);
  });
});

describe('A look with everything shut', () => {
  /** Six seconds after it began, with the mean of the calm end so far. */
  const look = (over: Scene = {}) =>
    running('engine-look', { ...over, data: { stepSinceMs: 104_000, ...over.data } });

  test('takes six seconds, of which the last two and a half are averaged', () => {
    const early = look({ nowMs: 107_499 });
    expect(early.data.engineHelp).toMatchObject({ samples: 0, sumKg: 0 });
    const calm = look({ nowMs: 107_500 }).data.engineHelp!;
    expect(calm).toMatchObject({ samples: 1, sumKg: expect.closeTo(0.5, 9) });
    const more = look({ nowMs: 109_999, help: { samples: 2, sumKg: 1 } });
    expect(more.data).toMatchObject({ step: 'engine-look', engineHelp: { samples: 3 } });
    expect(more.data.engineHelp!.sumKg).toBeCloseTo(1.5, 9);
    expect(look().data.step).toBe('engine-pulse');
    expect(look({ help: { samples: 3, sumKg: 1.5 } }).data.engineHelp!.fromKg).toBeCloseTo(0.5, 9);
  });

  test('begins anew while the scale is not trusted', () => {
    const step = look({ scale: { trust: 'disturbed' }, help: { samples: 2, sumKg: 1 } });
    expect(step.data).toMatchObject({
      step: 'engine-look',
      stepSinceMs: 110_000,
      engineHelp: { samples: 0, sumKg: 0 },
    });
    expect(step.wanted).toBe(SAFE_COMMANDS);
  });

  test('ends the charge where the next pulse would do no better: half of what it brings, or a gram', () => {
    const leaves = (grams: number, yieldG: number) =>
      look({ gaveKg: 0.6 - grams / 1000, help: { yieldKg: yieldG / 1000 } });
    expect(leaves(0.99, 1).data).toMatchObject({ step: 'weigh-after', result: 'charged' });
    expect(leaves(0.99, 1).notices).toEqual([]);
    expect(leaves(1.01, 1).data.step).toBe('engine-pulse');
    expect(leaves(1.49, 3).data.result).toBe('charged');
    expect(leaves(1.51, 3).data.step).toBe('engine-pulse');
  });

  test('gives three pulses at most until it is known what one brings, and then fifteen', () => {
    const left = (grams: number, help: Partial<EngineHelp>) =>
      look({ gaveKg: 0.6 - grams / 1000, help }).data.engineHelp!.left;
    expect(left(100, {})).toBe(3);
    expect(left(4, {})).toBe(2);
    expect(left(1.2, { yieldKg: 0.002 })).toBe(1);
    const known = { fired: 2, yieldKg: 0.002 };
    expect(left(100, { ...known, fromKg: 0.496 })).toBe(15);
    expect(left(20.5, { ...known, fromKg: 0.5755 })).toBe(10);
  });

  test('learns half of what the pulses since the last one have brought, and never less than nothing', () => {
    const learns = (fromKg: number, fired: number) =>
      look({ help: { fired, fromKg, yieldKg: 0.002 } }).data.engineHelp!;
    expect(learns(0.488, 3).yieldKg).toBeCloseTo(0.003, 9);
    expect(learns(0.51, 3).yieldKg).toBeCloseTo(0.001, 9);
    expect(learns(0.488, 0).yieldKg).toBe(0.002);
    expect(learns(0.488, 3)).toMatchObject({
      fired: 0,
      samples: 0,
      sumKg: 0,
      fromKg: expect.closeTo(0.5, 9),
    });
  });

  test('reckons with half a gram where pulses bring next to nothing', () => {
    const help = { fired: 1, fromKg: 0.6, yieldKg: 0.0001 };
    expect(look({ gaveKg: 0.5974, help }).data.engineHelp!.left).toBe(5);
  });
});

describe('A pulse', () => {
  const pulse = (over: Scene = {}) =>
    running('engine-pulse', {
      ...over,
      data: { stepSinceMs: 109_600, ...over.data },
      help: { left: 2, fired: 1, ...over.help },
    });

  test('of a tenth of a second goes into the shut manifold, by the countdown of the rig', () => {
    const step = pulse();
    expect(onOf(step.wanted)).toEqual(['chargeValve']);
    expect(step.wanted.chargeValve).toEqual({ on: true, offAfterMs: 100 });
    expect(step.data).toMatchObject({ step: 'engine-draw', engineHelp: { left: 1, fired: 2 } });
  });

  test('waits until the low side has surely shut, and until the sides allow it', () => {
    expect(pulse({ data: { stepSinceMs: 109_601 } })).toMatchObject({
      wanted: SAFE_COMMANDS,
      data: { step: 'engine-pulse' },
    });
    expect(pulse({ seen: { highSidePa: 2_000_000 } }).wanted).toBe(SAFE_COMMANDS);
  });

  test('is followed by a look once the last has been given', () =>
    expect(pulse({ help: { left: 0 } })).toMatchObject({
      wanted: SAFE_COMMANDS,
      data: { step: 'engine-look' },
    }));

  test('is boiled off into the low side, which opens when the charge valve has surely shut, for a second and a half', () => {
    const draw = (ms: number) => running('engine-draw', { data: { stepSinceMs: 110_000 - ms } });
    expect(draw(399).wanted).toBe(SAFE_COMMANDS);
    expect(draw(399).data.step).toBe('engine-draw');
    expect(draw(400).wanted).toEqual(want('lowSideValve'));
    expect(draw(1_899).wanted).toEqual(want('lowSideValve'));
    expect(draw(1_900)).toMatchObject({ wanted: SAFE_COMMANDS, data: { step: 'engine-pulse' } });
  });
});
