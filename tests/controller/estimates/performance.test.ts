// The pattern of a performance test, by the weather, and never by one number alone.
import { describe, expect, test } from 'vitest';
import { judgePerformance } from '../../../controller/estimates/performance.ts';
import { saturationPa } from '../../../controller/estimates/saturation.ts';
import { R134A, R1234YF } from '../support/machine.ts';

const celsius = (value: number): number => value + 273.15;
const BAR = 1e5;
const judge = (ambientC: number, highGaugeBar: number, lowGaugeBar: number, ventC?: number, doubtPa = 0) =>
  judgePerformance({
    curve: R134A,
    ambientK: celsius(ambientC),
    highPa: (highGaugeBar + 1.013) * BAR,
    lowPa: (lowGaugeBar + 1.013) * BAR,
    ventK: ventC === undefined ? undefined : celsius(ventC),
    highDoubtPa: doubtPa,
    lowDoubtPa: doubtPa,
  });

describe('Usual figures of R-134a (common practice of the trade, no specification of a vehicle)', () => {
  test.each([
    [20, 7.9, 10.6, 1.4, 2.0],
    [25, 9.2, 12.2, 1.6, 2.2],
    [30, 10.6, 13.9, 1.8, 2.5],
    [35, 12.2, 15.8, 2.1, 2.8],
    [40, 13.9, 17.9, 2.4, 3.4],
  ])('at %d °C all four corners are as expected', (ambientC, highLeast, highMost, lowLeast, lowMost) => {
    for (const high of [highLeast, highMost])
      for (const low of [lowLeast, lowMost]) expect(judge(ambientC, high, low)).toBe('as-expected');
  });
});

describe('Patterns', () => {
  test.each([
    ['both low', 6, 0.8, 'undercharge-or-restriction'],
    ['low very low, high usual', 12, 0.1, 'restriction'],
    ['high low, low high', 6.5, 4.5, 'weak-compressor'],
    ['both high', 20, 4.5, 'overcharge-air-or-airflow'],
  ])('%s', (_, high, low, verdict) => {
    expect(judge(30, high, low)).toBe(verdict);
  });

  test.each([
    ['a high side alone', 20, 2.1],
    ['a low side alone', 12, 3.9],
    ['a high side that is low alone', 6.5, 2.1],
  ])('%s off its place is no verdict', (_, high, low) => {
    expect(judge(30, high, low)).toBe('unclear');
  });

  test('the same figures mean another thing in other weather', () => {
    expect(judge(20, 9, 1.7)).toBe('as-expected');
    expect(judge(40, 9, 1.7)).toBe('undercharge-or-restriction');
  });

  test('what the gauges may be off by is allowed for', () => {
    expect(judge(30, 8.4, 0.9, undefined, 0)).toBe('undercharge-or-restriction');
    expect(judge(30, 8.4, 0.9, undefined, 1.5 * BAR)).toBe('as-expected');
  });

  test('warm vents take the praise away and give no verdict of their own', () => {
    expect(judge(25, 10.5, 1.9, 9)).toBe('as-expected');
    expect(judge(25, 10.5, 1.9, 20)).toBe('unclear');
    expect(judge(25, 6, 0.9, 20)).toBe('undercharge-or-restriction');
  });

  test('another refrigerant is judged by its own saturation', () => {
    const ambientK = celsius(30);
    const at = (offsetK: number): number => saturationPa(R1234YF, ambientK + offsetK);
    const input = { curve: R1234YF, ambientK, ventK: undefined, highDoubtPa: 0, lowDoubtPa: 0 };
    expect(judgePerformance({ ...input, highPa: at(20), lowPa: saturationPa(R1234YF, celsius(2)) })).toBe(
      'as-expected',
    );
    expect(judgePerformance({ ...input, highPa: at(5), lowPa: saturationPa(R1234YF, celsius(-12)) })).toBe(
      'undercharge-or-restriction',
    );
  });
});
