// How long the rest of a job may take: of each stage before it has begun, and of the whole.
import { describe, expect, test } from 'vitest';
import { MINUTE_MS } from '../../controller/constants.ts';
import { remainingMs, usual } from '../../controller/remaining.ts';
import { enterHold } from '../../controller/stages/hold.ts';
import { enterStage } from '../../controller/stages/index.ts';
import type { Stage } from '../../controller/stages.ts';
import { OIL_EQUIPMENT, planFor } from './support/machine.ts';
import { type Moment, momentOf } from './support/moment.ts';

const seconds = (low: number, high: number) => ({ low: low * 1000, high: high * 1000 });
const minutes = (low: number, high: number) => seconds(60 * low, 60 * high);
const usually = (stage: Stage, moment: Moment = {}) => usual(stage, momentOf(moment));

describe('A stage that has not begun', () => {
  test.each([
    ['identify', 10, 120],
    ['purge-air', 5, 35 * 60],
    // A question, and a weighing before it and after it.
    ['settle', 10 + 18, 120 + 60 + 18],
    // 600 g at 5 g/s; and what a recovery may take at most.
    ['recover', 120, 45 * 60],
    ['rest', 309, 489],
    ['drain-oil', 27, 138],
    ['repair', 9, 60],
    ['evacuate', 15 * 60, 22.5 * 60],
    ['hold', 6 * 60, 17 * 60],
    ['add-oil', 10, 120],
    ['verify', 10 + 61 + 300, 120 + 600],
    ['clear-hoses', 2 * 10 + 45 + 20, 2 * 120 + 3 * 200],
    ['leak-check', 10 + 60 + 60, 120 + 180 + 300],
    ['charge', 60 + 30, 240 + 30],
    ['recover-hoses', 10 + 60 + 9, 120 + 3 * 60 + 300 + 9],
  ] as const)('%s takes %d to %d seconds', (stage, low, high) =>
    expect(usually(stage)).toEqual(seconds(low, high)),
  );

  test('takes longer where the engine warms the vehicle first', () =>
    expect(usually('settle', { ticket: { warmUp: true, engine: 'can-run' } })).toEqual(
      seconds(15 * 60 + 18, 26 * 60 + 18),
    ));

  test('takes longer where the vehicle has been open', () => {
    const opened = { ticket: { opened: true } };
    expect(usually('evacuate', opened)).toEqual(minutes(30, 45));
    expect(usually('hold', opened)).toEqual(minutes(11, 17));
  });

  test('takes a minute more for each bottle that something is drawn from', () => {
    const dye = { addM3: 8e-6, approved: false };
    const plan = planFor({ dye }, OIL_EQUIPMENT);
    expect(plan.adds).toHaveLength(2);
    expect(usually('add-oil', { plan })).toEqual(seconds(10, 120 + 2 * 60));
  });

  test('fills 1.3 kg an hour with a rest of six minutes at the end, and one more after each hour', () => {
    const filling = (fillKg: number) => usually('fill', { ticket: { service: 'fill-tank', fillKg } });
    // Half an hour and a rest: 36 minutes; in a warm room two thirds of it, in a cold one twice as much.
    expect(filling(0.65)).toEqual(minutes(24, 72));
    expect(filling(1.3)).toEqual(minutes(48, 144));
    expect(usually('fill', { ticket: { service: 'fill-tank' } })).toEqual(minutes(4, 12));
  });
});

describe('The whole', () => {
  const held = (nowMs: number) => remainingMs(momentOf({ stage: enterHold(1_000) }), nowMs);

  test('is what is left of the running stage, and then all that follow it', () => {
    const [charge, hoses] = [usually('charge'), usually('recover-hoses')];
    const later = { low: charge.low + hoses.low, high: charge.high + hoses.high };
    expect(held(101_000)).toEqual({ low: 260_000 + later.low, high: 920_000 + later.high });
    // Longer than the least, and then longer than the most, of its six to seventeen minutes.
    expect(held(401_000)).toEqual({ low: later.low, high: 620_000 + later.high });
    expect(held(18 * MINUTE_MS)).toEqual(later);
  });

  test('is nothing where no stage runs', () =>
    expect(remainingMs(momentOf({ state: { stage: undefined } }), 0)).toEqual({ low: 0, high: 0 }));

  test('ends with the hoses once the gas of a leak check is taken back', () => {
    const state = momentOf({ ticket: { leakCheck: true } });
    const givingBack = { ...state.chart, context: { ...state.chart.context, givingBack: true } };
    const back = { ...state, stage: enterStage('rest', 0), chart: givingBack };
    const hoses = usually('recover-hoses');
    expect(remainingMs(back, 0)).toEqual({ low: 309_000 + hoses.low, high: 489_000 + hoses.high });
    const drawing = remainingMs({ ...back, stage: enterStage('recover', 0) }, 0);
    expect(drawing.low).toBe(120_000 + 309_000 + hoses.low);
    expect(remainingMs({ ...back, chart: state.chart }, 0).low).toBeGreaterThan(15 * MINUTE_MS);
  });
});
