// What commissioning writes down: each line with its date, its figures and its verdict.

/** In the order in which they are worked through. */
export const LINE_IDS = [
  'facts',
  'emergency-stop',
  'link-loss',
  'high-pressure',
  'alarms',
  'click-test',
  'atmosphere',
  'second-point',
  'temperatures',
  'scale',
  'dead-time',
  'volumes',
  'leak-test',
  'in-flight',
] as const;
export type LineId = (typeof LINE_IDS)[number];

export type Figure = number | string | boolean | readonly number[] | readonly string[];
/** SI, with the unit in the name. */
export type Figures = { readonly [name: string]: Figure };

export type LineRecord = {
  /** ISO 8601. */
  readonly date: string;
  readonly verdict: 'passed' | 'failed';
  /** Why it failed, with the remedy. */
  readonly why?: string;
  readonly figures: Figures;
  /** What the figures were held to, in words. */
  readonly tolerances: readonly string[];
  readonly validDays: number;
};

export type EquipmentRecord = { readonly [L in LineId]?: LineRecord };

/** @throws Error where there is no such number: the line that measures it has not been asked for. */
export function numberIn(figures: Figures, name: string): number {
  const value = figures[name];
  if (typeof value !== 'number') throw new Error(`there is no figure ${name}`);
  return value;
}

/** @throws Error as `numberIn`. */
export function numbersIn(figures: Figures, name: string): readonly number[] {
  const value = figures[name];
  if (!Array.isArray(value)) throw new Error(`there are no figures ${name}`);
  return value as readonly number[];
}

/** @throws Error as `numberIn`. */
export function textIn(figures: Figures, name: string): string {
  const value = figures[name];
  if (typeof value !== 'string') throw new Error(`there is no text ${name}`);
  return value;
}
