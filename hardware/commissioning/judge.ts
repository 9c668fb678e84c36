// Whether figures lie within a line's tolerances, and whether a record still stands. The engine and whoever reads the file ask here.
import { factsProblem } from './facts.ts';
import type { Line, Tolerance } from './line.ts';
import type { EquipmentRecord, Figures, LineRecord } from './record.ts';

const DAY_MS = 86_400_000;

const outside = ({ figure, min, max, optional }: Tolerance, figures: Figures): boolean => {
  const value = figures[figure];
  if (value === undefined) return optional !== true;
  if (typeof value !== 'number' || Number.isNaN(value)) return true;
  return value < (min ?? Number.NEGATIVE_INFINITY) || value > (max ?? Number.POSITIVE_INFINITY);
};

const rounded = (value: number): string => String(Number(value.toPrecision(3)));

function limits({ min, max }: Tolerance): string {
  if (min === undefined) return `at most ${rounded(max ?? Number.NaN)}`;
  return max === undefined ? `at least ${rounded(min)}` : `${rounded(min)} to ${rounded(max)}`;
}

/** For the record: each bound with its reason and what kind of reason that is. */
export const tolerancesInWords = ({ tolerances }: Line): readonly string[] =>
  tolerances.map((one) => `${one.figure} ${limits(one)}: ${one.because} (${one.basis})`);

/** The first figure that lies outside, in words with the remedy; undefined where all lie within. */
export function outOfTolerance(
  { tolerances }: Pick<Line, 'tolerances'>,
  figures: Figures,
): string | undefined {
  const broken = tolerances.find((tolerance) => outside(tolerance, figures));
  if (broken === undefined) return undefined;
  const value = figures[broken.figure];
  const is = typeof value === 'number' ? `is ${rounded(value)}` : 'is not there';
  return `${broken.figure} ${is} and must be ${limits(broken)}: ${broken.remedy}`;
}

export type Standing =
  | { readonly is: 'standing'; readonly untilMs: number }
  | { readonly is: 'missing' }
  | { readonly is: 'failed'; readonly why: string; readonly date: string }
  | { readonly is: 'expired'; readonly untilMs: number; readonly date: string };

/** What is written down may shorten the time for which a line stands, never lengthen it. */
const untilMsOf = (line: Line, kept: LineRecord): number =>
  Date.parse(kept.date) + Math.min(line.validDays, kept.validDays) * DAY_MS;

function whyWorthless(
  line: Line,
  { date, verdict, why, figures }: LineRecord,
  facts: Figures,
  nowMs: number,
) {
  const atMs = Date.parse(date);
  if (Number.isNaN(atMs) || atMs > nowMs + DAY_MS) return `its date, ${date}, is not one of the past`;
  if (verdict === 'failed') return why ?? 'no reason is written down';
  const lacking = line.gives?.({ facts }).find((name) => typeof figures[name] !== 'number');
  if (lacking !== undefined) return `${lacking} is not there`;
  return line.id === 'facts' ? factsProblem(figures) : outOfTolerance(line, figures);
}

/** What a line of the record is worth at a time. A date that is none, or lies ahead, is worth nothing. */
export function standingOf(line: Line, record: EquipmentRecord, nowMs: number): Standing {
  const kept = record[line.id];
  if (kept === undefined) return { is: 'missing' };
  const why = whyWorthless(line, kept, record.facts?.figures ?? {}, nowMs);
  if (why !== undefined) return { is: 'failed', why, date: kept.date };
  const untilMs = untilMsOf(line, kept);
  return nowMs > untilMs ? { is: 'expired', untilMs, date: kept.date } : { is: 'standing', untilMs };
}
