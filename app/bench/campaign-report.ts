// The summary of a campaign as one HTML page that prints on A4 and Letter, without scripts and without a clock time.
import { escaped, page, rowsOf } from '../records/html.ts';
import { type Plot, svgOf } from '../records/plot.ts';
import { CAUTIONS_SIMULATED } from '../run/printed-cautions.ts';
import type { Header } from './campaign-file.ts';
import { shownValue } from './figures.ts';
import { chargeOf, percentOf, quantileNames } from './printed-summary.ts';
import type { CampaignSummary, MeasureSummary } from './summary.ts';

/** Figures to the right, words to the left. */
const cell = (text: string): string =>
  `<td${/^([-+]?\d|–)/.test(text) ? ' class="number"' : ''}>${escaped(text)}</td>`;

function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const heads = head.map((text, index) => {
    const figures = /class="number"/.test(cell(rows[0]?.[index] ?? ''));
    return `<th${figures && index > 0 ? ' class="number"' : ''}>${escaped(text)}</th>`;
  });
  const lines = rows.map(
    ([name = '', ...values]) => `<tr><td>${escaped(name)}</td>${values.map(cell).join('')}</tr>`,
  );
  return `<table class="grid"><tr>${heads.join('')}</tr>\n${lines.join('\n')}</table>`;
}

const counted = (names: readonly (readonly [string, number])[]): string =>
  names.map(([name, jobs]) => `${name} ${jobs}`).join(', ');

const measureRow = ({ measure, jobs, mean, quantiles }: MeasureSummary): readonly string[] => [
  measure.says,
  String(jobs),
  ...[mean, ...quantiles].map((value) => shownValue(measure, value)),
];

const capital = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}`;

/** The value that so many per cent of the jobs do not exceed. */
const plotOf = ({ measure, curve }: MeasureSummary): Plot => ({
  title: capital(measure.says),
  xUnit: 'per cent of the jobs do not exceed it',
  yUnit: measure.unit === '' ? 'number' : measure.unit,
  curves: [{ name: measure.says, points: curve.map((value, percent) => [percent, value] as const) }],
});

/** One that is the same in all jobs is a line that says nothing. */
const varies = ({ curve }: MeasureSummary): boolean => curve[0] !== curve.at(-1);

/**
 * @param stretch the jobs that the summary is of.
 * @param again the command that runs a job again.
 */
export function campaignReport(
  { plan, seed, jobs, logic }: Header,
  stretch: { readonly first: number; readonly last: number },
  { outcomes, measures, rates, counts, worst }: CampaignSummary,
  again: (job: number) => string,
): string {
  const whole = stretch.last - stretch.first + 1 === jobs;
  const facts: readonly (readonly [string, string])[] = [
    ['Plan', plan.name],
    ['Seed', String(seed)],
    ['Jobs', whole ? String(jobs) : `${stretch.first} to ${stretch.last} of ${jobs}`],
    ['Logic', logic],
    ['Outcomes', counted(outcomes)],
    ...(['faults', 'trips', 'holding', 'harm'] as const).flatMap((name) =>
      counts[name].length === 0 ? [] : [[COUNT_NAMES[name], counted(counts[name])] as const],
    ),
  ];
  const shares = rates.map((one) => [one.rate.says, String(one.jobs), String(one.have), percentOf(one)]);
  const last = worst.map(({ row, why }) => [again(row.job), why, chargeOf(row), row.end ?? '']);
  return page(
    `Campaign: ${plan.name}`,
    `<h1>Campaign: ${escaped(plan.name)}</h1>
<table>${rowsOf(facts)}</table>
<h2>Figures</h2>
${table(['', 'jobs', 'mean', ...quantileNames()], measures.map(measureRow))}
<h2>Shares of the jobs</h2>
${table(['', 'jobs', 'have', 'share'], shares)}
<h2>The worst jobs</h2>
${table(['command that runs it again', 'why', 'charge error', 'end'], last)}
<h2>Distributions</h2>
${measures
  .filter(varies)
  .map((measure) => svgOf(plotOf(measure)))
  .join('\n')}
<div class="cautions">${CAUTIONS_SIMULATED.map(escaped).join(' ')}</div>`,
  );
}

const COUNT_NAMES = {
  faults: 'Faults',
  trips: 'Tripped by',
  holding: 'Held by',
  harm: 'Harm',
} as const;
