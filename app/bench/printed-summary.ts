// The summary of a campaign as text: how jobs ended, quantiles, shares, and the worst jobs with what runs them again.
import { MEASURES, type Measure, shownValue } from './figures.ts';
import { type CampaignSummary, type MeasureSummary, QUANTILES, type RateSummary } from './summary.ts';

const NAME_COLUMNS = 46;
const COLUMNS = 10;

const counted = (names: readonly (readonly [string, number])[]): string =>
  names.map(([name, jobs]) => `${name} ${jobs}`).join(', ');

/** The headings of the columns of quantiles. */
export const quantileNames = (): readonly string[] =>
  QUANTILES.map((percent) => (percent === 100 ? 'most' : `p${percent}`));

const cells = (values: readonly string[]): string => values.map((value) => value.padStart(COLUMNS)).join('');

const measureLine = ({ measure, jobs, mean, quantiles }: MeasureSummary): string => {
  const figures = [mean, ...quantiles].map((value) => value.toFixed(measure.decimals));
  const name = measure.unit === '' ? measure.says : `${measure.says}, ${measure.unit}`;
  return `  ${name.padEnd(NAME_COLUMNS)}${cells([String(jobs), ...figures])}`;
};

/** Per cent of the jobs that say something about it. */
export const percentOf = ({ jobs, have }: RateSummary): string =>
  jobs === 0 ? '–' : `${((100 * have) / jobs).toFixed(1)} %`;

const rateLine = (summary: RateSummary): string => {
  const { rate, jobs, have } = summary;
  return `  ${rate.says.padEnd(NAME_COLUMNS)}${cells([String(jobs), String(have), percentOf(summary)])}`;
};

const CHARGE = MEASURES.find(({ id }) => id === 'charge-error') as Measure;

/** The charge of a job in one cell. */
export const chargeOf = (row: Parameters<Measure['valueIn']>[0]): string => {
  const value = CHARGE.valueIn(row);
  return value === undefined ? '' : shownValue(CHARGE, value);
};

/** @param again the command that runs a job again, in full. */
export function printedSummary(summary: CampaignSummary, again: (job: number) => string): string {
  const { jobs, outcomes, measures, rates, counts, worst } = summary;
  const told = (name: string, names: readonly (readonly [string, number])[]): string[] =>
    names.length === 0 ? [] : [`${name.padEnd(12)}${counted(names)}`];
  return [
    `CAMPAIGN    ${jobs} jobs: ${counted(outcomes)}`,
    ...told('Faults', counts.faults),
    ...told('Tripped by', counts.trips),
    ...told('Held by', counts.holding),
    ...told('Harm', counts.harm),
    '',
    `  ${''.padEnd(NAME_COLUMNS)}${cells(['jobs', 'mean', ...quantileNames()])}`,
    ...measures.map(measureLine),
    '',
    `  ${''.padEnd(NAME_COLUMNS)}${cells(['jobs', 'have', 'share'])}`,
    ...rates.map(rateLine),
    '',
    'The worst jobs; each command runs its job again:',
    ...worst.map(
      ({ row, why }) => `  ${again(row.job)}  # ${why}${row.end === undefined ? '' : `; ${row.end}`}`,
    ),
    '',
  ].join('\n');
}
