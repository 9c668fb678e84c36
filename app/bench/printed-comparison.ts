// A comparison of two campaigns as a table of text, with the verdict at its end.
import type { Compared, Comparison } from './compare.ts';

const NAME_COLUMNS = 24;
const COLUMNS = 11;

const cells = (values: readonly string[]): string => values.map((value) => value.padStart(COLUMNS)).join('');

/** How a bound is written on the command line. */
export function boundText({ bound, figure }: Pick<Compared, 'bound' | 'figure'>): string {
  if (bound === undefined) return 'none';
  if ('byPoints' in bound) return `${bound.byPoints} points`;
  if ('byPercent' in bound) return `${bound.byPercent}%`;
  return `${bound.by}${'measure' in figure ? figure.measure.unit : ''}`;
}

const decimalsOf = ({ figure }: Compared): number =>
  'measure' in figure ? Math.max(1, figure.measure.decimals) : 1;

const signed = (value: number, decimals: number): string => {
  const text = value.toFixed(decimals);
  return value > 0 ? `+${text}` : text;
};

function line(compared: Compared): string {
  const { id, jobs, before, after, difference, low, high, regressed } = compared;
  const decimals = decimalsOf(compared);
  const counted = jobs[0] === jobs[1] ? String(jobs[0]) : jobs.join('/');
  const shown = (value: number): string => (Number.isNaN(value) ? '–' : value.toFixed(decimals));
  const between =
    difference === undefined || low === undefined || high === undefined
      ? ['–', 'too few', '']
      : [signed(difference, decimals), signed(low, decimals), signed(high, decimals)];
  const columns = cells([counted, shown(before), shown(after), ...between, boundText(compared)]);
  return `  ${id.padEnd(NAME_COLUMNS)}${columns}${regressed ? '  REGRESSED' : ''}`;
}

export function printedComparison(comparison: Comparison): string {
  const { paired, unpairedBecause, equal, confidence, figures } = comparison;
  const percent = `${Number((100 * confidence).toPrecision(6))} %`;
  const how = paired
    ? 'The same jobs in both: paired differences.'
    : `Not the same jobs (B has ${unpairedBecause}): means and shares of separate jobs, which only large differences move.`;
  const regressed = figures.filter((one) => one.regressed);
  const names = regressed.map(({ id }) => id).join(', ');
  return [
    how,
    ...(equal ? ['Every figure of every job is the same.'] : []),
    '',
    `  ${''.padEnd(NAME_COLUMNS)}${cells(['jobs', 'A', 'B', 'B − A', 'from', 'to', 'bound'])}`,
    ...figures.map(line),
    '',
    `Means, and shares of the jobs in per cent; from and to hold at ${percent}, the verdict at ${percent} for all figures together.`,
    regressed.length === 0 ? 'No regression.' : `REGRESSED: ${names}`,
    '',
  ].join('\n');
}
