// The tables of the page on commissioning, from the lines themselves.

import type { Line, Tolerance } from '../../../hardware/commissioning/line.ts';
import { LINES } from '../../../hardware/commissioning/lines/index.ts';
import { code, table } from '../../hazards/markdown.ts';

export const PAGE = 'docs/commissioning.md';

const BEGIN = '<!-- written by npm run commissioning -->';
const END = '<!-- end -->';

const row = (line: Line): readonly string[] => [
  code(line.id),
  `${line.title}${line.optional === true ? ' (optional)' : ''}`,
  line.why,
  `${line.validDays} days`,
];

const bound = ({ min, max }: Tolerance): string => {
  const plain = (value: number): string => String(Number(value.toPrecision(3)));
  if (min === undefined) return `≤ ${plain(max ?? Number.NaN)}`;
  return max === undefined ? `≥ ${plain(min)}` : `${plain(min)} … ${plain(max)}`;
};

const toleranceRow =
  (line: Line) =>
  (tolerance: Tolerance): readonly string[] => [
    code(line.id),
    code(tolerance.figure),
    bound(tolerance),
    tolerance.because,
    tolerance.basis,
  ];

const outputsRow = (line: Line): readonly string[] => [
  code(line.id),
  Object.entries(line.mayDrive)
    .map(([output, ms]) => `${output} ${ms / 1000} s`)
    .join(', '),
];

function tables(): string {
  return [
    table([['line', 'what', 'why', 'valid'], ...LINES.map(row)]),
    'A line passes when nothing in it failed and every figure lies within its bounds, SI as the name says:',
    table([
      ['line', 'figure', 'bounds', 'because', 'basis'],
      ...LINES.flatMap((line) => line.tolerances.map(toleranceRow(line))),
    ]),
    'What each line may have on, and for how long at most without a break:',
    table([
      ['line', 'outputs'],
      ...LINES.filter((line) => Object.keys(line.mayDrive).length > 0).map(outputsRow),
    ]),
  ].join('\n\n');
}

/** The page with its tables written anew. */
export function pageWith(page: string): string {
  const from = page.indexOf(BEGIN);
  const to = page.indexOf(END);
  if (from < 0 || to < from) throw new Error(`${PAGE} has no place for its tables`);
  return `${page.slice(0, from + BEGIN.length)}\n\n${tables()}\n\n${page.slice(to)}`;
}
