// The repair, one scan at a time: who has to mend, when the vehicle may be opened, and when the word is believed.

import { describe, expect, test } from 'vitest';
import { saturationPa } from '../../../controller/estimates/saturation.ts';
import type { Seen } from '../../../controller/estimates/seen.ts';
import type { OperatorEvent } from '../../../controller/operator.ts';
import type { RepairData } from '../../../controller/stages/data-recovery.ts';
import { enterRepair, stepRepair } from '../../../controller/stages/repair.ts';
import type { Accounts } from '../../../controller/state.ts';
import { R134A } from '../support/machine.ts';
import type { Given } from '../support/stage-input.ts';
import { inputOf, NEARLY_WEIGHED, WEIGHED, weighedNow } from '../support/unseen-input.ts';
import { onOf } from '../support/weighings.ts';

function stepped(data: RepairData, given: Given) {
  const step = stepRepair(data, inputOf(given));
  return { ...step, on: onOf(step.wanted), told: step.notices?.[0] };
}
const BEGUN: Partial<Accounts> = { repair: { why: 'asked' } };
const confirmed = (prompt: 'repair-vehicle' | 'recover-again'): readonly OperatorEvent[] => [
  { type: 'confirmed', prompt },
];

test('A repair begins with a look, no pressure having come back, and leads to the evacuation', () =>
  expect(enterRepair(0)).toMatchObject({ stage: 'repair', step: 'look', back: false, follows: 'evacuate' }));

describe('Whether a repair is needed', () => {
  const EU = { jurisdiction: 'eu' } as const;
  const recovered = (recoveredKg: number): Partial<Accounts> => ({
    recoveredKg,
    recoveredUncertaintyKg: 0.01,
    cycles: [{ recoveredKg }],
  });
  const decided = (ticket: Given['ticket'] & object, accounts: Partial<Accounts> = {}) =>
    stepped(enterRepair(0), { ticket, accounts });

  test('where the ticket asks for one it is begun, with what the vehicle had lost where that is known', () => {
    const asked = decided({ repair: true });
    expect(asked.accounts!.repair).toEqual({ why: 'asked' });
    expect(asked).toMatchObject({ on: [], notices: [] });
    expect(decided({ repair: true }, recovered(0.3)).accounts!.repair).toMatchObject({
      why: 'asked',
      loss: { missingKg: expect.closeTo(0.288, 9) },
    });
  });

  test('where nobody asks it is not, however much is missing, unless the law does', () => {
    expect(decided({}, recovered(0.1))).toMatchObject({ event: 'repair-not-needed' });
    expect(decided({}, recovered(0.1)).result).toBeUndefined();
    expect(decided({ ...EU, repaired: true }, recovered(0.1)).event).toBe('repair-not-needed');
  });

  test('a vehicle that came empty has lost all of it', () => {
    const empty = decided(EU);
    expect(empty.accounts!.repair).toEqual({ why: 'came-empty' });
    expect(empty.told).toEqual({ code: 'loss-of-all' });
  });

  test('what its age allows is no abnormal loss', () => {
    expect(decided(EU, recovered(0.55))).toMatchObject({
      event: 'repair-not-needed',
      result: 'no-abnormal-loss',
    });
  });

  test('more than that demands it, and every figure is told', () => {
    // Of 600 g 300 are there; 2 % are left in it, 60 g are ordinary in a year, and √(10² + 15² + 12²) g of doubt.
    const lost = decided(EU, recovered(0.3));
    expect(lost.accounts!.repair).toMatchObject({ why: 'abnormal-loss' });
    expect(lost.told).toEqual({
      code: 'loss-abnormal',
      with: {
        missing: '288',
        doubt: '22',
        allowed: '60',
        age: 'one year, because the ticket gives no age',
      },
    });
    const aged = decided({ ...EU, vehicleAgeYears: 2.5 }, recovered(0.3));
    expect(aged.told).toMatchObject({ with: { age: '2.5 years' } });
  });
});

describe('Before anybody is told to open the vehicle', () => {
  const looked = (waitedMs: number, seen: Partial<Seen>, given: Given = {}, data = enterRepair(1_000)) =>
    stepped(data, { ticket: { repair: true }, nowMs: 1_000 + waitedMs, seen, accounts: BEGUN, ...given });
  const LOW = { manifoldPa: 106_325 };

  test('hoses and vehicle are joined for three seconds', () => {
    expect(looked(2_999, LOW).on).toEqual(['highSideValve', 'lowSideValve']);
    expect(looked(2_999, LOW).data.step).toBe('look');
    expect(looked(2_999, LOW, { ticket: { repair: true, ports: 1 } }).on).toEqual(['highSideValve']);
  });

  test('the absolute sensor has to show no more than the barometer and 50 mbar', () => {
    const low = looked(3_000, LOW);
    expect(low.data).toMatchObject({ step: 'wait', stepSinceMs: 4_000 });
    expect(low.on).toEqual([]);
    expect(looked(3_000, { manifoldPa: 106_326 }).event).toBe('pressure-rose');
    expect(looked(3_000, { manifoldPa: 90_000, barometerPa: 80_000 }).event).toBe('pressure-rose');
  });

  test('the gauges learn their zeros from it, those that read', () => {
    const seen = { manifoldPa: 100_000, highSidePa: 104_000, lowSidePa: 99_000 };
    expect(looked(3_000, seen).data).toMatchObject({ highZeroPa: 4_000, lowZeroPa: -1_000 });
    expect(looked(3_000, LOW).data).toMatchObject({ highZeroPa: undefined, lowZeroPa: undefined });
  });

  test('where it says nothing for a minute the job ends', () => {
    expect(looked(59_999, {}).on).toEqual(['highSideValve', 'lowSideValve']);
    const unknown = looked(60_000, {});
    expect(unknown).toMatchObject({ event: 'timed-out', result: 'pressure-unknown', on: [] });
    expect(unknown.told).toEqual({ code: 'pressure-unknown' });
  });

  test('gauges above its span say enough at once: nothing is opened for longer', () => {
    // A span of 160 kPa and three deviations of the coarser gauge, 7.5 kPa each.
    expect(looked(0, { highSidePa: 182_501 }).event).toBe('pressure-rose');
    expect(looked(0, { highSidePa: 182_500 }).event).toBeUndefined();
    expect(looked(0, { lowSidePa: 182_501 }).event).toBe('pressure-rose');
  });

  test('a sensor at the end of its span says so too, with the gauge where there is one', () => {
    expect(looked(2_999, { manifoldOverSpan: true }).event).toBeUndefined();
    const over = looked(3_000, { manifoldOverSpan: true });
    expect(over).toMatchObject({ event: 'pressure-rose', on: [] });
    expect(over.told).toEqual({ code: 'repair-put-off', with: { pressure: '160' } });
    const gauge = looked(3_000, { manifoldOverSpan: true, lowSidePa: 170_000 });
    expect(gauge.told).toMatchObject({ with: { pressure: '170' } });
  });

  test('pressure is recovered once more, as long as a recovery may go on', () => {
    const of = (accounts: Partial<Accounts>) =>
      looked(3_000, { manifoldPa: 150_000 }, { accounts: { ...BEGUN, ...accounts } });
    const { plan } = inputOf();
    const cycles = (count: number) => Array.from({ length: count }, () => ({ recoveredKg: 0.1 }));
    expect(of({ cycles: cycles(plan.recover.cycles - 1) }).event).toBe('pressure-rose');
    const spent = of({ cycles: cycles(plan.recover.cycles) });
    expect(spent.event).toBe('liquid-left');
    expect(spent.told).toEqual({ code: 'repair-refused', with: { pressure: '150' } });
    const began = (agoMs: number) => of({ recoveryStartedAtMs: 4_000 - agoMs }).event;
    expect(began(plan.recover.totalMs)).toBe('liquid-left');
    expect(began(plan.recover.totalMs - 1)).toBe('pressure-rose');
  });

  test('and NOT where nothing is recovered in this service', () => {
    const ticket = { repair: true, service: 'evacuate-and-charge' } as const;
    const found = looked(3_000, { manifoldPa: 150_000 }, { ticket });
    expect(found.event).toBe('vehicle-found-pressurised');
    expect(found.told).toEqual({ code: 'vehicle-pressurised', with: { pressure: '150' } });
  });
});

describe('While it is mended', () => {
  const WAITING: RepairData = { ...enterRepair(0), step: 'wait', highZeroPa: 4_000, lowZeroPa: -1_000 };
  const waited = (seen: Partial<Seen>, given: Given = {}, data = WAITING) =>
    stepped(data, { ticket: { repair: true }, nowMs: 9_000, seen, accounts: BEGUN, ...given });

  test('everything is off, and the question stands until it is answered', () => {
    expect(waited({})).toMatchObject({ prompt: 'repair-vehicle', on: [], data: WAITING });
    const done = waited({}, { answers: confirmed('repair-vehicle') });
    expect(done.data).toMatchObject({ step: 'check', stepSinceMs: 9_000 });
    expect(done.prompt).toBeUndefined();
  });

  test('pressure is back when a side stands above the atmosphere by more than 150 mbar', () => {
    const back = (seen: Partial<Seen>) => waited(seen).data.back;
    expect(back({ highSidePa: 101_325 + 4_000 + 15_001 })).toBe(true);
    expect(back({ highSidePa: 101_325 + 4_000 + 15_000 })).toBe(false);
    expect(back({ lowSidePa: 101_325 - 1_000 + 15_001 })).toBe(true);
    expect(back({ lowSidePa: 101_325 - 1_000 + 15_000, highSidePa: 50_000 })).toBe(false);
  });

  test('a gauge whose zero nobody knows counts as far as it is sure: three deviations', () => {
    const unlearnt = { ...WAITING, highZeroPa: undefined, lowZeroPa: undefined };
    const back = (seen: Partial<Seen>) => waited(seen, {}, unlearnt).data.back;
    expect(back({ highSidePa: 101_325 + 22_500 + 15_001 })).toBe(true);
    expect(back({ highSidePa: 101_325 + 22_500 + 15_000 })).toBe(false);
    expect(back({ lowSidePa: 101_325 + 7_500 + 15_001 })).toBe(true);
    expect(back({ lowSidePa: 101_325 + 7_500 + 15_000 })).toBe(false);
  });

  test('the capped low side of a vehicle with one port tells nothing', () => {
    const ticket = { repair: true, ports: 1 } as const;
    expect(waited({ lowSidePa: 400_000 }, { ticket }).data.back).toBe(false);
  });

  test('it is told once, and refrigerant may be recovered', () => {
    const back = waited({ highSidePa: 145_325 });
    expect(back).toMatchObject({ prompt: 'recover-again', on: [] });
    expect(back.told).toEqual({ code: 'repair-pressure-back', with: { above: '40' } });
    const later = waited({ highSidePa: 145_325 }, {}, back.data);
    expect(later.prompt).toBe('recover-again');
    expect(later.notices).toBeUndefined();
    const again = waited({ highSidePa: 145_325 }, { answers: confirmed('recover-again') }, back.data);
    expect(again.data).toMatchObject({ step: 'weigh', follows: 'recover', stepSinceMs: 9_000 });
    expect(again.on).toEqual([]);
    const mended = waited({ highSidePa: 145_325 }, { answers: confirmed('repair-vehicle') }, back.data);
    expect(mended.data.step).toBe('wait');
  });

  test('what stands above saturation is gas of a leak test, and NOT offered to the tank', () => {
    // Saturation at the warmest the room may be, and 0.4 bar (common practice).
    const mostPa = saturationPa(R134A, 293.15 + 0.9) + 40_000;
    const of = (abovePa: number, seen: Partial<Seen> = {}, given: Given = {}) =>
      waited({ lowSidePa: mostPa - 1_000 + abovePa, ...seen }, given);
    expect(of(-1).prompt).toBe('recover-again');
    const foreign = of(1);
    expect(foreign.prompt).toBeUndefined();
    expect(foreign.told!.code).toBe('repair-foreign-pressure');
    expect(of(1, {}, { answers: confirmed('recover-again') }).data.step).toBe('wait');
    expect(of(-1, { ambientK: undefined }).prompt).toBe('recover-again');
    expect(of(-1, { ambientK: undefined, tankTemperatureK: undefined }).prompt).toBeUndefined();
    const ticket = { repair: true, service: 'evacuate-and-charge' } as const;
    expect(of(-1, {}, { ticket }).prompt).toBeUndefined();
  });

  test('it is gone again below 80 mbar; where no gauge reads, what was known stands', () => {
    const back = { ...WAITING, back: true };
    const of = (abovePa: number) => waited({ highSidePa: 105_325 + abovePa }, {}, back).data.back;
    expect(of(8_001)).toBe(true);
    expect(of(8_000)).toBe(false);
    expect(waited({}, {}, back).data.back).toBe(true);
    expect(waited({}, {}, back).prompt).toBe('recover-again');
  });
});

describe('The word that it is mended', () => {
  const CHECKING: RepairData = { ...enterRepair(0), step: 'check', follows: 'recover' };
  const checked = (seen: Partial<Seen>, nowMs = 3_000, given: Given = {}) =>
    stepped(CHECKING, { ticket: { repair: true }, nowMs, seen, accounts: BEGUN, ...given });

  test('is believed when the absolute sensor finds no pressure, and remembered with its time', () => {
    expect(checked({ manifoldPa: 100_000 }, 2_999).on).toEqual(['highSideValve', 'lowSideValve']);
    const good = checked({ manifoldPa: 100_000 });
    expect(good.data).toMatchObject({ step: 'weigh', follows: 'evacuate', stepSinceMs: 3_000 });
    expect(good.on).toEqual([]);
    expect(good.accounts!.repair).toEqual({ why: 'asked', confirmedAtMs: 3_000 });
  });

  test('is NOT where pressure stands, or where nobody sees: the question stands again', () => {
    const high = checked({ manifoldPa: 120_000 });
    expect(high).toMatchObject({ on: [], data: { step: 'wait', stepSinceMs: 3_000 } });
    expect(high.told).toEqual({ code: 'repair-under-pressure', with: { pressure: '120' } });
    expect(high.accounts).toBeUndefined();
    const blind = checked({}, 60_000);
    expect(blind.told).toEqual({ code: 'repair-unproven' });
    expect(blind.data.step).toBe('wait');
  });
});

describe('The tank is weighed afterwards', () => {
  const weighed = (follows: RepairData['follows'], counts?: number, before: Partial<Accounts> = {}) =>
    stepped(
      { ...enterRepair(0), step: 'weigh', follows, weighing: NEARLY_WEIGHED },
      { ...weighedNow(counts), accounts: { ...BEGUN, recoveryStartedAtMs: 7, weighed: WEIGHED, ...before } },
    );

  test('and the evacuation follows, or a recovery that has all its time', () => {
    const mended = weighed('evacuate');
    expect(mended).toMatchObject({ event: 'repaired', on: [], notices: [] });
    expect(mended.accounts).toMatchObject({ recoveryStartedAtMs: 7, weighed: { atMs: 60_000 } });
    const again = weighed('recover');
    expect(again.event).toBe('pressure-rose');
    expect(again.accounts!.recoveryStartedAtMs).toBeUndefined();
  });

  test('a tank that has gained or lost more than 100 g in days of rest was changed or touched', () => {
    // Nine samples before this one were of 8 kg: the mean of ten moves by a tenth.
    const moved = (kg: number) => weighed('evacuate', 2_100_000 + 10 * kg * 100_000).told;
    expect(moved(0.099)).toBeUndefined();
    expect(moved(0.101)).toEqual({ code: 'tank-moved-in-repair', with: { moved: '101', direction: 'more' } });
    expect(moved(-0.101)).toMatchObject({ with: { moved: '101', direction: 'less' } });
    expect(weighed('evacuate', 9_000_000, { weighed: undefined }).told).toBeUndefined();
  });
});
