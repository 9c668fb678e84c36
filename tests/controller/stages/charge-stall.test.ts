// Why a charge does not flow: each cause by what the sensors show, at its limit and just beyond.

import { describe, expect, test } from 'vitest';
import { tellStall, watchStall } from '../../../controller/stages/charge-stall.ts';
import type { ChargeData, FlowGap } from '../../../controller/stages/data-charge.ts';
import { charging, type Given, scanOf } from '../support/charging.ts';
import { EQUIPMENT } from '../support/machine.ts';
import { codesOf } from '../support/weighings.ts';

const BAR = 100_000;
const TANK_PA = 6 * BAR;
/** Twice what tank and high-side sensor may differ by: 5 and 7.5 kPa. */
const DOUBT_PA = 2 * Math.hypot(5_000, 7_500);
/** Sensors that err by nothing, for limits that stand alone. */
const EXACT = {
  ...EQUIPMENT,
  pressure: { ...EQUIPMENT.pressure, tankSdPa: 0, highSideSdPa: 0, lowSideSdPa: 0 },
};

describe('A flow', () => {
  const flows = (data: Partial<ChargeData>, kgPerS: number, nowMs = 60_000) =>
    watchStall(charging(data), kgPerS, scanOf({ nowMs }));

  test('has stalled below a twentieth of its peak, and NOT at it', () => {
    expect(flows({ peakFlowKgPerS: 0.02 }, 0.00099)).toMatchObject({ stallSinceMs: 60_000, stalledMs: 0 });
    expect(flows({ peakFlowKgPerS: 0.02 }, 0.001).stallSinceMs).toBeUndefined();
  });

  test('has stalled below 0.3 g/s whatever its peak', () => {
    expect(flows({}, 2.9e-4).stallSinceMs).toBe(60_000);
    expect(flows({}, 3e-4).stallSinceMs).toBeUndefined();
  });

  test('that has stalled is back with twice that, not with the noise of a scale', () => {
    const stalled = { stallSinceMs: 50_000, stalledMs: 9_900 };
    expect(flows(stalled, 5.9e-4)).toMatchObject({ stallSinceMs: 50_000, stalledMs: 10_000 });
    expect(flows(stalled, 6e-4)).toMatchObject({ stallSinceMs: undefined, stalledMs: 0 });
  });

  test('is slow below two fifths of its peak, since the first time', () => {
    expect(flows({ peakFlowKgPerS: 0.02 }, 0.0079).slowSinceMs).toBe(60_000);
    expect(flows({ peakFlowKgPerS: 0.02, slowSinceMs: 40_000 }, 0.0079).slowSinceMs).toBe(40_000);
    expect(flows({ peakFlowKgPerS: 0.02, slowSinceMs: 40_000 }, 0.008).slowSinceMs).toBeUndefined();
  });

  test('keeps the most it has been', () => {
    expect(flows({ peakFlowKgPerS: 0.02 }, 0.03).peakFlowKgPerS).toBe(0.03);
    expect(flows({ peakFlowKgPerS: 0.02 }, 0.01).peakFlowKgPerS).toBe(0.02);
    expect(flows({ peakFlowKgPerS: 0.02 }, 0).peakFlowKgPerS).toBe(0.02);
  });
});

describe('The gap between tank and hose', () => {
  const seen = { tankPa: TANK_PA, highSidePa: 5 * BAR };
  const watched = (data: Partial<ChargeData>, given: Given = {}) =>
    watchStall(charging(data), 0.02, scanOf({ nowMs: 3_000, seen, ...given })).gap;

  test('counts from the third second of an opening', () => {
    expect(watched({}, { nowMs: 2_999 })).toBeUndefined();
    expect(watched({})).toEqual({ pa: BAR, leastPa: BAR, mostPa: BAR, stalledPa: undefined });
  });

  test('counts from the opening, whenever that was', () => {
    expect(watched({ stepSinceMs: 20_000 }, { nowMs: 22_999 })).toBeUndefined();
    expect(watched({ stepSinceMs: 20_000 }, { nowMs: 23_000 })?.pa).toBe(BAR);
  });

  test('begins anew once a sensor had no value', () => {
    const gap = { pa: 1, leastPa: 1, mostPa: 1, stalledPa: 1 };
    const blind = watchStall(charging({ gap }), 0.02, scanOf({ nowMs: 9_000, seen: { tankPa: undefined } }));
    expect(blind).toEqual(charging({ peakFlowKgPerS: 0.02 }));
    expect(watched({ gap }, { seen: { ...seen, tankPa: undefined } })).toBeUndefined();
    expect(watched({ gap }, { seen: { ...seen, highSidePa: undefined } })).toBeUndefined();
  });

  test('is smoothed by tenths, and remembers its least and most', () => {
    const gap = { pa: 50_000, leastPa: 20_000, mostPa: 52_000, stalledPa: undefined };
    expect(watched({ gap })).toEqual({ pa: 55_000, leastPa: 20_000, mostPa: 55_000, stalledPa: undefined });
    expect(watched({ gap: { ...gap, leastPa: 60_000, mostPa: 90_000 } })).toMatchObject({
      leastPa: 55_000,
      mostPa: 90_000,
    });
  });

  test('after a stall counts from the fourth second, at its most', () => {
    const gap = { pa: BAR, leastPa: 0, mostPa: BAR, stalledPa: 120_000 };
    const stalls = (stalledMs: number, before?: FlowGap) =>
      watchStall(
        charging({ stallSinceMs: 10_000, gap: before }),
        0,
        scanOf({ nowMs: 10_000 + stalledMs, seen }),
      ).gap?.stalledPa;
    expect(stalls(3_999, gap)).toBeUndefined();
    expect(stalls(4_000, gap)).toBe(120_000);
    expect(stalls(4_000)).toBe(BAR);
    expect(stalls(4_000, { ...gap, stalledPa: 90_000 })).toBe(BAR);
  });
});

/** A flow that ended ten seconds ago, with everything even unless a test says otherwise. */
const STALLED = { stallSinceMs: 50_000, stalledMs: 10_000 };
const EVEN = { tankPa: TANK_PA, highSidePa: TANK_PA, lowSidePa: TANK_PA, tankTemperatureK: 293.15 };

function causes(seen: Given['seen'], data: Partial<ChargeData> = {}, given: Given = {}): readonly string[] {
  const input = scanOf({ nowMs: 60_000, gaveKg: 0.2, ...given, seen: { ...EVEN, ...seen } });
  return codesOf(tellStall(charging({ ...STALLED, ...data }), 0.2, input));
}

describe('A stall', () => {
  test('is told after ten seconds', () => {
    expect(causes({}, { stalledMs: 9_999 })).toEqual([]);
    expect(causes({})).toEqual(['charge-stalled-warm']);
  });

  test('names the vehicle as too warm only where its low side stands as high as the tank', () => {
    for (const side of [1, -1]) {
      expect(causes({ lowSidePa: TANK_PA + side * (39_900 + DOUBT_PA) })).toEqual(['charge-stalled-warm']);
      expect(causes({ lowSidePa: TANK_PA + side * (40_100 + DOUBT_PA) })).toEqual(['charge-stalled']);
    }
    expect(causes({ lowSidePa: undefined })).toEqual(['charge-stalled']);
  });

  test('names no cause without the tank or the high side', () => {
    expect(causes({ tankPa: undefined })).toEqual(['charge-stalled']);
    expect(causes({ highSidePa: undefined })).toEqual(['charge-stalled']);
    expect(causes({ tankPa: undefined }, {}, { scale: { massKg: 0.8 } })).toEqual(['charge-stalled']);
  });

  test('names the supply where the hose stands a bar below the tank', () => {
    expect(causes({ highSidePa: TANK_PA - BAR - DOUBT_PA - 100 })).toEqual(['charge-stalled-supply']);
    expect(causes({ highSidePa: TANK_PA - BAR - DOUBT_PA + 100 })).toEqual(['charge-stalled-warm']);
  });

  test('names the engine before anything else where the sides are parted', () => {
    const parted = { highSidePa: 9 * BAR, lowSidePa: 2 * BAR };
    expect(causes(parted, {}, { scale: { massKg: 0.5 } })).toEqual(['charge-stalled-engine']);
  });

  test('names the dip tube where hardly any liquid is left, with what there is', () => {
    // 21.6 L at 20 °C: 0.6 kg of vapour when there is hardly any liquid, R-134a at 27.78 kg/m³ (Tillner-Roth and Baehr).
    const vapourKg = 21.6e-3 * 27.78;
    expect(causes({}, {}, { scale: { massKg: vapourKg + 0.47 } })).toEqual(['charge-stalled-dip-tube']);
    expect(causes({}, {}, { scale: { massKg: vapourKg + 0.5 } })).toEqual(['charge-stalled-warm']);
    const seen = { ...EVEN, tankTemperatureK: undefined };
    const step = tellStall(charging(STALLED), 0.2, scanOf({ seen, scale: { massKg: vapourKg + 0.2 } }));
    expect(step.notices).toEqual([
      {
        code: 'charge-stalled-dip-tube',
        with: { charged: '200', minutes: '5', liquid: expect.stringMatching(/^0\.2/) },
      },
    ]);
  });

  test('is told once, and nothing more after a last word', () => {
    expect(causes({}, { told: ['charge-stalled-warm'] })).toEqual([]);
    expect(causes({}, { told: ['charge-stalled'] })).toEqual(['charge-stalled-warm']);
    for (const last of ['charge-stalled-supply', 'charge-stalled-engine', 'charge-stalled-dip-tube'])
      expect(causes({}, { told: [last] })).toEqual([]);
    const step = tellStall(charging({ ...STALLED, told: ['charge-stalled'] }), 0.2, scanOf({ seen: EVEN }));
    expect(step.told).toEqual(['charge-stalled', 'charge-stalled-warm']);
  });
});

describe('A slow flow', () => {
  const SLOW = { stallSinceMs: undefined, stalledMs: 0, slowSinceMs: 50_000 };
  const little = { scale: { massKg: 0.8 } };
  const driven = { highSidePa: TANK_PA - 30_000 - DOUBT_PA - 100 };

  test('is vapour where the tank surely drives it and is short of liquid', () => {
    expect(causes(driven, SLOW, little)).toEqual(['charge-stalled-dip-tube']);
    expect(causes(driven, SLOW)).toEqual([]);
    expect(causes({ highSidePa: TANK_PA - 30_000 - DOUBT_PA + 100 }, SLOW, little)).toEqual([]);
    expect(causes({ highSidePa: undefined }, SLOW, little)).toEqual([]);
    expect(causes({ ...driven, tankPa: undefined }, SLOW, little)).toEqual([]);
  });

  test('is told after ten seconds, and NOT while it looks like a stall', () => {
    expect(causes(driven, { ...SLOW, slowSinceMs: 50_001 }, little)).toEqual([]);
    expect(causes(driven, { ...SLOW, slowSinceMs: undefined }, little)).toEqual([]);
    expect(causes(driven, { ...SLOW, stallSinceMs: 55_000, stalledMs: 5_000 }, little)).toEqual([]);
  });
});

describe('A hose that is cut off from the tank', () => {
  const gap = (over: Partial<FlowGap>): Partial<ChargeData> => ({
    gap: { pa: 0, leastPa: 0, mostPa: 0, stalledPa: 0, ...over },
  });
  const SUPPLY = ['charge-stalled-supply'];
  const WARM = ['charge-stalled-warm'];
  const exact = (data: Partial<ChargeData>) => causes({}, data, { equipment: EXACT });

  test('stands below it by more than 15 kPa, and with sensors that err by three deviations more', () => {
    expect(exact(gap({ pa: 15_000, leastPa: 15_000, mostPa: 15_000, stalledPa: 15_000 }))).toEqual(WARM);
    expect(exact(gap({ pa: 15_001, leastPa: 15_001, mostPa: 15_001, stalledPa: 15_001 }))).toEqual(SUPPLY);
    const pa = 15_000 + 3 * Math.hypot(5_000, 7_500);
    const even = (by: number) => gap({ pa: pa + by, leastPa: pa, mostPa: pa, stalledPa: pa });
    expect(causes({}, even(10))).toEqual(SUPPLY);
    expect(causes({}, even(-10))).toEqual(WARM);
  });

  test('has moved away from it since the flow ended, by more than noise and the steps of a converter', () => {
    expect(exact(gap({ leastPa: -10_000, stalledPa: -7_500 }))).toEqual(WARM);
    expect(exact(gap({ leastPa: -10_000, stalledPa: -7_499 }))).toEqual(SUPPLY);
    const moves = 2_500 + 0.12 * Math.hypot(5_000, 7_500);
    expect(causes({}, gap({ stalledPa: moves - 1 }))).toEqual(WARM);
    expect(causes({}, gap({ stalledPa: moves + 1 }))).toEqual(SUPPLY);
  });

  test('is NOT told by a gap that was never watched, or not since the flow ended', () => {
    expect(exact({ gap: undefined })).toEqual(WARM);
    expect(exact(gap({ pa: 90_000, stalledPa: undefined }))).toEqual(WARM);
  });

  const assist = {
    rounds: 1,
    spentMs: 0,
    sinceMs: 0,
    fromKg: 0.1,
    still: undefined,
    helped: true,
    heats: true,
    evenPa: -20_000,
    markPa: undefined,
    markGapPa: undefined,
    markAtMs: 0,
  };

  test('after a help still stands where the help has brought the tank, 10 kPa from even', () => {
    const helped = (pa: number, over = {}) =>
      exact({ ...gap({ pa, leastPa: pa, mostPa: pa, stalledPa: pa }), assist: { ...assist, ...over } });
    expect(helped(-10_000)).toEqual(WARM);
    expect(helped(-9_999)).toEqual(SUPPLY);
    expect(helped(-9_999, { helped: false })).toEqual(WARM);
  });

  test('and warmed before anything was given has got nothing and has not moved', () => {
    const first = (movedPa: number, deliveredKg: number, admittedKg?: number) => {
      const input = scanOf({
        nowMs: 60_000,
        equipment: EXACT,
        seen: EVEN,
        accounts: { leakCheck: admittedKg === undefined ? undefined : { admittedKg } },
      });
      const data = {
        ...STALLED,
        ...gap({ pa: 9_000, leastPa: 9_000, mostPa: 9_000 + movedPa, stalledPa: 9_000 }),
        assist: { ...assist, fromKg: 0 },
      };
      return codesOf(tellStall(charging(data), deliveredKg, input));
    };
    expect(first(2_499, 0.0049)).toEqual(SUPPLY);
    expect(first(2_500, 0.0049)).toEqual(WARM);
    expect(first(2_499, 0.005)).toEqual(WARM);
    // What a search has let in before came then, not now.
    expect(first(2_499, 0.0829, 0.078)).toEqual(SUPPLY);
    expect(first(2_499, 0.0831, 0.078)).toEqual(WARM);
  });
});
