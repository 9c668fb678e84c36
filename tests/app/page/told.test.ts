// The page says in its own words what the controller names as its code does.
import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { TRIP_NAMES } from '../../../app/page/web/text/names.ts';
import { toldHere } from '../../../app/page/web/told.ts';
import { unitsFor } from '../../../app/units.ts';

const UNITS = unitsFor('us', 101_325);

test.each([
  ['chargeValve stays as it is. oilValve as well.', 'Charge valve stays as it is. Oil valve as well.'],
  ['The service needs vacuumPump, above 100 kPa.', 'The service needs vacuum pump, above 14.5 psi.'],
  [
    'The pressure rose by 2 Pa. lowSideValve is shut.',
    'The pressure rose by 15 micron. Low-side valve is shut.',
  ],
  ['The compressor runs.', 'The compressor runs.'],
])('%s', (written, told) => {
  expect(toldHere(UNITS, written)).toBe(told);
});

test('everything that an interlock trips for has a name here', () => {
  const rows = new URL('../../../controller/interlocks/', import.meta.url);
  const reasons = readdirSync(rows)
    .filter((name) => name.endsWith('-rows.ts'))
    .flatMap((name) => [...readFileSync(new URL(name, rows), 'utf8').matchAll(/trip\('([^']+)'\)/g)])
    .map(([, reason]) => reason!);
  expect(reasons.length).toBeGreaterThan(5);
  expect(Object.keys(TRIP_NAMES).sort()).toEqual([...new Set(reasons)].sort());
});
