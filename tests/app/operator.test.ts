import { describe, expect, test } from 'vitest';
import { SimulatedOperator } from '../../app/run/operator.ts';
import { noticeOf } from '../../controller/notices.ts';
import type { Prompt, PromptId } from '../../controller/operator.ts';
import type { HandAction } from '../../sim/spec.ts';

const prompt = (id: PromptId, askedAtMs: number): Prompt => ({ id, text: '', evidence: '', askedAtMs });

function operatorWithDelay(delayMs: number) {
  const done: HandAction[] = [];
  const leaked = { kg: 0 };
  const operator = new SimulatedOperator(
    {
      operate: (action) => done.push(action),
      catchBottleM3: () => 12.4e-6,
      identify: () => ({ reading: { refrigerant: 'R-1234yf', purityPercent: 99.9 } }),
      leakedKg: () => leaked.kg,
    },
    delayMs,
  );
  return { operator, done, leaked };
}

test('the operator answers only after the delay, and acts before saying so', () => {
  const { operator, done } = operatorWithDelay(5000);
  const asked = prompt('connect-hoses', 1000);
  expect(operator.respond(asked, 1000)).toEqual([]);
  expect(operator.respond(asked, 5900)).toEqual([]);
  expect(done).toEqual([]);
  expect(operator.respond(asked, 6000)).toEqual([{ type: 'confirmed', prompt: 'connect-hoses' }]);
  expect(done).toEqual(['connect-hoses']);
});

test('one asking is answered once, and a second asking again', () => {
  const { operator, done } = operatorWithDelay(0);
  const first = prompt('close-couplers', 0);
  expect(operator.respond(first, 0)).toHaveLength(1);
  expect(operator.respond(first, 100)).toEqual([]);
  expect(operator.respond(undefined, 200)).toEqual([]);
  expect(operator.respond(prompt('close-couplers', 300), 300)).toHaveLength(1);
  expect(done).toEqual(['close-couplers', 'close-couplers']);
});

test('the identifier reads what is in the vehicle and touches no valve', () => {
  const { operator, done } = operatorWithDelay(0);
  expect(operator.respond(prompt('identify-refrigerant', 0), 0)).toEqual([
    { type: 'identified', result: { refrigerant: 'R-1234yf', purityPercent: 99.9 } },
  ]);
  expect(done).toEqual([]);
});

test('the catch bottle is read to its mark, with no hand on the plant', () => {
  const { operator, done } = operatorWithDelay(0);
  const [answer] = operator.respond(prompt('read-catch-bottle', 0), 0);
  expect(answer).toMatchObject({ type: 'entered', prompt: 'read-catch-bottle' });
  expect(answer!.type === 'entered' && answer!.volumeM3).toBeCloseTo(12e-6, 12);
  expect(done).toEqual([]);
});

test('the engine is started and stopped, and the high coupler closed, by hand', () => {
  const { operator, done } = operatorWithDelay(0);
  for (const [index, id] of (['start-engine', 'close-high-coupler', 'stop-engine'] as const).entries())
    expect(operator.respond(prompt(id, index * 100), index * 100)).toEqual([
      { type: 'confirmed', prompt: id },
    ]);
  expect(done).toEqual(['start-engine', 'close-high-coupler', 'stop-engine']);
});

test('the vehicle is warmed until the machine has had enough, and the engine stands before anybody says so', () => {
  const { operator, done } = operatorWithDelay(5000);
  const asked = prompt('warm-vehicle', 0);
  const enough = noticeOf({ code: 'warm-up-enough' }, 600_000, 'two-ports');
  expect(operator.respond(asked, 5_000)).toEqual([]);
  expect(operator.respond(asked, 600_000)).toEqual([]);
  expect(done).toEqual(['start-engine']);
  operator.hear([enough], 600_000);
  expect(operator.respond(asked, 604_900)).toEqual([]);
  expect(operator.respond(asked, 605_000)).toEqual([{ type: 'confirmed', prompt: 'warm-vehicle' }]);
  expect(done).toEqual(['start-engine', 'stop-engine']);
});

test('nobody lets it run for more than 15 min, even when the machine says nothing', () => {
  const { operator, done } = operatorWithDelay(0);
  const asked = prompt('warm-vehicle', 0);
  operator.respond(asked, 0);
  expect(operator.respond(asked, 15 * 60_000 - 100)).toEqual([]);
  expect(operator.respond(asked, 15 * 60_000)).toHaveLength(1);
  expect(done).toEqual(['start-engine', 'stop-engine']);
});

describe('the hoses', () => {
  const told = (code: 'hoses-safe' | 'hoses-not-safe', atMs: number) =>
    noticeOf(code === 'hoses-safe' ? { code } : { code, with: { pressure: '300' } }, atMs, 'two-ports');

  test('are taken off some time after they were called safe, and the operator is busy until then', () => {
    const { operator, done } = operatorWithDelay(5000);
    expect(operator.busy).toBe(false);
    operator.hear([told('hoses-safe', 1_000)], 1_000);
    expect(operator.busy).toBe(true);
    operator.respond(undefined, 5_900);
    expect(done).toEqual([]);
    operator.respond(undefined, 6_000);
    expect(done).toEqual(['disconnect-hoses']);
    expect(operator.busy).toBe(false);
  });

  test('are NOT taken off when that is taken back in time', () => {
    const { operator, done } = operatorWithDelay(5000);
    operator.hear([told('hoses-safe', 1_000)], 1_000);
    operator.hear([told('hoses-not-safe', 3_000)], 3_000);
    operator.respond(undefined, 10_000);
    expect(done).toEqual([]);
    expect(operator.busy).toBe(false);
  });
});

test('the vehicle is opened, stands for the time of the repair and is closed before anybody says that it is mended; once', () => {
  const done: string[] = [];
  const operator = new SimulatedOperator(
    {
      operate: (action) => done.push(action),
      catchBottleM3: () => 0,
      leakedKg: () => 0,
      identify: () => ({ why: 'no-pressure', reason: 'none' }),
      repair: { openVehicle: (open) => done.push(open ? 'opened' : 'closed'), forMs: 60_000 },
    },
    5000,
  );
  const asked = prompt('repair-vehicle', 1000);
  expect(operator.respond(asked, 5900)).toEqual([]);
  expect(done).toEqual([]);
  expect(operator.respond(asked, 6000)).toEqual([]);
  expect(done).toEqual(['opened']);
  expect(operator.respond(asked, 65_900)).toEqual([]);
  expect(operator.respond(asked, 66_000)).toEqual([{ type: 'confirmed', prompt: 'repair-vehicle' }]);
  expect(done).toEqual(['opened', 'closed']);
  const again = prompt('repair-vehicle', 80_000);
  expect(operator.respond(again, 84_900)).toEqual([]);
  expect(operator.respond(again, 85_000)).toHaveLength(1);
  expect(done).toEqual(['opened', 'closed']);
});

describe('the detector', () => {
  const YEAR_S = 365.25 * 86_400;
  const searched = (gramsPerYear: number) => {
    const { operator, leaked, done } = operatorWithDelay(0);
    const asked = prompt('search-leak', 0);
    for (let nowMs = 0; nowMs <= 200_000; nowMs += 100) {
      leaked.kg = ((gramsPerYear / 1000) * nowMs) / 1000 / YEAR_S;
      const [answer] = operator.respond(asked, nowMs);
      if (answer !== undefined) return { answer, nowMs, done };
    }
    throw new Error('the search never ended');
  };

  test('takes minutes, and finds what leaks 4 g a year or more', () => {
    const { answer, nowMs, done } = searched(4.1);
    expect(answer).toEqual({ type: 'searched', prompt: 'search-leak', found: true });
    expect(nowMs).toBeGreaterThanOrEqual(60_000);
    expect(done).toEqual([]);
  });

  test('does NOT find what leaks less', () => {
    expect(searched(3.9).answer).toMatchObject({ found: false });
    expect(searched(0).answer).toMatchObject({ found: false });
  });
});
