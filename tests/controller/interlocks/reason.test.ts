import { expect, test } from 'vitest';
import { BAND_WORDS, BANDS, type BandName, type Bands } from '../../../controller/interlocks/bands.ts';
import type { Fitting } from '../../../controller/interlocks/interlock.ts';
import { permit } from '../../../controller/interlocks/permit.ts';
import { because, reasonOf, reasonOfRefusal } from '../../../controller/interlocks/reason.ts';
import type { Remembered } from '../../../controller/interlocks/remembered.ts';
import { INTERLOCKS } from '../../../controller/interlocks/table.ts';
import { OUTPUTS, type Output } from '../../../controller/signals.ts';
import { want } from '../../../controller/stages/stage.ts';
import { CALM_BANDS, CALM_MEMORY } from '../support/calm.ts';

test('every interlock says what the operator can do', () => {
  for (const { id, hazard, remedy } of INTERLOCKS) {
    expect(hazard, id).toMatch(/^\S.*[^.]$/);
    expect(remedy, id).toMatch(/^[A-Z].*\.$/);
  }
});

test('every reading that may be missing has words of its own for the operator', () => {
  const words = (Object.keys(BANDS) as BandName[]).map((band) => BAND_WORDS[band]);
  for (const text of words) expect(text).toMatch(/^(the|what) [a-z].*[a-z]$/);
  expect(new Set(words).size).toBe(words.length);
});

const FITTED = Object.fromEntries(OUTPUTS.map((output) => [output, 'fitted'])) as Fitting;

const against = (row: string, output: Output, choices: Partial<Bands>, memory: Partial<Remembered> = {}) => {
  const bands = { ...CALM_BANDS, ...choices };
  const remembered = { ...CALM_MEMORY, ...memory };
  const { refusals } = permit(want('vacuumPump', output), bands, remembered, FITTED);
  const refusal = refusals.find((one) => one.row === row && one.output === output);
  expect(refusal, `${row} forbids ${output}`).toBeDefined();
  return reasonOfRefusal(refusal!);
};

test('a row that reads everything tells its hazard and its own remedy', () => {
  const { hazard, unknown, remedy } = against('IL-10', 'vacuumValve', { manifold: 'over-limit' });
  expect(hazard).toContain('Pump opened to pressure');
  expect(unknown).toBeUndefined();
  expect(remedy).toContain('Recover first');
});

test('a row that cannot read what it judges names that, and sends to the sensor', () => {
  const { unknown, remedy } = against('IL-10', 'vacuumValve', { manifold: 'unknown', tankMass: 'unknown' });
  expect(unknown).toBe('the absolute pressure of the manifold');
  expect(remedy).toContain('sensor');
});

test('two things that must both be read are both named', () => {
  const { unknown } = against('IL-08', 'tankHeater', { tankTemperature: 'unknown', tankLiquid: 'unknown' });
  expect(unknown).toBe('the tank temperature or the mass or the temperature of the tank');
});

test('what cannot be read is NOT blamed where what is read forbids it anyway', () => {
  const { unknown, remedy } = against('IL-08', 'tankHeater', {
    tankTemperature: 'hot',
    tankLiquid: 'unknown',
  });
  expect(unknown).toBeUndefined();
  expect(remedy).toContain('cool');
});

test('a row that is not in the table, as for a fault of the controller itself, says that it cannot be trusted', () => {
  expect(reasonOf('controller')).toEqual({
    row: 'controller',
    hazard: 'The controller cannot be trusted',
    remedy: 'Keep the record and report it.',
  });
});

test('in a sentence it begins small, and says what cannot be read', () => {
  const { row, hazard, remedy } = reasonOf('IL-10');
  expect(because({ row, hazard, remedy })).toBe(`p${hazard.slice(1)}`);
  expect(because({ row, hazard, remedy, unknown: 'the scale' })).toBe(
    `the scale cannot be read, and unknown is never permission; it guards against this: p${hazard.slice(1)}`,
  );
});
