// The last of a charge and the first of it: pulses at their limits, and a forecast by its own balance.
import { describe, expect, test } from 'vitest';
import { forecastFill, vehicleVolumeM3 } from '../../../controller/estimates/charge-forecast.ts';
import { nextPulseMs, shutInMs } from '../../../controller/estimates/cutoff.ts';
import { evaporationJPerKg } from '../../../controller/estimates/saturation.ts';
import { R134A } from '../support/machine.ts';

describe('The next pulse', () => {
  const next = (remainingG: number, kgPerMs: number) =>
    nextPulseMs({
      remainingKg: remainingG / 1000,
      kgPerMs,
      shortestMs: 150,
      longestMs: 300,
      toleranceKg: 0.002,
    });

  test('is the shortest where nothing is known of its yield, and none within 2 g', () => {
    expect(next(2.1, 0)).toBe(150);
    expect(next(1.9, 0)).toBeUndefined();
    expect(next(2.1, Number.NaN)).toBe(150);
  });

  test('is none below half of what the shortest brings, nor within 2 g where that is less', () => {
    // 150 ms of 10 mg/ms: 1.5 g.
    expect(next(0.76, 1e-5)).toBe(150);
    expect(next(0.74, 1e-5)).toBeUndefined();
    expect(next(2.1, 5e-5)).toBe(150);
    expect(next(1.9, 5e-5)).toBeUndefined();
  });

  test('is as long as it takes, up to the longest', () => {
    expect(next(2.5, 1e-5)).toBeCloseTo(250, 9);
    expect(next(9, 1e-5)).toBe(300);
  });
});

test('The valve is told to shut by what flows, less what is still in flight', () => {
  const flow = { remainingKg: 0.05, flowKgPerS: 0.02, deadTimeMs: 60, inFlightKg: 0.01 };
  expect(shutInMs(flow)).toBeCloseTo(1_940, 9);
  expect(shutInMs({ ...flow, flowKgPerS: 0 })).toBeUndefined();
  expect(shutInMs({ ...flow, flowKgPerS: -0.01 })).toBeUndefined();
});

describe('A vehicle that stays too warm for liquid', () => {
  /** A tank of 10 °C: vapour of 20.23 kg/m³ (R-134a, Tillner-Roth and Baehr) into a vehicle for 600 g, 2.6 L. */
  const TANK_K = 283.15;
  const SATURATED_KG = 2.6e-3 * 20.23;
  const forecast = (vehicleK: number, insideKg: number) =>
    forecastFill({ curve: R134A, tankPa: 414_610, vehicleK, wantedKg: 0.6, insideKg });

  test('has three litres for a kilogram, and 0.8 L before', () =>
    expect(vehicleVolumeM3(0.6)).toBeCloseTo(2.6e-3, 12));

  test('takes the vapour that the metal has warmed, which it has cooled: the root of a square', () => {
    const coolsK = evaporationJPerKg(R134A, TANK_K) / 5_000;
    // m (T + c·i) − c·m² = m₀·T₀, for what is more than was inside.
    const root = (vehicleK: number, insideKg: number) => {
      const b = vehicleK + coolsK * insideKg;
      return (b - Math.sqrt(b * b - 4 * coolsK * SATURATED_KG * TANK_K)) / (2 * coolsK);
    };
    expect(forecast(313.15, 0).runsInKg).toBeCloseTo(root(313.15, 0), 6);
    expect(forecast(313.15, 0.02).runsInKg).toBeCloseTo(root(313.15, 0.02), 6);
    // What is inside already has taken no warmth, however much it is.
    expect(forecast(313.15, 0.2).runsInKg).toBeCloseTo((SATURATED_KG * TANK_K) / 313.15, 6);
  });
});
