import { describe, expect, test } from 'vitest';
import { jobLine } from '../../../app/cli/job-lines.ts';
import type { Prompt, PromptId } from '../../../controller/operator.ts';
import { CATCH_BOTTLE_M3 } from '../../../controller/prompts.ts';

const asked = (id: PromptId): Prompt => ({ id, text: '', evidence: '', askedAtMs: 0 });
const eventOf = (text: string, id?: PromptId) => {
  const line = jobLine(text, id === undefined ? undefined : asked(id));
  return line?.kind === 'say' ? line.event : line;
};

describe('what a person types at a machine', () => {
  test.each([
    'connect-hoses',
    'close-couplers',
    'repair-vehicle',
    'fill-oil-bottle',
    'start-engine',
    'purge-air',
  ] as const)('done answers %s', (id) => {
    expect(eventOf('done', id)).toEqual({ type: 'confirmed', prompt: id });
    expect(eventOf('  Yes ', id)).toEqual({ type: 'confirmed', prompt: id });
  });

  test('an identifier is read as it shows', () => {
    expect(eventOf('R-134a 99.6', 'identify-refrigerant')).toEqual({
      type: 'identified',
      result: { refrigerant: 'R-134a', purityPercent: 99.6 },
    });
    expect(eventOf('r1234yf 98 % air 1.5 % hydrocarbons 0', 'identify-refrigerant')).toEqual({
      type: 'identified',
      result: { refrigerant: 'R-1234yf', purityPercent: 98, airPercent: 1.5, hydrocarbonPercent: 0 },
    });
  });

  test('going on without a reading needs a reason', () => {
    expect(eventOf('no pressure: the hose is off', 'identify-refrigerant')).toEqual({
      type: 'identification-overridden',
      why: 'no-pressure',
      reason: 'the hose is off',
    });
    expect(() => eventOf('elsewhere', 'identify-refrigerant')).toThrow(/say why/);
  });

  test('a figure is taken in millilitres and held to the bottle', () => {
    expect(eventOf('12.5 ml', 'read-catch-bottle')).toEqual({
      type: 'entered',
      prompt: 'read-catch-bottle',
      volumeM3: expect.closeTo(12.5e-6, 12),
    });
    expect(() => jobLine('900', { ...asked('read-catch-bottle'), volumeM3: CATCH_BOTTLE_M3 })).toThrow(
      /at most 500 mL/,
    );
  });

  test('a search has found something or nothing, and air may be kept', () => {
    expect(eventOf('nothing', 'search-leak')).toMatchObject({ found: false });
    expect(eventOf('found', 'search-leak')).toMatchObject({ found: true });
    expect(eventOf('no', 'purge-air')).toEqual({ type: 'declined', prompt: 'purge-air' });
  });

  test('pause, abort and going on are understood at any time', () => {
    for (const id of [undefined, 'connect-hoses', 'identify-refrigerant'] as const) {
      expect(eventOf('pause', id)).toEqual({ type: 'paused' });
      expect(eventOf('stop', id)).toEqual({ type: 'paused' });
      expect(eventOf('abort', id)).toEqual({ type: 'aborted' });
      expect(eventOf('go on', id)).toEqual({ kind: 'go-on' });
      expect(eventOf('', id)).toBeUndefined();
    }
  });

  test.each([
    ['done', undefined, /nothing is being asked/],
    ['done', 'identify-refrigerant', /what the identifier shows/],
    ['done', 'read-catch-bottle', /what stands in the bottle/],
    ['done', 'search-leak', /'found' or 'nothing'/],
    ['R-134a 130', 'identify-refrigerant', /above 100 %/],
    ['R-134a 99,6 air 0,4', 'identify-refrigerant', /with a point: 'R-134a 99\.6 air 0\.4'/],
    ['12,5 ml', 'read-catch-bottle', /with a point: '12\.5 ml'/],
    ['12,5', 'connect-hoses', /no answer here/],
    ['abrot', 'connect-hoses', /did you mean abort/],
    ['decline', 'connect-hoses', /no answer here/],
  ] as const)('%s, asked %s, is answered by what to write', (text, id, remedy) => {
    expect(() => eventOf(text, id)).toThrow(remedy);
  });
});
