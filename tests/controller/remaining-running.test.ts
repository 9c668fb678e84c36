// How long the stage that runs may still take, judged by what it shows.

import { describe, expect, test } from 'vitest';
import { MINUTE_MS } from '../../controller/constants.ts';
import { remainingMs, type Span, usual } from '../../controller/remaining.ts';
import { enterCharge } from '../../controller/stages/charge.ts';
import type { DataOf } from '../../controller/stages/data.ts';
import { enterEvacuate } from '../../controller/stages/evacuate.ts';
import { enterFill } from '../../controller/stages/fill.ts';
import { enterRecover } from '../../controller/stages/recover.ts';
import { enterRest } from '../../controller/stages/rest.ts';
import { planFor } from './support/machine.ts';
import { type Moment, momentOf } from './support/moment.ts';
import { none } from './support/readings.ts';
import { weighingOf } from './support/weighings.ts';

/** Of the running stage alone: nothing follows it. */
function left(moment: Moment, nowMs = 0): Span {
  const state = momentOf(moment);
  return remainingMs({ ...state, plan: { ...state.plan, stages: [state.stage!.stage] } }, nowMs);
}
const seconds = (low: number, high: number) => ({
  low: expect.closeTo(low * 1000, 3),
  high: expect.closeTo(high * 1000, 3),
});
const minutes = (low: number, high: number) => seconds(60 * low, 60 * high);

describe('A recovery', () => {
  const recovering = (moment: Moment, nowMs = 0) => left({ stage: enterRecover(0), ...moment }, nowMs);
  /** 400 g of 600 g are left, and 2 g/s come: 80 s at the best, and half as long again as 200 s. */
  const going: Moment = {
    accounts: { weighed: weighingOf(8), recoveryStartedAtMs: 0 },
    scale: { massKg: 8.2, slowFlowKgPerS: 0.002 },
  };

  test('takes as long as what is missing takes at the flow there is, and a minute', () => {
    expect(recovering(going)).toEqual(seconds(80, 360));
    const before = { ...going, accounts: { ...going.accounts, recoveredKg: 0.3 } };
    expect(recovering(before)).toEqual(seconds(20, 135));
  });

  test('counts what was booked alone before the tank has been weighed', () =>
    expect(recovering({ accounts: { recoveredKg: 0.4 }, scale: going.scale! })).toEqual(seconds(40, 210)));

  test('takes a trickle for a tenth of a gram a second', () =>
    expect(recovering({ accounts: { recoveredKg: 0.59 } })).toEqual(seconds(2, 210)));

  test('is never less than over', () =>
    expect(recovering({ accounts: { recoveredKg: 0.7 } })).toEqual(seconds(0, 60)));

  test('takes no longer than a recovery may, but for one more minute', () => {
    expect(recovering(going, 41 * MINUTE_MS)).toEqual(seconds(80, 240));
    expect(recovering(going, 44.5 * MINUTE_MS)).toEqual(seconds(60, 60));
    expect(recovering(going, 60 * MINUTE_MS)).toEqual(seconds(60, 60));
    const waits = { ...going, accounts: { weighed: weighingOf(8) } };
    expect(recovering(waits, 60 * MINUTE_MS)).toEqual(seconds(80, 360));
  });
});

describe('A rest after it', () => {
  const resting = (samplesPa: readonly number[], nowMs = 0) =>
    left({ stage: { ...enterRest(0), samplesPa }, accounts: { recoveryStartedAtMs: 0 } }, nowMs);
  const quiet = usual('rest', momentOf());

  test.each([[[]], [[50_000]], [[50_000, 53_000, 54_999]]])(
    'takes its usual time while calm: %j',
    (samples) => expect(resting(samples)).toEqual(quiet),
  );

  test('that rises by half of what shows liquid leads to another run: what is left of the whole recovery', () => {
    // Five minutes of the rest are over; 40 of the 45 minutes are left, and another rest after them.
    expect(resting([50_000, 52_000, 55_000], 5 * MINUTE_MS)).toEqual(seconds(9 + 90, 40 * 60 + 300));
    // And where no time is left, the rest itself and the next.
    expect(resting([50_000, 55_000], 44 * MINUTE_MS)).toEqual(seconds(90, 60 + 300));
    expect(resting([50_000, 55_000], 60 * MINUTE_MS)).toEqual(seconds(90, 300));
  });
});

describe('A filling', () => {
  /** Half an hour from its beginning to the last opening; 1.2 kg are to come. */
  const stage: DataOf<'fill'> = { ...enterFill(MINUTE_MS), targetKg: 1.2, openedAtMs: 31 * MINUTE_MS };
  const plan = planFor({ service: 'fill-tank' });
  const filling = (kg: number, over: Partial<DataOf<'fill'>> = {}) =>
    left({
      plan,
      stage: { ...stage, ...over },
      accounts: { weighed: weighingOf(0) },
      scale: { massKg: kg },
    });

  test('takes by its rate, a tenth less to three tenths more, and the rest at the end', () => {
    expect(filling(0.2)).toEqual(minutes(0.9 * 150 + 6, 1.3 * 150 + 7));
    expect(filling(1.3)).toEqual(minutes(6, 7));
  });

  test('takes its usual time until a tenth of a kilogram tells the rate', () => {
    // 1.105 kg take 51 minutes and a rest.
    expect(filling(0.095)).toEqual(minutes(57 / 1.5, 114));
    expect(filling(0.1)).toEqual(minutes(0.9 * 330 + 6, 1.3 * 330 + 7));
    expect(left({ plan, stage, scale: { massKg: 1 } }).low).toBeGreaterThan(37 * MINUTE_MS);
  });

  test('that has ended rests and is weighed', () => {
    expect(filling(0.2, { why: 'filled' })).toEqual(seconds(0, 6 * 60 + 9));
  });
});

describe('An evacuation', () => {
  const evacuating = (values: Moment['values'], ticket: Moment['ticket'] = {}, nowMs = 0) =>
    left({ ticket, stage: { ...enterEvacuate(0), pumpedMs: 5 * MINUTE_MS }, values: values! }, nowMs);
  const BLIND = { manifoldPressurePa: none('stale') };

  test('takes what is missing of its least time and one more minute where the vacuum is reached', () => {
    expect(evacuating({ vehicleVacuumPa: 270 })).toEqual(minutes(10, 11));
    // The absolute sensor may be off by three times 100 Pa.
    expect(evacuating({ manifoldPressurePa: 570 })).toEqual(minutes(10, 11));
  });

  test('takes ten minutes more where it is not, or nobody knows', () => {
    expect(evacuating({ vehicleVacuumPa: 271 })).toEqual(minutes(10, 20));
    expect(evacuating({ manifoldPressurePa: 571 })).toEqual(minutes(10, 20));
    expect(evacuating(BLIND)).toEqual(minutes(10, 20));
    const stage = { ...enterEvacuate(0), pumpedMs: 5 * MINUTE_MS };
    expect(left({ stage, state: { seen: undefined } })).toEqual(minutes(10, 20));
  });

  test('of an opened vehicle goes on to its most whatever the vacuum, for it may be wet', () => {
    expect(evacuating({ vehicleVacuumPa: 30 }, { opened: true })).toEqual(minutes(25, 40));
  });

  test('is never less than over', () => {
    const stage = { ...enterEvacuate(0), pumpingSinceMs: 0 };
    expect(left({ stage, values: { vehicleVacuumPa: 100 } }, 30 * MINUTE_MS)).toEqual(minutes(0, 1));
  });
});

describe('A charge', () => {
  const full: DataOf<'charge'> = {
    ...enterCharge(0),
    step: 'full',
    targetKg: 0.6,
    reference: weighingOf(8),
  };
  const charging = (flowKgPerS: number, over: Partial<DataOf<'charge'>> = {}, massKg = 7.8) =>
    left({ stage: { ...full, ...over }, scale: { massKg, flowKgPerS } });
  const usually = usual('charge', momentOf());

  test('takes by its flow, ten pulses with their settling, the blow-down and a weighing', () => {
    // 400 g at 10 g/s, and 15 s, 30 s and 9 s.
    expect(charging(-0.01)).toEqual(seconds(94, 2 * 94 + 54));
    expect(charging(-0.01, {}, 7.3)).toEqual(seconds(54, 3 * 54));
  });

  test('takes no longer than a charge may', () => {
    expect(charging(-2e-4)).toEqual(minutes(20, 20));
    expect(charging(-6e-4)).toEqual({ low: expect.closeTo(720_667, 0), high: 20 * MINUTE_MS });
  });

  test('takes its usual time while no flow tells: a trickle, another step, or nothing weighed yet', () => {
    expect(charging(-1e-4)).toEqual(usually);
    expect(charging(0.01)).toEqual(usually);
    expect(charging(-0.01, { step: 'look' })).toEqual(usually);
    expect(charging(-0.01, { reference: undefined })).toEqual(usually);
    expect(charging(Number.NaN)).toEqual(usually);
  });
});
