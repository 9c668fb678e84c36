// By which sensor a hold is judged, and with what allowance.
import { describe, expect, test } from 'vitest';
import type { HoldData } from '../../../controller/stages/data-vacuum.ts';
import { enterHold } from '../../../controller/stages/hold.ts';
import { judge } from '../../../controller/stages/hold-conclusion.ts';
import type { Given } from '../support/stage-input.ts';
import { inputOf } from '../support/unseen-input.ts';

const watched = (over: Partial<HoldData> = {}): HoldData => ({ ...enterHold(0), step: 'watch', ...over });

describe('Which sensor judges', () => {
  const slope = (paPerS: number, fromPa: number): number[] =>
    Array.from({ length: 300 }, (_, s) => fromPa + paPerS * s + (s % 2 === 0 ? 0.5 : -0.5));
  const judgedOf = (over: Partial<HoldData>, given: Given = {}) =>
    judge(watched({ extended: true, ...over }), 1, inputOf(given));

  test('the thermal one where it has stayed in its range, else the absolute one', () => {
    const both = { thermalPa: slope(0.6, 200), manifoldPa: slope(0.5, 250) };
    expect(judgedOf(both).rise!.slopePaPerS).toBeCloseTo(0.6, 2);
    expect(judgedOf({ manifoldPa: both.manifoldPa }).rise!.slopePaPerS).toBeCloseTo(0.5, 2);
    expect(judgedOf(both).gas).toBe('other');
    expect(judgedOf({ manifoldPa: both.manifoldPa }).gas).toBe('unknown');
    expect(judgedOf({ ...both, thermalPa: slope(1, 200) }).gas).toBe('water');
  });

  test('a coarse one that shows too few samples shows nothing', () => {
    expect(judgedOf({ manifoldPa: [300] })).toEqual({
      verdict: 'inconclusive',
      gas: 'unknown',
      high: false,
      vacuumLost: false,
    });
  });

  test('a kilopascal is high; the absolute sensor is allowed 300 Pa for its zero', () => {
    expect(judgedOf({ manifoldPa: slope(0, 1_299) }).high).toBe(false);
    expect(judgedOf({ manifoldPa: slope(0, 1_301) }).high).toBe(true);
    const dry = { seen: { ambientK: 313.15 } };
    expect(judgedOf({ thermalPa: slope(0, 999) }, dry).high).toBe(false);
    expect(judgedOf({ thermalPa: slope(0, 1_001) }, dry).high).toBe(true);
  });

  test('a thermal reading that water may have at the temperature of the room is high as well', () => {
    // 437 Pa over ice at −4 °C.
    const ice = { thermalPa: slope(0, 700) };
    expect(judgedOf(ice, { seen: { ambientK: 269.15 } })).toMatchObject({ high: true, cause: 'ice' });
    expect(judgedOf(ice, { seen: { ambientK: undefined } }).high).toBe(false);
    expect(judgedOf({ manifoldPa: slope(0, 700) }, { seen: { ambientK: 269.15 } }).high).toBe(false);
  });

  test('water that stands at the pressure of melting ice is ice to the thermal sensor, which reads it 1.8 times', () => {
    const opened = { ticket: { opened: true } };
    // 611.7 Pa at the triple point.
    expect(judgedOf({ thermalPa: slope(0, 1_101) }, opened).cause).toBe('ice');
    expect(judgedOf({ manifoldPa: slope(0, 1_101) }, opened).cause).toBe('water');
    expect(judgedOf({ manifoldPa: slope(0, 612) }, opened).cause).toBe('water');
  });

  test('what has filled up to the barometer is lost', () => {
    expect(judgedOf({ manifoldPa: slope(0, 80_000) }, { seen: { barometerPa: 80_000 } }).vacuumLost).toBe(
      true,
    );
  });

  test('so is what comes higher than oil or water, though it tires like them on its way', () => {
    const filling = (toPa: number) =>
      Array.from({ length: 900 }, (_, s) => toPa * (1 - Math.exp(-s / 400)) + (s % 2 === 0 ? 2 : -2));
    expect(judgedOf({ manifoldPa: filling(60_000) })).toMatchObject({ verdict: 'leak', vacuumLost: true });
    expect(judgedOf({ manifoldPa: filling(2_500) })).toMatchObject({
      verdict: 'outgassing',
      vacuumLost: false,
    });
  });

  test('a hold that may be watched longer is not judged for good yet', () => {
    const manifoldPa = slope(1.5, 300);
    expect(judgedOf({ manifoldPa, extended: false }).verdict).toBe('inconclusive');
    expect(judgedOf({ manifoldPa }).verdict).toBe('leak');
    // Slower than oil may give off: a leak only where the system was open.
    const moderate = { manifoldPa: slope(0.5, 300) };
    expect(judgedOf(moderate, { ticket: { opened: true } }).verdict).toBe('leak');
  });
});
