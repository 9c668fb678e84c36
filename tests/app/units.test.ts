import { expect, test } from 'vitest';
import * as units from '../../app/units.ts';

// Conversion factors: NIST Special Publication 811 (2008), appendix B.8.
test('published conversions come out', () => {
  expect(units.toPounds(0.45359237)).toBeCloseTo(1, 12);
  expect(units.toOunces(1)).toBeCloseTo(35.27396, 5);
  expect(units.toPsi(101_325)).toBeCloseTo(14.69595, 5);
  expect(units.toInchesOfMercury(101_325)).toBeCloseTo(29.9213, 3);
  expect(units.toMicrons(133.3224)).toBeCloseTo(1000, 2);
});

test('temperature scales meet at their fixed points', () => {
  expect(units.toCelsius(273.15)).toBe(0);
  expect(units.toFahrenheit(273.15)).toBeCloseTo(32, 12);
  expect(units.toFahrenheit(373.15)).toBeCloseTo(212, 10);
  expect(units.toFahrenheit(233.15)).toBeCloseTo(-40, 10);
});

test('a full vacuum at 1600 m is not shown as sea level vacuum: gauge counts from the barometer', () => {
  const high = units.unitsFor('si', 83_400);
  expect(high.pressure(183_400)).toBe('1.00 bar g');
  expect(high.pressure(6_000)).toBe('-0.77 bar g');
  expect(units.unitsFor('us', 83_400).pressure(50_000)).toBe('9.9 inHg vac');
});

test('deep vacuum is shown absolute, in pascal or micron', () => {
  expect(units.unitsFor('si', 101_325).pressure(67)).toBe('67 Pa abs');
  expect(units.unitsFor('us', 101_325).pressure(66.66)).toBe('500 micron');
});

test('times are written as clocks', () => {
  expect(units.clock(83_000)).toBe('1:23');
  expect(units.clock(3_723_000)).toBe('1:02:03');
  expect(units.clock(59_999)).toBe('1:00');
});
