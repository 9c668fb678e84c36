// Purging the tank's air step by step: how sure it must be, what the operator is told, and where it stops.

import { describe, expect, test } from 'vitest';
import { saturationPa } from '../../../controller/estimates/saturation.ts';
import type { PurgeAirData } from '../../../controller/stages/data-tank.ts';
import { enterPurgeAir, stepPurgeAir } from '../../../controller/stages/purge-air.ts';
import { EQUIPMENT, R134A } from '../support/machine.ts';
import { almostWeighed, type Given, NOW_MS, says, shown, weighing } from '../support/stage-input.ts';
import { onOf } from '../support/weighings.ts';

/** R-134a at 20 °C (Tillner-Roth and Baehr 1994); gauge and thermometer leave a doubt of 7.3 kPa. */
const SATURATED_PA = 571_710;
const over = (kPa: number) => ({ seen: { tankPa: SATURATED_PA + 1_000 * kPa } });

/** So long in a step, with everything forgotten that a step resets. */
const inStep = (
  step: PurgeAirData['step'],
  sinceMs: number,
  more: Partial<PurgeAirData> = {},
): PurgeAirData => ({
  ...enterPurgeAir(NOW_MS - sinceMs),
  step,
  ...more,
});

describe('The look at a tank that has rested', () => {
  const looked = (given: Given, sinceMs = 5_000) => stepPurgeAir(inStep('look', sinceMs), shown(given));

  test('takes five seconds', () => {
    expect(looked(over(40), 4_999)).toMatchObject({ data: { step: 'look' } });
    expect(looked(over(40), 4_999).event).toBeUndefined();
    expect(looked(over(40))).toMatchObject({ data: { step: 'weigh', stepSinceMs: NOW_MS } });
  });

  test('finds air that is twice as much as its doubt, and none in less', () => {
    expect(looked(over(16)).data.step).toBe('weigh');
    expect(looked(over(13))).toMatchObject({ event: 'no-air-purged', result: 'no-air', notices: [] });
  });

  test('finds none at twice its doubt exactly, and purges on at its doubt exactly', () => {
    // A perfect thermometer leaves the 5 kPa of the gauge.
    const tight = { ...EQUIPMENT, temperatureSdK: 0 };
    const exactly = (kPa: number, ambientK = 293.15): Given => ({
      equipment: tight,
      seen: { tankPa: saturationPa(R134A, 293.15) + 1_000 * kPa, tankTemperatureK: 293.15, ambientK },
    });
    expect(looked(exactly(10)).result).toBe('no-air');
    expect(looked(exactly(10.001)).data.step).toBe('weigh');
    expect(looked(exactly(10, 285)).notices).toEqual([]);
    expect(looked(exactly(10.001, 285)).notices).toHaveLength(1);
    const data = inStep('weigh-after', 60_000, { bursts: 1, before: weighing(8), weighing: almostWeighed() });
    expect(stepPurgeAir(data, shown(exactly(5))).data.step).toBe('burst');
    expect(stepPurgeAir(data, shown(exactly(4.999))).event).toBe('air-purged');
  });

  test('judges nothing in a tank that is warmer than the room, and tells an excess that may be warmth', () => {
    const warmer = (kPa: number) => looked({ seen: { ...over(kPa).seen, ambientK: 285 } });
    expect(warmer(40)).toMatchObject({ event: 'no-air-purged', result: 'not-judged' });
    expect(warmer(40).notices).toEqual([{ code: 'air-not-judged', with: { excess: '40' } }]);
    expect(warmer(13).notices).toEqual([]);
    expect(warmer(16)).toMatchObject({ notices: [{ code: 'air-not-judged' }] });
  });

  test('names the sensor that gives no value', () => {
    expect(looked({ seen: { tankPa: undefined } })).toMatchObject({
      result: 'not-judged',
      notices: [{ code: 'air-unseen', with: { sensor: 'pressure sensor' } }],
    });
    expect(looked({ seen: { tankTemperatureK: undefined } })).toMatchObject({
      result: 'not-judged',
      notices: [{ code: 'air-unseen', with: { sensor: 'thermometer' } }],
    });
  });
});

describe('Air that was found', () => {
  const weighed = (given: Given) =>
    stepPurgeAir(inStep('weigh', 9_000, { weighing: almostWeighed() }), shown(given));

  test('is told with its doubt, its mass and the most that may go with it, and asked about', () => {
    const step = weighed(over(40));
    expect(step.data).toMatchObject({ step: 'ask', stepSinceMs: NOW_MS, weighing: undefined });
    expect(step.data.before?.counts).toBeCloseTo(2_100_000, 3);
    // Ideal gas: 40 kPa in what 8 kg of liquid of 1225 kg/m³ leave of 21.6 L, 28.96 g/mol at 20 °C: some 7 g.
    expect(step.notices).toEqual([
      { code: 'air-found', with: { excess: '40', doubt: '15', air: '7', most: '20' } },
    ]);
  });

  test('counts what leans on the platform as no refrigerant', () => {
    const leaning = weighed({ ...over(100), scale: { offsetKg: -10 } });
    // 18 kg of liquid leave 6.9 L of room: 100 kPa in it are 8 g, where 8 kg would leave 18 g.
    expect(leaning.notices).toMatchObject([{ with: { excess: '100', air: '8' } }]);
  });

  test('is told as nothing where both sensors have fallen silent meanwhile', () => {
    expect(weighed({ seen: { tankPa: undefined, tankTemperatureK: undefined } }).notices).toEqual([
      { code: 'air-found', with: { excess: '0', doubt: '0', air: '0', most: '20' } },
    ]);
  });

  test('is let off only once the operator agrees', () => {
    const asked = (given: Given) => stepPurgeAir(inStep('ask', 0), shown(given));
    expect(asked({})).toMatchObject({ prompt: 'purge-air', data: { step: 'ask' } });
    expect(asked({}).event).toBeUndefined();
    expect(asked(says('purge-air')).data).toMatchObject({ step: 'burst', stepSinceMs: NOW_MS });
    expect(asked(says('connect-hoses')).data.step).toBe('ask');
    const declined = asked({ answers: [{ type: 'declined', prompt: 'purge-air' }] });
    expect(declined).toMatchObject({ event: 'air-left', result: 'declined' });
    expect(asked({ answers: [{ type: 'paused' }] }).event).toBeUndefined();
  });
});

describe('Letting off', () => {
  const burst = (sinceMs: number) => stepPurgeAir(inStep('burst', sinceMs, { bursts: 1 }), shown());

  test('opens one second of eleven, four times, each counted down by the rig', () => {
    for (const ms of [0, 999, 11_000, 33_999]) {
      expect(onOf(burst(ms).wanted)).toEqual(['airPurgeValve']);
      expect(burst(ms).wanted.airPurgeValve.offAfterMs).toBe(1_000);
    }
    for (const ms of [1_000, 10_999, 34_000, 43_999]) {
      expect(onOf(burst(ms).wanted)).toEqual([]);
      expect(burst(ms).data.step).toBe('burst');
    }
    expect(burst(44_000)).toMatchObject({ data: { step: 'rest', bursts: 2, stepSinceMs: NOW_MS } });
    expect(onOf(burst(44_000).wanted)).toEqual([]);
  });

  test('is followed by five minutes of rest before the tank is looked at', () => {
    expect(stepPurgeAir(inStep('rest', 299_999), shown()).data.step).toBe('rest');
    expect(stepPurgeAir(inStep('rest', 300_000), shown()).data).toMatchObject({
      step: 'weigh-after',
      stepSinceMs: NOW_MS,
    });
  });
});

describe('After letting off', () => {
  type Course = {
    readonly kPa: number;
    readonly lostG: number;
    readonly bursts?: number;
    readonly sinceMs?: number;
  };
  function purged({ kPa, lostG, bursts = 1, sinceMs = 60_000 }: Course, given: Given = {}) {
    const kg = 8 - lostG / 1_000;
    const data = inStep('weigh-after', sinceMs, {
      bursts,
      before: weighing(8),
      weighing: almostWeighed(kg),
    });
    const scale = { counts: 1_300_000 + 100_000 * kg };
    return stepPurgeAir(data, shown({ ...over(kPa), scale, accounts: { purgedKg: undefined }, ...given }));
  }

  test('air that is still there is let off again while the next time stays within 20 g', () => {
    expect(purged({ kPa: 30, lostG: 9.9 })).toMatchObject({ data: { step: 'burst', stepSinceMs: NOW_MS } });
    expect(purged({ kPa: 30, lostG: 9.9 }).event).toBeUndefined();
    expect(purged({ kPa: 30, lostG: 10.1 }).event).toBe('air-left');
    expect(purged({ kPa: 30, lostG: 14.9, bursts: 3 }).event).toBeUndefined();
    expect(purged({ kPa: 30, lostG: 15.1, bursts: 3 }).event).toBe('air-left');
  });

  test('it is over when no more air shows than the doubt of the sensors', () => {
    expect(purged({ kPa: 6, lostG: 5 })).toMatchObject({
      event: 'air-purged',
      notices: [{ code: 'air-purged', with: { vented: '5', excess: '6' } }],
    });
    expect(purged({ kPa: 9, lostG: 5 }).event).toBeUndefined();
  });

  test('it is over after half an hour', () => {
    expect(purged({ kPa: 30, lostG: 5, sinceMs: 30 * 60_000 }).event).toBeUndefined();
    expect(purged({ kPa: 30, lostG: 5, sinceMs: 30 * 60_000 + 1 })).toMatchObject({
      event: 'air-left',
      notices: [{ code: 'air-left', with: { vented: '5', excess: '30' } }],
    });
  });

  test('it is over where a sensor has fallen silent: unknown air is no reason to vent', () => {
    const blind = purged({ kPa: 0, lostG: 5 }, { seen: { tankPa: undefined } });
    expect(blind).toMatchObject({ event: 'air-left', notices: [{ with: { excess: '0' } }] });
  });

  test('what left is booked, and no vehicle is blamed for it later', () => {
    const step = purged({ kPa: 6, lostG: 5 });
    expect(step.ledger).toMatchObject([{ movement: 'tank-to-air', countsBefore: 2_100_000 }]);
    expect(step.ledger![0]!.massKg).toBeCloseTo(0.005, 9);
    expect(step.accounts!.purgedKg).toBeCloseTo(0.005, 9);
  });

  test('nothing is booked where no weighing came before', () => {
    const step = stepPurgeAir(inStep('weigh-after', 0, { weighing: almostWeighed() }), shown(over(30)));
    expect(step).toMatchObject({ event: 'air-left' });
    expect(step.ledger).toBeUndefined();
  });
});
