// One number in a scenario file: its unit, its bounds, and the wrong units people write it in.

import * as z from 'zod';
import { toCelsius } from '../units.ts';

/** Numbers in [from, to] are most likely in this other unit; `toOurs` converts them. */
type Mistake = {
  readonly from: number;
  readonly to: number;
  readonly unit: string;
  readonly toOurs: (value: number) => number;
};

export type Quantity = {
  readonly unit: string;
  readonly min: number;
  readonly max: number;
  readonly whole?: true;
  readonly mistakes?: readonly Mistake[];
};

const times =
  (factor: number) =>
  (value: number): number =>
    value * factor;

export const inUnit = (from: number, to: number, unit: string, factor: number): Mistake => ({
  from,
  to,
  unit,
  toOurs: times(factor),
});

export const TEMPERATURE_C: Quantity = {
  unit: '°C',
  min: -30,
  max: 60,
  mistakes: [
    { from: 200, to: 350, unit: 'kelvin', toOurs: toCelsius },
    { from: 60, to: 140, unit: 'degrees Fahrenheit', toOurs: (fahrenheit) => (fahrenheit - 32) / 1.8 },
  ],
};

const plain = (value: number): string => String(Number(value.toPrecision(5)));

/** What is wrong with a number, or undefined when nothing is. */
function problemWith(value: number, { unit, min, max, whole, mistakes }: Quantity): string | undefined {
  if (whole && !Number.isInteger(value)) return `must be a whole number, not ${value}`;
  if (value >= min && value <= max) return undefined;
  const range = `must be ${min} to ${max}${unit === '' ? '' : ` ${unit}`}, not ${value}`;
  const likely = (mistakes ?? []).filter(({ from, to }) => value >= from && value <= to);
  if (likely.length > 0) {
    const readings = likely.map(({ unit: other, toOurs }) => `${other}: write ${plain(toOurs(value))}`);
    return `${range} (that looks like ${readings.join(', or like ')})`;
  }
  if (value < 0 && min >= 0) return `${range} (it cannot be negative)`;
  return range;
}

/** How a wrong value is named in a message. */
export function shown(value: unknown): string {
  if (Array.isArray(value)) return 'a list';
  if (value !== null && typeof value === 'object') return 'an object';
  return JSON.stringify(value) ?? String(value);
}

/** The schema of one number. */
export function quantity(bounds: Quantity): z.ZodNumber {
  const unit = bounds.unit === '' ? '' : ` in ${bounds.unit}`;
  return z
    .number({
      error: ({ input }) =>
        input === undefined
          ? `is missing: give a number${unit}, ${bounds.min} to ${bounds.max}`
          : `must be a number${unit}, not ${shown(input)}`,
    })
    .superRefine((value, context) => {
      const problem = problemWith(value, bounds);
      if (problem !== undefined) context.addIssue({ code: 'custom', message: problem });
    });
}
