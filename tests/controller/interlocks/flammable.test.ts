// The controller and the fluid data each know which refrigerants burn: they must agree.
import { expect, test } from 'vitest';
import { isFlammable } from '../../../controller/interlocks/bands.ts';
import { FLUID_NAMES, findFluid } from '../../../sim/fluids/fluid.ts';

test.each([...FLUID_NAMES])('%s is guarded as its safety class (ISO 817) asks', (name) => {
  expect(isFlammable(name)).toBe(findFluid(name)!.safetyClass !== 'A1');
});

test('a refrigerant that the controller does not know counts as flammable', () => {
  expect(isFlammable('R-290')).toBe(true);
});
