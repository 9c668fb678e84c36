// Figures as builders type them, in either system of units.
import { describe, expect, it } from 'vitest';
import { understood } from '../../../hardware/commissioning/answers.ts';
import { shown, typedQuantity } from '../../../hardware/commissioning/quantities.ts';

const PRESSURE = { kind: 'pressure', min: 0, max: 6e6 } as const;
const siOf = (text: string, quantity: Parameters<typeof typedQuantity>[1] = PRESSURE): number | string => {
  const typed = typedQuantity(text, quantity);
  return typed.ok ? typed.value : typed.problem;
};

describe('typed figures', () => {
  it('are taken in the unit of the question where none is typed, else in the one that is', () => {
    expect(siOf('12.5')).toBe(1_250_000);
    expect(siOf('12.5 bar')).toBe(1_250_000);
    expect(siOf('100 psi')).toBeCloseTo(689_475.7, 1);
    expect(siOf('100 PSI')).toBeCloseTo(689_475.7, 1);
    expect(siOf('1.1')).toBe(110_000);
  });

  it('agree with the exact definitions of inch, pound and degree', () => {
    expect(siOf('2.5 lb', { kind: 'mass', min: 0, max: 10 })).toBeCloseTo(1.133980925, 9);
    expect(siOf('68 F', { kind: 'temperature', min: 0, max: 400 })).toBeCloseTo(293.15, 6);
    expect(siOf('10 in3', { kind: 'smallVolume', min: 0, max: 1 })).toBeCloseTo(163.87064e-6, 12);
    expect(siOf('1 cfm', { kind: 'displacement', min: 0, max: 1 })).toBeCloseTo(4.719474e-4, 9);
  });

  it('are shown in both systems', () => {
    expect(shown('pressure', 689_475.7)).toBe('6.8948 bar (100 psi)');
    expect(shown('temperature', 293.15)).toBe('20 °C (68 °F)');
  });

  it('are sent back with what is wrong: no number, a unit of something else, out of bounds', () => {
    expect(siOf('twelve')).toMatch(/is no number; type one in bar, or with its unit/);
    expect(siOf('12 kg')).toMatch(/'kg' is no unit of this figure/);
    expect(siOf('120')).toMatch(/120 bar .* is not from 0 bar .* to 60 bar/);
    expect(siOf('')).toMatch(/is no number/);
  });
});

describe('answers', () => {
  const question = { id: 'x', text: '' } as const;
  it('take yes and no in short and long, and nothing else', () => {
    const asked = { ...question, kind: 'yes-no' } as const;
    expect(understood(asked, 'Y')).toEqual({ ok: true, value: true });
    expect(understood(asked, 'no')).toEqual({ ok: true, value: false });
    expect(understood(asked, 'perhaps').ok).toBe(false);
  });

  it('take a list of words, all of them or none of them', () => {
    const asked = { ...question, kind: 'choices', choices: ['oilValve', 'fanStop'] } as const;
    expect(understood(asked, 'fanstop, oilValve')).toEqual({ ok: true, value: ['fanStop', 'oilValve'] });
    expect(understood(asked, 'all')).toEqual({ ok: true, value: ['oilValve', 'fanStop'] });
    expect(understood(asked, 'none')).toEqual({ ok: true, value: [] });
    expect(understood(asked, 'heater').ok).toBe(false);
  });

  it('take a list of figures with one unit each', () => {
    const asked = { ...question, kind: 'numbers', quantity: { kind: 'mass', min: 0, max: 100 } } as const;
    expect(understood(asked, '5, 10 kg, 1000 g')).toEqual({ ok: true, value: [5, 10, 1] });
    expect(understood(asked, '5, ten').ok).toBe(false);
  });
});
