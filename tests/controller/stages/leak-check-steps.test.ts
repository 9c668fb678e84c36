// The search for a leak, one scan at a time: when it may begin, what its answer is worth, and what is kept of it.

import { describe, expect, test } from 'vitest';
import type { Look } from '../../../controller/estimates/pressure-watch.ts';
import type { Seen } from '../../../controller/estimates/seen.ts';
import type { Trend } from '../../../controller/estimates/trend.ts';
import type { OperatorEvent } from '../../../controller/operator.ts';
import type { LeakCheckData } from '../../../controller/stages/data-checks.ts';
import { enterLeakCheck, stepLeakCheck } from '../../../controller/stages/leak-check.ts';
import type { Accounts } from '../../../controller/state.ts';
import type { Given } from '../support/stage-input.ts';
import { inputOf } from '../support/unseen-input.ts';
import { onOf } from '../support/weighings.ts';

const MINUTE_MS = 60_000;
/** A vehicle that was evacuated and has been let 78 g in. */
const LET_IN: Partial<Accounts> = { evacuations: 1, chargedKg: 0.078 };
const AS_IT_STANDS: Partial<Accounts> = { evacuations: 0 };
/** Four bar above the atmosphere, in both hoses. */
const PRESSED: Partial<Seen> = { highSidePa: 500_000, lowSidePa: 500_000 };

function stepped(data: LeakCheckData, given: Given) {
  const step = stepLeakCheck(data, inputOf({ seen: PRESSED, accounts: LET_IN, ...given }));
  expect(onOf(step.wanted)).toEqual([]);
  return { ...step, told: step.notices?.[0] };
}
const vehicle = (value: number, perS = 0, atMs = 0): Trend => ({ value, perS, atMs });
const found = (answer: unknown): Pick<Given, 'answers'> & object => ({
  answers: [{ type: 'searched', prompt: 'search-leak', found: answer } as OperatorEvent],
});

describe('Before the question', () => {
  const settling = (over: Partial<LeakCheckData> = {}): LeakCheckData => ({
    ...enterLeakCheck(0),
    step: 'settle',
    vehicle: vehicle(500_000),
    ...over,
  });
  /** A scan of a vehicle that stands at this pressure and changes by so much. */
  const settled = (nowMs: number, pa: number, perS = 0, given: Given = {}) =>
    stepped(settling({ vehicle: vehicle(pa, perS, nowMs) }), {
      nowMs,
      seen: { highSidePa: pa, lowSidePa: pa },
      ...given,
    });

  test('vapour, metal and oil come to rest: a minute at least, five at most', () => {
    expect(settled(59_999, 500_000).data.step).toBe('settle');
    expect(settled(60_000, 500_000).data.step).toBe('search');
    const late = settling({ stepSinceMs: 1_000, vehicle: vehicle(500_000, 0, 60_000) });
    expect(stepped(late, { nowMs: 60_000 }).data.step).toBe('settle');
    expect(settled(60_000, 500_000, 99).data.step).toBe('search');
    for (const perS of [100, -100]) {
      expect(settled(60_000, 500_000, perS).data.step).toBe('settle');
      expect(settled(299_999, 500_000, perS).data.step).toBe('settle');
      expect(settled(300_000, 500_000, perS).data.step).toBe('search');
    }
  });

  test('the first look is kept, with the temperature of the room', () => {
    const { data, notices } = settled(60_000, 500_000);
    expect(data).toMatchObject({
      stepSinceMs: 60_000,
      from: { pa: 500_000, ambientK: 293.15, atMs: 60_000 },
    });
    expect(notices).toEqual([]);
  });

  test('the lower of the gauges counts; where one has no value nothing is known', () => {
    const looked = (seen: Partial<Seen>, ticket: Given['ticket'] & object = {}) =>
      stepped(settling({ vehicle: undefined }), { nowMs: 1_000, seen, ticket }).data;
    expect(looked({ highSidePa: 500_000, lowSidePa: 480_000 }).vehicle!.value).toBe(480_000);
    expect(looked({ highSidePa: 470_000, lowSidePa: 480_000 }).vehicle!.value).toBe(470_000);
    expect(looked({ highSidePa: 470_000 }).vehicle).toBeUndefined();
    expect(looked({ lowSidePa: 480_000 }).vehicle).toBeUndefined();
    expect(looked({ highSidePa: 470_000 }, { ports: 1 }).vehicle!.value).toBe(470_000);
    expect(looked(PRESSED).seenAtMs).toBe(1_000);
    expect(looked({}).seenAtMs).toBe(0);
  });

  test('two minutes without a value end the search', () => {
    const blind = (nowMs: number, accounts: Partial<Accounts>) =>
      stepped(settling({ vehicle: undefined }), { nowMs, seen: {}, accounts });
    expect(blind(120_000, LET_IN).event).toBeUndefined();
    const ended = blind(120_001, LET_IN);
    expect(ended).toMatchObject({ event: 'search-failed', result: 'pressure-unknown' });
    expect(ended.told).toEqual({ code: 'search-blind' });
    expect(ended.accounts!.leakCheck).toEqual({ admittedKg: 0.078 });
    const stood = blind(120_001, AS_IT_STANDS);
    expect(stood).toMatchObject({ event: 'not-searched', result: 'pressure-unknown' });
    expect(stood.accounts!.leakCheck).toEqual({});
    expect(stood.accounts!.leakCheck).not.toHaveProperty('found');
    expect(stood.accounts!.leakCheck).not.toHaveProperty('watch');
    expect(stood.accounts!.recoveryBefore).toBeUndefined();
  });

  test('what was let in must be there: half a bar above the atmosphere', () => {
    expect(settled(60_000, 151_325).data.step).toBe('search');
    const none = settled(60_000, 151_324);
    expect(none).toMatchObject({ event: 'search-failed', result: 'no-pressure' });
    expect(none.told).toEqual({ code: 'search-no-pressure', with: { pressure: '151' } });
    expect(settled(60_000, 110_000, 0, { accounts: AS_IT_STANDS }).data.step).toBe('search');
  });

  test('a search in the cold, or under little pressure, is a weak one (SAE J1628, from memory)', () => {
    const told = (gaugePa: number, ambientK: number | undefined) =>
      settled(60_000, 101_325 + gaugePa, 0, {
        seen: { highSidePa: 101_325 + gaugePa, lowSidePa: 101_325 + gaugePa, ambientK },
        accounts: AS_IT_STANDS,
      }).told;
    expect(told(340_000, 288.15)).toBeUndefined();
    expect(told(339_999, 288.15)).toEqual({
      code: 'search-weak',
      with: { pressure: '340', temperature: '15' },
    });
    expect(told(340_000, 288.14)).toMatchObject({ code: 'search-weak' });
    expect(told(340_000, undefined)).toEqual({
      code: 'search-weak',
      with: { pressure: '340', temperature: 'an unknown number of' },
    });
    expect(told(-9_000, 288.15)).toMatchObject({ with: { pressure: '0' } });
  });
});

describe('The answer', () => {
  const NOW_MS = 10 * MINUTE_MS;
  const FROM: Look = { pa: 500_000, ambientK: 293.15, atMs: 0 };
  const searching = (over: Partial<LeakCheckData> = {}): LeakCheckData => ({
    ...enterLeakCheck(0),
    step: 'search',
    from: FROM,
    vehicle: vehicle(500_000, 0, NOW_MS),
    ...over,
  });
  const answered = (answer: unknown, given: Given = {}, data = searching()) =>
    stepped(data, { nowMs: NOW_MS, ...found(answer), ...given });
  const codes = (step: ReturnType<typeof answered>) => step.notices!.map(({ code }) => code);

  test('is waited for, and only a yes or a no is one', () => {
    const open = stepped(searching(), { nowMs: NOW_MS });
    expect(open.prompt).toBe('search-leak');
    expect(open.data.to).toEqual({ pa: 500_000, ambientK: 293.15, atMs: NOW_MS });
    for (const other of [undefined, 'no', 1]) expect(answered(other).prompt).toBe('search-leak');
    const confirmed: OperatorEvent = { type: 'confirmed', prompt: 'connect-hoses' };
    expect(stepped(searching(), { nowMs: NOW_MS, answers: [confirmed] }).prompt).toBe('search-leak');
    const both = [confirmed, ...found(false).answers!];
    expect(stepped(searching(), { nowMs: NOW_MS, answers: both }).event).toBe('search-clear');
  });

  test('no leads to the charge, with what the pressure said kept and told', () => {
    const clear = answered(false);
    expect(clear).toMatchObject({ event: 'search-clear', result: 'not-found' });
    expect(clear.accounts!.leakCheck).toMatchObject({
      found: false,
      admittedKg: 0.078,
      watch: { said: 'steady', minutes: 10 },
    });
    expect(clear.told).toEqual({
      code: 'pressure-says-little',
      with: { minutes: '10.0', limit: expect.stringMatching(/^[\d.e+]+$/) },
    });
    expect(codes(clear)).toEqual(['pressure-says-little']);
  });

  test('yes has what was let in weighed back, and says how much that is', () => {
    const leak = answered(true);
    expect(leak.event).toBeUndefined();
    expect(leak.data).toMatchObject({ step: 'weigh', ending: 'search-found', stepSinceMs: NOW_MS });
    expect(leak.notices!.at(-1)).toEqual({ code: 'search-found', with: { admitted: '78' } });
    expect(leak.accounts!.leakCheck).toMatchObject({ found: true });
    const unknown = answered(true, { accounts: { evacuations: 1 } });
    expect(unknown.notices!.at(-1)).toMatchObject({ with: { admitted: '0' } });
    expect(unknown.accounts!.leakCheck).not.toHaveProperty('admittedKg');
  });

  test('no in a service that does not charge has it weighed back as well', () => {
    const plan = inputOf().plan;
    const check = { ...plan, stages: plan.stages.filter((stage) => stage !== 'charge') };
    const clear = answered(false, { plan: check });
    expect(clear.data).toMatchObject({ step: 'weigh', ending: 'search-clear' });
  });

  test('of a vehicle searched as it stands ends it, either way, and nothing goes back', () => {
    const stands = { accounts: AS_IT_STANDS };
    expect(answered(false, stands)).toMatchObject({ event: 'search-ended', result: 'not-found' });
    const leak = answered(true, stands);
    expect(leak).toMatchObject({ event: 'search-ended', result: 'found' });
    expect(codes(leak)).toContain('search-found-as-it-stood');
    expect(leak.accounts!.recoveryBefore).toBeUndefined();
  });

  test('no is worth nothing without pressure, or where nobody saw it; yes is', () => {
    const blind = { seen: {} };
    expect(answered(false, blind)).toMatchObject({ event: 'search-failed', result: 'pressure-unknown' });
    expect(answered(false, blind).told).toEqual({ code: 'search-blind' });
    expect(answered(true, blind).data.ending).toBe('search-found');
    const flat = searching({ vehicle: vehicle(120_000, 0, NOW_MS) });
    const low = { seen: { highSidePa: 120_000, lowSidePa: 120_000 } };
    expect(answered(false, low, flat)).toMatchObject({ event: 'search-failed', result: 'no-pressure' });
    expect(answered(true, low, flat).data.ending).toBe('search-found');
  });

  test('comes with a fall of the pressure, in kilopascal', () => {
    const fallen = searching({ vehicle: vehicle(480_000, 0, NOW_MS) });
    const step = answered(false, {}, fallen);
    expect(step.told).toEqual({ code: 'pressure-fell', with: { fall: '20.0' } });
  });

  test('or with why the pressure says nothing', () => {
    const said = (over: Partial<LeakCheckData>) => answered(true, {}, searching(over)).told;
    // Saturation at 20 °C is 572 kPa: so near to it there may be liquid.
    expect(said({ from: { ...FROM, pa: 560_000 } })).toEqual({
      code: 'pressure-says-nothing',
      with: { reason: 'there may be liquid in the vehicle, and it holds the pressure whatever is lost' },
    });
    expect(said({ from: { ...FROM, ambientK: undefined } })).toEqual({
      code: 'pressure-says-nothing',
      with: { reason: 'pressure or temperature was not known all the time' },
    });
    expect(codes(answered(true, {}, searching({ from: undefined })))).toEqual(['search-found']);
  });
});
