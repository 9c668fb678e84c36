// What is written down of a line that has come to its end, and what of the record no longer stands beside it.
import { sensesOtherwise } from './facts.ts';
import { outOfTolerance, tolerancesInWords } from './judge.ts';
import type { Line } from './line.ts';
import type { EquipmentRecord, Figures, LineId, LineRecord } from './record.ts';

/** More digits than any of them is good for; binary arithmetic adds the rest. */
const DIGITS = 9;

const roundedFigure = (figure: Figures[string]): Figures[string] => {
  if (typeof figure === 'number') return Number(figure.toPrecision(DIGITS));
  if (!Array.isArray(figure)) return figure;
  const parts = figure as readonly (number | string)[];
  return parts.map((part) => (typeof part === 'number' ? Number(part.toPrecision(DIGITS)) : part)) as
    | readonly number[]
    | readonly string[];
};

const isFigure = (figure: Figures[string]): boolean =>
  (Array.isArray(figure) ? figure : [figure]).every(
    (part) => typeof part !== 'number' || Number.isFinite(part),
  );

/** What came out as no number is not there. */
const rounded = (figures: Figures): Figures =>
  Object.fromEntries(
    Object.entries(figures)
      .filter(([, figure]) => isFigure(figure))
      .map(([name, figure]) => [name, roundedFigure(figure)]),
  );

/** What was found with other sensors or other outputs is not kept. */
export function stillStanding(record: EquipmentRecord, { id }: Line, figures: Figures): EquipmentRecord {
  const before = record.facts?.figures;
  if (id !== 'facts' || before === undefined || !sensesOtherwise(before, figures)) return record;
  const { facts, 'emergency-stop': stop, 'link-loss': link, 'high-pressure': pressure } = record;
  const ofTheBoard = { 'emergency-stop': stop, 'link-loss': link, 'high-pressure': pressure };
  return { ...(facts === undefined ? {} : { facts }), ...given(ofTheBoard) };
}

const given = (lines: { readonly [L in LineId]?: LineRecord | undefined }): EquipmentRecord =>
  Object.fromEntries(Object.entries(lines).filter(([, line]) => line !== undefined));

/** @param why it failed, where that is known already; else the figures decide. */
export function recordOf(line: Line, figures: Figures, why: string | undefined, date: string): LineRecord {
  const kept = rounded(figures);
  const broken = why === undefined ? outOfTolerance(line, kept) : `${why}; ${line.remedy}`;
  return {
    date,
    verdict: broken === undefined ? 'passed' : 'failed',
    ...(broken === undefined ? {} : { why: broken }),
    figures: kept,
    tolerances: tolerancesInWords(line),
    validDays: line.validDays,
  };
}
