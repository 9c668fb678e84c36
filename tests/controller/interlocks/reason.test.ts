import { expect, test } from 'vitest';
import { reasonOf } from '../../../controller/interlocks/reason.ts';
import { INTERLOCKS } from '../../../controller/interlocks/table.ts';
import { CALM_BANDS } from '../support/calm.ts';

test('every interlock says what the operator can do', () => {
  for (const { id, hazard, remedy } of INTERLOCKS) {
    expect(hazard, id).toMatch(/^\S.*[^.]$/);
    expect(remedy, id).toMatch(/^[A-Z].*\.$/);
  }
});

test('a row that reads everything tells its hazard and its own remedy', () => {
  const { hazard, unknown, remedy } = reasonOf('IL-10', { ...CALM_BANDS, manifold: 'over-limit' });
  expect(hazard).toContain('Pump opened to pressure');
  expect(unknown).toBeUndefined();
  expect(remedy).toContain('Recover first');
});

test('a row that cannot read what it judges names that, and sends to the sensor', () => {
  const { unknown, remedy } = reasonOf('IL-10', { ...CALM_BANDS, manifold: 'unknown', tankMass: 'unknown' });
  expect(unknown).toBe('the absolute pressure of the manifold');
  expect(remedy).toContain('sensor');
});
