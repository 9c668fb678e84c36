// Figures as they stand on the page: the value and its unit apart, so that the value can be large.
import { clock } from '../../units.ts';
import { T } from './text.ts';

export type Shown = { readonly value: string; readonly unit: string };

/** '1.23 bar g' → value and unit. */
export function parted(text: string): Shown {
  const at = text.indexOf(' ');
  const value = text
    .slice(0, at)
    .replace('-', '−')
    .replace(/\d(?=(\d{3})+$)/g, '$&\u202f');
  return { value, unit: text.slice(at + 1) };
}

/** The same in one piece, where value and unit stand in one size. */
export function inOne(text: string): string {
  const { value, unit } = parted(text);
  return `${value} ${unit}`;
}

/** Of what is reckoned: nothing to show is nothing to say. */
export const shownWith = (value: number | undefined, show: (value: number) => string): Shown =>
  value === undefined ? { value: '–', unit: '' } : parted(show(value));

/** Of a sensor: nothing to show is a sensor that says nothing. */
export const readWith = (value: number | undefined, show: (value: number) => string): Shown =>
  value === undefined ? { value: '–', unit: T.figures.notRead } : parted(show(value));

export { clock };

/** A number as it is typed, with a point or a comma. */
export function typedNumber(text: string): number | undefined {
  const value = Number(text.replace(',', '.'));
  return text.trim() === '' || !Number.isFinite(value) ? undefined : value;
}

/** Something was typed that is no number: it must not pass as if nothing had been. */
export const isUnread = (text: string): boolean => text.trim() !== '' && typedNumber(text) === undefined;

const MINUTE_MS = 60_000;

/** '4–7 min'. */
export function minutesBetween(lowMs: number, highMs: number): string {
  const [low, high] = [Math.ceil(lowMs / MINUTE_MS), Math.ceil(highMs / MINUTE_MS)];
  return low === high ? `${high} ${T.job.min}` : `${low}–${high} ${T.job.min}`;
}

/** Saturation temperature of a pressure by the dome's table; ln p is nearly linear in 1/T. */
export function saturationOf(
  dome: { readonly temperatureK: readonly number[]; readonly pressurePa: readonly number[] },
  temperatureK: number,
): number {
  const { temperatureK: temperatures, pressurePa } = dome;
  const above = temperatures.findIndex((one) => one >= temperatureK);
  const high = above < 1 ? (above === 0 ? 1 : temperatures.length - 1) : above;
  const [t0, t1] = [temperatures[high - 1]!, temperatures[high]!];
  const [p0, p1] = [pressurePa[high - 1]!, pressurePa[high]!];
  const share = (1 / t0 - 1 / temperatureK) / (1 / t0 - 1 / t1);
  return p0 * (p1 / p0) ** share;
}
