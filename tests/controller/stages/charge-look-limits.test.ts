// The last look at the vacuum: how long it takes and where its limit is.

import { expect, test } from 'vitest';
import { SAFE_COMMANDS } from '../../../controller/signals.ts';
import { lookOnce } from '../../../controller/stages/charge-look.ts';
import { charging, type Given, scanOf } from '../support/charging.ts';
import { onOf } from '../support/weighings.ts';

const look = (nowMs: number, seen: NonNullable<Given['seen']>) =>
  lookOnce(charging({ step: 'look', stepSinceMs: 1_000 }), scanOf({ nowMs, seen }));

test('The vehicle is joined for two seconds, and charged from a vacuum of 20 kPa or less', () => {
  const waits = look(2_999, { manifoldPa: 90_000 });
  expect(waits.data.step).toBe('look');
  expect(onOf(waits.wanted)).toEqual(['highSideValve']);
  const charges = look(3_000, { manifoldPa: 20_000 });
  expect(charges.data).toMatchObject({ step: 'full', stepSinceMs: 3_000 });
  expect(onOf(charges.wanted)).toEqual(['highSideValve', 'chargeValve']);
  expect(look(3_000, { manifoldPa: undefined, manifoldOverSpan: false }).data.step).toBe('full');
});

test('Above it nothing is let in, and what the vehicle stands at is told, beyond the span as its end', () => {
  const lost = look(3_000, { manifoldPa: 20_600 });
  expect(lost).toMatchObject({ event: 'vacuum-gone', wanted: SAFE_COMMANDS });
  expect(lost.notices).toEqual([{ code: 'vacuum-gone', with: { pressure: '21' } }]);
  const beyond = look(3_000, { manifoldPa: undefined, manifoldOverSpan: true });
  expect(beyond.notices).toEqual([{ code: 'vacuum-gone', with: { pressure: '160' } }]);
});
