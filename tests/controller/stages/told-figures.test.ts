// How figures are told: rounded, and never a nothing with a sign.
import { expect, test } from 'vitest';
import { grams } from '../../../controller/stages/stage.ts';

test.each([
  [0.0124, '12'],
  [-0.0026, '-3'],
  [-0.0004, '0'],
  [0, '0'],
  [-0, '0'],
])('%d kg are told as %s g', (kg, told) => expect(grams(kg)).toBe(told));
