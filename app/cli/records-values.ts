// Reads the values of `coldbench records`: dates, masses and whole numbers, each with one line for what is wrong.
import { InputError } from './command.ts';

export type Values = ReadonlyMap<string, string>;

/** @throws InputError for what is no number above zero. */
export function amount(values: Values, name: string): number | undefined {
  const text = values.get(name);
  if (text === undefined) return undefined;
  const value = Number(text);
  if (!(Number.isFinite(value) && value > 0))
    throw new InputError(`--${name} must be a number above 0, not '${text}'`);
  return value;
}

/** @throws InputError where it is missing. */
export function needed<T>(value: T | undefined, name: string): T {
  if (value === undefined)
    throw new InputError(`--${name} is missing; coldbench records --help shows how to give it`);
  return value;
}

/** @throws InputError for what is no calendar day. */
export function day(values: Values, name: string): string | undefined {
  const text = values.get(name);
  if (text === undefined) return undefined;
  const time = Date.parse(text);
  if (
    !/^\d{4}-\d{2}-\d{2}$/.test(text) ||
    Number.isNaN(time) ||
    new Date(time).toISOString().slice(0, 10) !== text
  )
    throw new InputError(`--${name} must be a day as 2026-03-31, not '${text}'`);
  return text;
}

/** The whole of the last day belongs to a range. @throws InputError as `day`. */
export function until(values: Values, name: string): string | undefined {
  const last = day(values, name);
  return last === undefined ? undefined : new Date(Date.parse(last) + 86_400_000).toISOString();
}

export function whole(text: string | undefined, name: string): number | undefined {
  if (text === undefined) return undefined;
  if (!/^[1-9]\d{0,8}$/.test(text))
    throw new InputError(`${name} must be a whole number above 0, not '${text}'`);
  return Number(text);
}
