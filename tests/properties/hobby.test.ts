// Random operators, faults and garbage on a machine of the profile hobby.
import { test } from 'vitest';
import { expectNoHarm } from './check.ts';

test('a thousand runs from saved moments, whatever goes wrong, do no harm on a machine of the profile hobby', () => {
  expectNoHarm('hobby', 1_000);
}, 180_000);
