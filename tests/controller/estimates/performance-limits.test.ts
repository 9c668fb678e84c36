// The limits of each level of a performance test, by the temperatures that the pressures stand for.
import { describe, expect, test } from 'vitest';
import { judgePerformance } from '../../../controller/estimates/performance.ts';
import { saturationPa } from '../../../controller/estimates/saturation.ts';
import { R134A } from '../support/machine.ts';

const pa = (celsius: number): number => saturationPa(R134A, celsius + 273.15);

/** Condensing and evaporating at these temperatures, °C; vents as cold as may be. */
function at(ambientC: number, highC: number, lowC: number, over: { ventC?: number; doubtPa?: number } = {}) {
  const { ventC, doubtPa = 0 } = over;
  return judgePerformance({
    curve: R134A,
    ambientK: ambientC + 273.15,
    highPa: pa(highC),
    lowPa: pa(lowC),
    ventK: ventC === undefined ? undefined : ventC + 273.15,
    highDoubtPa: doubtPa,
    lowDoubtPa: doubtPa,
  });
}

describe('Each level ends where common practice has it', () => {
  test.each([20, 40])('a condenser 11 to 29 K above air of %d °C', (ambientC) => {
    const low = ambientC === 20 ? 0 : 8;
    expect(at(ambientC, ambientC + 11.01, low)).toBe('as-expected');
    expect(at(ambientC, ambientC + 10.99, low)).toBe('unclear');
    expect(at(ambientC, ambientC + 28.99, low)).toBe('as-expected');
    expect(at(ambientC, ambientC + 29.01, low)).toBe('unclear');
  });

  test.each([
    // At 20 °C −9 to 5 °C; 0.47 K and 0.53 K more for each kelvin.
    [20, -9, 5],
    [40, 0.4, 15.6],
  ])('an evaporator in air of %d °C from %d to %d °C', (ambientC, coldestC, warmestC) => {
    const highC = ambientC + 20;
    expect(at(ambientC, highC, coldestC + 0.01)).toBe('as-expected');
    expect(at(ambientC, highC, coldestC - 0.01)).toBe('unclear');
    expect(at(ambientC, highC, warmestC - 0.01)).toBe('as-expected');
    expect(at(ambientC, highC, warmestC + 0.01)).toBe('unclear');
    // Starved is 7 K colder.
    expect(at(ambientC, highC, coldestC - 6.99)).toBe('unclear');
    expect(at(ambientC, highC, coldestC - 7.01)).toBe('restriction');
  });

  test.each([
    // 9 °C at 20 °C outside, 0.87 K more for each kelvin: 26 °C at 40 °C (common practice, humid weather).
    [20, 9],
    [40, 26.4],
  ])('vents in air of %d °C up to %d °C', (ambientC, ventC) => {
    const highC = ambientC + 20;
    const lowC = ambientC === 20 ? 0 : 8;
    expect(at(ambientC, highC, lowC, { ventC: ventC - 0.01 })).toBe('as-expected');
    expect(at(ambientC, highC, lowC, { ventC: ventC + 0.01 })).toBe('unclear');
  });
});

describe('The pattern', () => {
  const LOW_HIGH = 25;
  const HIGH_HIGH = 60;
  const STARVED = -20;
  const COLD = -12;
  const WARM = 10;
  test.each([
    [LOW_HIGH, STARVED, 'undercharge-or-restriction'],
    [40, STARVED, 'restriction'],
    [HIGH_HIGH, STARVED, 'restriction'],
    [LOW_HIGH, COLD, 'undercharge-or-restriction'],
    [LOW_HIGH, WARM, 'weak-compressor'],
    [HIGH_HIGH, WARM, 'overcharge-air-or-airflow'],
    [HIGH_HIGH, COLD, 'unclear'],
    [HIGH_HIGH, 0, 'unclear'],
    [40, WARM, 'unclear'],
    [40, COLD, 'unclear'],
  ] as const)('condensing at %d °C and evaporating at %d °C is %s', (highC, lowC, verdict) =>
    expect(at(20, highC, lowC)).toBe(verdict),
  );

  test('allows each gauge what it may be off by, to either side', () => {
    const doubtPa = 10_000;
    expect(at(20, 31, -9, { doubtPa })).toBe('as-expected');
    const off = (high: number, low: number) =>
      judgePerformance({
        curve: R134A,
        ambientK: 293.15,
        highPa: high,
        lowPa: low,
        ventK: undefined,
        highDoubtPa: doubtPa,
        lowDoubtPa: doubtPa,
      });
    expect(off(pa(31) - 9_999, pa(0))).toBe('as-expected');
    expect(off(pa(31) - 10_001, pa(0))).toBe('unclear');
    expect(off(pa(49) + 9_999, pa(0))).toBe('as-expected');
    expect(off(pa(49) + 10_001, pa(0))).toBe('unclear');
    expect(off(pa(40), pa(-9) - 9_999)).toBe('as-expected');
    expect(off(pa(40), pa(-9) - 10_001)).toBe('unclear');
    expect(off(pa(40), pa(5) + 9_999)).toBe('as-expected');
    expect(off(pa(40), pa(5) + 10_001)).toBe('unclear');
    expect(off(pa(40), pa(-16) - 9_999)).toBe('unclear');
    expect(off(pa(40), pa(-16) - 10_001)).toBe('restriction');
  });
});
