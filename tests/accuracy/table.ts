// Tables and figures as the page of results writes them.
import type { Range } from '../../app/bench/draw.ts';

const row = (cells: readonly string[]): string => `| ${cells.join(' | ')} |`;

/** The first column to the left, figures to the right. */
export function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const rule = head.map((_, index) => (index === 0 ? '---' : '---:'));
  return [row(head), row(rule), ...rows.map(row)].join('\n');
}

/** A share of one in whole per cent. */
export const whole = (share: number): string => `${Math.round(100 * share)} %`;

export const range = ([low, high]: Range, unit: string): string => `${low} to ${high} ${unit}`;
