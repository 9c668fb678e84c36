// Settle scan by scan: the weighing, the look at the sides, and what is told of a vehicle's pressure.

import { describe, expect, test } from 'vitest';
import type { Equipment } from '../../../controller/equipment.ts';
import type { SettleData } from '../../../controller/stages/data-recovery.ts';
import { enterSettle, stepSettle } from '../../../controller/stages/settle.ts';
import { EQUIPMENT } from '../support/machine.ts';
import { almostWeighed, type Given, NOW_MS, says, shown, weighing } from '../support/stage-input.ts';
import { codesOf, countsOf, onOf } from '../support/weighings.ts';

type More = Partial<SettleData>;
const stepped = (step: SettleData['step'], waitedMs: number, more: More = {}, given: Given = {}) =>
  stepSettle({ ...enterSettle(NOW_MS - waitedMs), step, ...more }, shown(given));
const BOTH = ['highSideValve', 'lowSideValve'];
const sides = (highSidePa: number | undefined, lowSidePa: number | undefined = highSidePa): Given => ({
  seen: { highSidePa, lowSidePa },
});
/** R-134a at 20 °C (Tillner-Roth and Baehr 1994). */
const SATURATED_PA = 571_710;
const charges = { service: 'evacuate-and-charge' } as const;
const warms = { engine: 'can-run', warmUp: true } as const;

describe('The first weighing', () => {
  const weighed = (given: Given = {}) => stepped('weigh', 9_000, { weighing: almostWeighed() }, given);

  test('is where the recovery counts from, with what the tank stands above saturation', () => {
    const step = weighed({ seen: { tankPa: SATURATED_PA + 5_000 } });
    expect(step.data).toMatchObject({ step: 'connect', stepSinceMs: NOW_MS, weighing: undefined });
    expect(step.accounts!.weighed?.counts).toBeCloseTo(countsOf(8), 3);
    expect(step.accounts!.weighedFirst).toBe(step.accounts!.weighed);
    expect(step.accounts!.tankExcessFirstPa).toBeCloseTo(5_000, 0);
    expect(step.notices).toEqual([]);
    expect(step.event).toBeUndefined();
  });

  test('is followed by clean hoses before they go on a vehicle with an electric compressor', () => {
    const electric = { electricCompressor: true, oil: { kind: 'POE', addM3: 0 } } as const;
    expect(weighed({ ticket: electric }).data.step).toBe('flush');
    expect(stepped('flush', 0).prompt).toBe('flush-hoses');
    expect(stepped('flush', 0, {}, says('flush-hoses')).data).toMatchObject({
      step: 'connect',
      stepSinceMs: NOW_MS,
    });
    expect(stepped('flush', 0, {}, says('connect-hoses')).data.step).toBe('flush');
    expect(stepped('connect', 0).prompt).toBe('connect-hoses');
    expect(stepped('connect', 0, {}, says('connect-hoses')).data).toMatchObject({
      step: 'look',
      stepSinceMs: NOW_MS,
    });
    expect(stepped('connect', 0, {}, says('flush-hoses')).data.step).toBe('connect');
  });

  test('ends the job before a valve opens where the tank does not suit, by what lies in it', () => {
    // 17.28 kg at most, 0.6 kg come, and 1 kg is to be free.
    const holds = (kg: number, offsetKg = 0) =>
      stepped('weigh', 9_000, { weighing: almostWeighed(kg) }, { scale: { counts: countsOf(kg), offsetKg } });
    expect(holds(16)).toMatchObject({ event: 'tank-unfit', notices: [{ code: 'tank-too-full' }] });
    expect(holds(15.5).event).toBeUndefined();
    expect(holds(16, 0.5).event).toBeUndefined();
  });

  test('tells of air from 30 kPa above saturation, where the sensors leave no doubt', () => {
    const over = (kPa: number, equipment: Equipment = EQUIPMENT) =>
      weighed({ seen: { tankPa: SATURATED_PA + 1_000 * kPa }, equipment }).notices;
    // Three deviations of gauge and thermometer are 21.8 kPa.
    expect(over(31)).toEqual([{ code: 'air-perhaps', with: { excess: '9' } }]);
    expect(over(29)).toEqual([]);
    const poor = { ...EQUIPMENT, pressure: { ...EQUIPMENT.pressure, tankSdPa: 15_000 } };
    expect(over(40, poor)).toEqual([]);
    expect(over(60, poor)).toMatchObject([{ code: 'air-perhaps' }]);
    const purges: Equipment = {
      ...EQUIPMENT,
      fitted: [...EQUIPMENT.fitted, 'airPurgeValve'],
      tankRestedMs: 200 * 60_000,
    };
    expect(over(31, purges)).toEqual([]);
    const contaminated = { ...EQUIPMENT, tank: { ...EQUIPMENT.tank, contaminated: true } };
    const ticket = { service: 'recover' } as const;
    expect(
      weighed({ seen: { tankPa: SATURATED_PA + 31_000 }, equipment: contaminated, ticket }).notices,
    ).toEqual([]);
  });
});

describe('The look at both sides', () => {
  const looked = (waitedMs: number, given: Given, more: More = {}) => stepped('look', waitedMs, more, given);

  test('takes five seconds', () => {
    expect(looked(4_999, sides(100_000)).data.step).toBe('look');
    expect(looked(5_000, sides(100_000)).data).toMatchObject({ step: 'join', stepSinceMs: NOW_MS });
  });

  test('leaves what is near the atmosphere to the absolute sensor: its span and three deviations', () => {
    expect(onOf(looked(5_000, sides(182_500)).wanted)).toEqual(BOTH);
    expect(onOf(looked(5_000, { ...sides(182_500), ticket: { ports: 1 } }).wanted)).toEqual([
      'highSideValve',
    ]);
    expect(looked(5_000, sides(182_501)).data.step).not.toBe('join');
    expect(onOf(looked(5_000, sides(182_501)).wanted)).toEqual([]);
    expect(looked(5_000, sides(undefined)).data.step).toBe('join');
    expect(onOf(looked(5_000, sides(undefined)).wanted)).toEqual(BOTH);
    expect(looked(5_000, sides(100_000, 300_000)).data.step).not.toBe('join');
  });

  /** 30 kPa and three deviations of the poorer gauge. */
  const EVEN_PA = 52_500;
  test('gives unequal sides a minute, and then tells of them', () => {
    const apart = (waitedMs: number, byPa: number) => looked(waitedMs, sides(400_000 + byPa, 400_000));
    expect(apart(5_000, EVEN_PA).data.step).toBe('pulse');
    expect(apart(59_999, EVEN_PA + 1).data.step).toBe('look');
    expect(onOf(apart(59_999, EVEN_PA + 1).wanted)).toEqual([]);
    const told = apart(60_000, EVEN_PA + 1);
    expect(told.data.step).toBe('pulse');
    expect(told.notices).toEqual([{ code: 'sides-differ', with: { difference: '53' } }]);
    expect(apart(60_000, EVEN_PA).notices).toEqual([]);
  });

  test('gives them five minutes after the engine has run, and asks again where they do NOT come together', () => {
    const ran = (waitedMs: number, byPa: number, more: More = {}) =>
      looked(waitedMs, sides(400_000 + byPa, 400_000), { warmed: true, apartPa: 400_000, ...more });
    expect(ran(299_999, 300_000).data.step).toBe('look');
    const doubted = ran(300_000, 300_000);
    expect(doubted.data).toMatchObject({ step: 'warm-stop', stepSinceMs: NOW_MS });
    expect(doubted.notices).toEqual([
      { code: 'engine-perhaps-running', with: { minutes: '5', apart: '300' } },
    ]);
    // Half of what parted them is gone: nothing pumps. And the word counts that was asked for by itself.
    expect(codesOf(ran(300_000, 200_000))).toEqual(['sides-differ']);
    expect(codesOf(ran(300_000, 300_000, { stopAsked: true }))).toEqual(['sides-differ']);
    expect(ran(5_000, 0).data.step).toBe('pulse');
  });

  test('asks for the word alone that the engine stands where a side cannot be seen', () => {
    const blind = (more: More) =>
      looked(5_000, { seen: { highSidePa: 400_000, lowSidePa: undefined } }, more);
    expect(blind({ warmed: true }).data).toMatchObject({ step: 'warm-stop', stepSinceMs: NOW_MS });
    expect(onOf(blind({ warmed: true }).wanted)).toEqual([]);
    expect(blind({ warmed: true, stopAsked: true }).data.step).toBe('weigh-connected');
    expect(blind({}).data.step).toBe('weigh-connected');
    expect(looked(5_000, sides(400_000), { warmed: true }).data.step).toBe('pulse');
  });
});

describe('A vehicle under pressure', () => {
  const found = (pa: number, given: Given = {}, more: More = {}) =>
    stepped('look', 5_000, more, { ...given, seen: { ...sides(pa).seen, ...given.seen } });

  test('is asked which side answers, and then weighed', () => {
    expect(found(400_000).data).toMatchObject({ step: 'pulse', pulseTest: { highFromPa: 400_000 } });
    expect(found(400_000, { ticket: { ports: 1 } }).data.step).toBe('pulse');
    expect(onOf(found(400_000).wanted)).toEqual([]);
    expect(stepped('pulse', 3_000).data.step).toBe('look');
    const pulse = { highFromPa: 400_000, lowFromPa: 400_000, highLowestPa: 400_000, lowLowestPa: 400_000 };
    expect(stepped('pulse', 3_000, { pulseTest: pulse }).data.step).toBe('weigh-connected');
    expect(onOf(stepped('pulse', 0, { pulseTest: pulse }).wanted)).toEqual(['highSideValve']);
  });

  test('is told where it stands above saturation at the warmest that the room can be: 40 kPa and three deviations', () => {
    // 587.8 kPa at 20.9 °C, interpolated in the table, and 62.5 kPa.
    expect(found(651_000).notices).toEqual([{ code: 'pressure-above-saturation', with: { excess: '63' } }]);
    expect(found(649_500).notices).toEqual([]);
    expect(found(651_000, { seen: { ambientK: 295 } }).notices).toEqual([]);
    expect(found(651_000, { seen: { ambientK: undefined } }).notices).toHaveLength(1);
    expect(found(651_000, { seen: { ambientK: undefined, tankTemperatureK: undefined } }).notices).toEqual(
      [],
    );
    expect(found(651_000, {}, { warmed: true }).notices).toEqual([]);
  });

  test('is warmed by its engine first where the ticket asks for it, once', () => {
    expect(enterSettle(5)).toMatchObject({ warmed: false, warmTold: [] });
    expect(found(400_000, { ticket: warms }).data).toMatchObject({ step: 'warm', stepSinceMs: NOW_MS });
    expect(found(400_000, { ticket: warms }, { warmed: true }).data.step).toBe('pulse');
    expect(stepped('warm', 0).prompt).toBe('warm-vehicle');
    expect(stepped('warm-stop', 0).prompt).toBe('stop-engine');
  });

  test('from which nobody took a sample ends the job, and so does one that was to be empty', () => {
    const why = (why: 'no-pressure' | 'identified-elsewhere') =>
      found(400_000, { accounts: { identification: { verdict: 'overridden', why, reason: '' } } });
    expect(why('no-pressure')).toMatchObject({
      event: 'vehicle-found-pressurised',
      notices: [{ code: 'vehicle-not-identified', with: { pressure: '400' } }],
    });
    expect(why('identified-elsewhere').event).toBeUndefined();
    expect(found(400_000, { ticket: charges })).toMatchObject({
      event: 'vehicle-found-pressurised',
      notices: [{ code: 'vehicle-pressurised', with: { pressure: '400' } }],
    });
  });
});

test('The force of the hoses is learnt from what the scale shows more once they stand under pressure', () => {
  // 6 g at 600 kPa.
  const joined: Given = { ...sides(701_325), scale: { counts: countsOf(8.006) } };
  const connected = (given: Given) =>
    stepped(
      'weigh-connected',
      9_000,
      { weighing: almostWeighed(8.006, NOW_MS, 600_000) },
      { ...joined, ...given },
    );
  const step = connected({ accounts: { weighed: weighing(8) } });
  expect(step.event).toBe('pressure-found');
  expect(step.accounts!.hoseForce.kgPerPa * 1e8).toBeCloseTo(1, 1);
  expect(step.accounts!.hoseForce.sdKgPerPa).toBeLessThan(1e-9);
  expect(connected({})).toMatchObject({ event: 'pressure-found' });
  expect(connected({}).accounts).toBeUndefined();
});
