// The blocking questions in the words of what the hoses are on: two service ports, one, or a cylinder.
import { describe, expect, test } from 'vitest';
import { HOOKUPS, hookupOf } from '../../controller/hookup.ts';
import { PROMPTS } from '../../controller/operator.ts';
import { promptOf } from '../../controller/prompts.ts';
import { planFor } from './support/machine.ts';

test('The hoses are on a cylinder when a tank is filled, and else on as many ports as the vehicle has', () => {
  expect(hookupOf(planFor({ service: 'fill-tank' }))).toBe('cylinder');
  expect(hookupOf(planFor({ ports: 1 }))).toBe('one-port');
  expect(hookupOf(planFor({ ports: 2 }))).toBe('two-ports');
});

describe('A question', () => {
  test.each(PROMPTS)('is asked in whole sentences, with what will be looked at: %s', (id) => {
    for (const hookup of HOOKUPS) {
      const prompt = promptOf(id, 7, hookup);
      expect(prompt).toMatchObject({ id, askedAtMs: 7 });
      expect(prompt.text).toMatch(/^[A-Z].+[.]$/);
      expect(prompt.evidence).toMatch(/^[A-Z].+[.]$/);
    }
  });

  test('speaks of what the hoses are on', () => {
    const connect = (hookup: (typeof HOOKUPS)[number]) => promptOf('connect-hoses', 0, hookup).text;
    expect(connect('two-ports')).toMatch(/both couplers/);
    expect(connect('one-port')).toMatch(/stays on the machine, capped/);
    expect(connect('cylinder')).toMatch(/upside down/);
  });

  test('that no filling asks speaks of two ports there', () =>
    expect(promptOf('repair-vehicle', 0, 'cylinder')).toEqual(promptOf('repair-vehicle', 0, 'two-ports')));

  test('for a volume says between which', () =>
    expect(promptOf('read-catch-bottle', 0, 'two-ports').volumeM3).toEqual({ least: 0, most: 0.5e-3 }));
});
