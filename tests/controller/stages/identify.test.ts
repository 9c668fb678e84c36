// The identifier's word: what passes into the tank, what does not, and what stands for a reading that nobody has.

import { describe, expect, test } from 'vitest';
import type { Identification, OperatorEvent } from '../../../controller/operator.ts';
import { enterIdentify, stepIdentify } from '../../../controller/stages/identify.ts';
import { EQUIPMENT, planFor, R1234YF } from '../support/machine.ts';
import type { Given } from '../support/stage-input.ts';
import { inputOf } from '../support/unseen-input.ts';
import { onOf } from '../support/weighings.ts';

const ASKED = enterIdentify(0);
function stepped(answers: readonly OperatorEvent[], given: Given = {}) {
  const step = stepIdentify(ASKED, inputOf({ answers, ...given }));
  expect(onOf(step.wanted)).toEqual([]);
  return { ...step, told: step.notices?.[0] };
}
const read = (over: Partial<Identification> = {}, given: Given = {}) =>
  stepped([{ type: 'identified', result: { refrigerant: 'R-134a', purityPercent: 99.5, ...over } }], given);
const plan = planFor();
const CONTAMINATED: Given = {
  plan,
  equipment: { ...EQUIPMENT, tank: { ...EQUIPMENT.tank, contaminated: true } },
};
const FILL: Given = {
  plan: { ...plan, service: 'fill-tank', ticket: { ...plan.ticket, service: 'fill-tank' } },
};

describe('A reading of the identifier', () => {
  test('is asked for until it comes', () => {
    expect(ASKED).toMatchObject({ stage: 'identify', step: 'ask' });
    for (const answers of [[], [{ type: 'confirmed', prompt: 'connect-hoses' } as const]]) {
      const step = stepped(answers);
      expect(step.prompt).toBe('identify-refrigerant');
      expect(step.event).toBeUndefined();
    }
  });

  test("of the tank's own refrigerant is accepted and kept", () => {
    const own = read();
    expect(own).toMatchObject({ event: 'refrigerant-accepted', result: 'refrigerant-accepted', notices: [] });
    expect(own.accounts!.identification).toEqual({
      verdict: 'accepted',
      refrigerant: 'R-134a',
      purityPercent: 99.5,
    });
  });

  test('counts though another answer came first', () => {
    const other: OperatorEvent = { type: 'confirmed', prompt: 'connect-hoses' };
    const result = { refrigerant: 'R-134a', purityPercent: 99.5 };
    expect(stepped([other, { type: 'identified', result }]).event).toBe('refrigerant-accepted');
  });

  test('passes from 98 per cent on (SAE J2099), and NOT with more than all of it', () => {
    const event = (purityPercent: number) => read({ purityPercent }).event;
    expect(event(98)).toBe('refrigerant-accepted');
    expect(event(97.99)).toBe('refrigerant-refused');
    expect(event(100)).toBe('refrigerant-accepted');
    expect(event(100.01)).toBe('refrigerant-refused');
    expect(event(Number.NaN)).toBe('refrigerant-refused');
  });

  test('of another refrigerant is refused with all its figures', () => {
    const other = read({ refrigerant: 'R-1234yf', airPercent: 2, hydrocarbonPercent: 1 });
    expect(other.event).toBe('refrigerant-refused');
    expect(other.accounts).toBeUndefined();
    expect(other.notices).toEqual([
      {
        code: 'refrigerant-refused',
        with: {
          refrigerant: 'R-1234yf',
          purity: '99.5',
          air: '2',
          hydrocarbons: '1',
          wanted: 'R-134a',
          minimum: '98',
        },
      },
    ]);
    expect(read({ refrigerant: 'R-12' }).told).toMatchObject({ with: { air: '0', hydrocarbons: '0' } });
    expect(read({ refrigerant: 'R-12' }, FILL).told!.code).toBe('cylinder-refused');
  });

  test('that is none at all is refused, whatever the tank is for', () => {
    const nothing = [{ type: 'identified' }] as unknown as readonly OperatorEvent[];
    const refused = stepped(nothing);
    expect(refused.event).toBe('refrigerant-refused');
    expect(refused.told).toMatchObject({
      code: 'refrigerant-refused',
      with: { refrigerant: 'undefined', purity: 'undefined', air: '0', hydrocarbons: '0' },
    });
    expect(stepped(nothing, CONTAMINATED)).toMatchObject({
      event: 'refrigerant-refused',
      told: { code: 'refrigerant-refused' },
    });
  });

  test('with two per cent of hydrocarbons is refused, for a tank of mixtures as well', () => {
    const code = (hydrocarbonPercent: number, given?: Given) =>
      read({ hydrocarbonPercent }, given).told?.code;
    expect(code(1.99)).toBeUndefined();
    expect(code(2)).toBe('hydrocarbons-refused');
    expect(code(0)).toBeUndefined();
    expect(code(-0.1)).toBe('hydrocarbons-refused');
    expect(code(Number.NaN)).toBe('hydrocarbons-refused');
    expect(code(2, CONTAMINATED)).toBe('hydrocarbons-refused');
  });

  test('with air is told from one per cent on, and refused from ten', () => {
    const air = (airPercent: number) => read({ airPercent });
    expect(air(0.99).notices).toEqual([]);
    expect(air(1)).toMatchObject({ event: 'refrigerant-accepted', told: { code: 'air-in-vehicle' } });
    expect(air(1).told).toMatchObject({ with: { air: '1', refrigerant: 'R-134a' } });
    expect(air(9.99).event).toBe('refrigerant-accepted');
    expect(air(10)).toMatchObject({ event: 'refrigerant-refused', told: { code: 'air-refused' } });
    expect(air(10).told).toMatchObject({ with: { air: '10', wanted: 'R-134a' } });
  });

  test('of any refrigerant goes into a tank for mixtures, as what it is', () => {
    const mixed = read({ refrigerant: 'R-12', purityPercent: 60, airPercent: 30 }, CONTAMINATED);
    expect(mixed).toMatchObject({ event: 'refrigerant-accepted', result: 'recovered-as-contaminated' });
    expect(mixed.accounts!.identification).toMatchObject({ verdict: 'contaminated', refrigerant: 'R-12' });
    expect(mixed.notices).toEqual([
      {
        code: 'recovers-contaminated',
        with: { refrigerant: 'R-12', purity: '60', air: '30', hydrocarbons: '0' },
      },
    ]);
  });
});

describe('Going on without a reading', () => {
  type Why = 'no-pressure' | 'identified-elsewhere';
  const without = (why: Why, reason: unknown, given?: Given) =>
    stepped([{ type: 'identification-overridden', why, reason } as OperatorEvent], given);

  test('is let through with its reason, which is kept and told', () => {
    const empty = without('no-pressure', ' it came empty ');
    expect(empty).toMatchObject({ event: 'refrigerant-accepted', result: 'identification-overridden' });
    expect(empty.accounts!.identification).toEqual({
      verdict: 'overridden',
      why: 'no-pressure',
      reason: 'it came empty',
    });
    expect(empty.notices).toEqual([
      { code: 'identification-overridden', with: { reason: 'it came empty', refrigerant: 'R-134a' } },
    ]);
    expect(without('identified-elsewhere', 'yesterday').event).toBe('refrigerant-accepted');
  });

  test.each([
    ['no reason', '  ', 'none'],
    ['what is no text', 7, 'none'],
  ])('NOT with %s', (_, reason, told) => {
    const refused = without('no-pressure', reason);
    expect(refused.event).toBe('refrigerant-refused');
    expect(refused.notices).toEqual([
      { code: 'override-refused', with: { reason: told, refrigerant: 'R-134a' } },
    ]);
    expect(refused.accounts).toBeUndefined();
  });

  test('NOT by an earlier reading where the refrigerant burns: only a vehicle without pressure is', () => {
    const tank = { ...EQUIPMENT.tank, refrigerant: 'R-1234yf' };
    const yf: Given = { plan: planFor({ refrigerant: 'R-1234yf' }, { ...EQUIPMENT, tank }, R1234YF) };
    expect(without('identified-elsewhere', 'yesterday', yf).event).toBe('refrigerant-refused');
    expect(without('no-pressure', 'it came empty', yf).event).toBe('refrigerant-accepted');
    expect(without('other' as Why, 'because').event).toBe('refrigerant-refused');
  });

  test('NOT for a supply cylinder, which always gives a sample', () => {
    expect(without('no-pressure', 'it is new', FILL).event).toBe('refrigerant-refused');
  });
});
