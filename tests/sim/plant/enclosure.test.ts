// The air in the cabinet against the closed form of a stirred volume, and the joint that leaks into it.
import { describe, expect, test } from 'vitest';
import { clockMs, fluidOnce } from '../../../app/bench/whole-jobs.ts';
import { prepare } from '../../../app/run/prepare.ts';
import { toScenario } from '../../../app/scenario/scenario.ts';
import { DRAUGHT_M3_PER_S, ENCLOSURE_M3, Enclosure, FAN_M3_PER_S } from '../../../sim/plant/enclosure.ts';

function leakedInto(seconds: number, kgPerS: number, fanTurns: boolean): Enclosure {
  const enclosure = new Enclosure();
  for (let s = 1; s <= seconds; s++) enclosure.advance(kgPerS * s, fanTurns, 1);
  return enclosure;
}

describe('a steady leak into a stirred volume', () => {
  test.each([
    { fan: true, flowM3PerS: FAN_M3_PER_S },
    { fan: false, flowM3PerS: DRAUGHT_M3_PER_S },
  ])('follows L/V̇·(1 − exp(−V̇·t/V)) with the fan turning: $fan (mass balance)', ({ fan, flowM3PerS }) => {
    for (const seconds of [1, 5, 30, 300]) {
      const expected = (1e-3 / flowM3PerS) * (1 - Math.exp((-flowM3PerS * seconds) / ENCLOSURE_M3));
      expect(leakedInto(seconds, 1e-3, fan).concentration).toBeCloseTo(expected, 12);
    }
  });

  test('is gone soon after it has ended, and a cabinet without one stays clean', () => {
    const enclosure = leakedInto(60, 1e-3, true);
    for (let s = 0; s < 60; s++) enclosure.advance(0.06, true, 1);
    expect(enclosure.concentration).toBeLessThan(3e-4);
    expect(leakedInto(100, 0, false).concentration).toBe(0);
  });
});

test.each(['R-134a', 'R-1234yf'])('the joint passes what its size says, at 20 °C (%s)', (refrigerant) => {
  const scenario = toScenario(
    { ticket: { refrigerant, nominalChargeG: 600 }, vehicle: { chargeG: 500 } },
    'x',
  );
  const { bench } = prepare(scenario, 'x', fluidOnce, clockMs);
  bench.switchFault({ fault: 'cabinet-leaks', size: 1 }, true);
  bench.advanceTo(10_000);
  const { spilledKg, massDriftKg } = bench.truth();
  expect(spilledKg).toBeGreaterThan(0.009);
  expect(spilledKg).toBeLessThan(0.0115);
  expect(Math.abs(massDriftKg)).toBeLessThan(1e-6);
  expect(bench.within().cabinetGasKg).toBeLessThan(spilledKg);
  bench.switchFault({ fault: 'cabinet-leaks' }, false);
  bench.advanceTo(20_000);
  expect(bench.truth().spilledKg - spilledKg).toBeLessThan(1e-5);
});
