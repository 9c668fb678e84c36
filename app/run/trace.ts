// The trace of a run as CSV: a row every second, at every change of stage and whenever the operator did something;
// each column's unit stands in its header.
import type { OperatorEvent } from '../../controller/operator.ts';
import type { Progress } from '../../controller/progress.ts';
import type { Reading } from '../../controller/signals.ts';
import { MEASURED, OUTPUTS, SWITCHES } from '../../controller/signals.ts';
import type { HandEntry } from '../../controller/wishes.ts';
import type { ScanSeen } from './loop.ts';

const ROW_EVERY_MS = 1000;

/** 'highSidePressurePa' → 'highSidePressure [Pa]'. */
const headed = (name: string): string =>
  name.replace(/(KgPerS|Counts|Kg|Pa|K)$/, (unit) => ` [${unit === 'KgPerS' ? 'kg/s' : HEADER_UNITS[unit]}]`);
const HEADER_UNITS: { readonly [suffix: string]: string } = { Counts: 'counts', Kg: 'kg', Pa: 'Pa', K: 'K' };

/** The controller's estimates; the pressures among them are readings and stand in their own columns. */
export const ESTIMATES = ['tankNetKg', 'phaseKg', 'targetKg', 'flowKgPerS'] as const;
export type Estimated = Pick<Progress['figures'], (typeof ESTIMATES)[number]>;

/** What a row is made of. */
export type TraceRow = Pick<ScanSeen, 'nowMs' | 'readings' | 'commands' | 'events' | 'handEntries'> &
  Pick<Progress, 'stage' | 'waitingFor'> & { readonly figures: Estimated };

/** `of` answers nothing where there is no value. */
export type TraceColumn = { readonly header: string } & (
  | { readonly kind: 'number'; readonly of: (row: TraceRow) => number | undefined }
  | { readonly kind: 'bit'; readonly of: (row: TraceRow) => boolean | undefined }
  | { readonly kind: 'text'; readonly of: (row: TraceRow) => string }
);

const valueIn = <T>(reading: Reading<T>): T | undefined => (reading.ok ? reading.value : undefined);

export const TRACE_COLUMNS: readonly TraceColumn[] = [
  { header: 'time [s]', kind: 'number', of: ({ nowMs }) => nowMs / 1000 },
  { header: 'stage', kind: 'text', of: ({ stage }) => stage },
  { header: 'waiting for', kind: 'text', of: ({ waitingFor }) => waitingFor },
  { header: 'operator', kind: 'text', of: (row) => operatorText(row) },
  ...MEASURED.map(
    (name): TraceColumn => ({
      header: headed(name),
      kind: 'number',
      of: ({ readings }) => valueIn(readings[name]),
    }),
  ),
  ...SWITCHES.map(
    (name): TraceColumn => ({
      header: `${name} [0/1]`,
      kind: 'bit',
      of: ({ readings }) => valueIn(readings[name]),
    }),
  ),
  ...OUTPUTS.map(
    (name): TraceColumn => ({
      header: `${name} [0/1]`,
      kind: 'bit',
      of: ({ commands }) => commands[name].on,
    }),
  ),
  ...ESTIMATES.map(
    (name): TraceColumn => ({
      header: `estimated ${headed(name)}`,
      kind: 'number',
      of: ({ figures }) => figures[name],
    }),
  ),
];

export const TRACE_HEADER = TRACE_COLUMNS.map(({ header }) => header).join(',');

/** Nine figures: finer than any converter, and the same text on every machine. */
const number = (value: number | undefined): string =>
  value === undefined ? '' : String(Number(value.toPrecision(9)));
const quoted = (text: string): string => (/[",\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);

function cell(column: TraceColumn, row: TraceRow): string {
  if (column.kind === 'text') return quoted(column.of(row));
  if (column.kind === 'number') return number(column.of(row));
  const on = column.of(row);
  return on === undefined ? '' : on ? '1' : '0';
}

/** Without its line end. */
export const traceRow = (row: TraceRow): string => TRACE_COLUMNS.map((column) => cell(column, row)).join(',');

/** What is wished by hand stands in the journal, with what came of it. */
function saidText(event: OperatorEvent): string | undefined {
  switch (event.type) {
    case 'confirmed':
      return `confirmed ${event.prompt}`;
    case 'declined':
      return `declined ${event.prompt}`;
    case 'identification-overridden':
      return `identification overridden: ${event.reason}`;
    case 'identified':
      return `identified ${event.result.refrigerant} ${event.result.purityPercent} %`;
    case 'entered':
      return `entered ${event.prompt} ${number(event.volumeM3)} m³`;
    case 'searched':
      return `searched ${event.prompt} ${event.found ? 'found' : 'not found'}`;
    case 'wished':
    case 'by-hand-begun':
    case 'by-hand-ended':
    case 'all-wished-off':
      return undefined;
    default:
      return event.type;
  }
}

function doneText({ deed, output, offAfterMs, result, reason }: HandEntry): string {
  const what = ['by hand', deed, output].filter((word) => word !== undefined).join(' ');
  const time = offAfterMs === undefined ? '' : ` for ${offAfterMs / 1000} s`;
  return `${what}${time}: ${[result, reason?.row].filter((word) => word !== undefined).join(' ')}`;
}

const operatorText = ({ events, handEntries }: TraceRow): string =>
  [...events.map(saidText), ...handEntries.map(doneText)].filter((text) => text !== undefined).join('; ');

/** An observer that hands finished rows, each with its line end, to `write`. */
export function tracer(write: (text: string) => void): (seen: ScanSeen) => void {
  write(`${TRACE_HEADER}\n`);
  let nextMs = Number.NEGATIVE_INFINITY;
  let lastStage: string | undefined;
  return (seen) => {
    const done = seen.events.length > 0 || seen.handEntries.length > 0;
    const changed = done || seen.progress.stage !== lastStage;
    if (!changed && seen.nowMs < nextMs) return;
    lastStage = seen.progress.stage;
    if (seen.nowMs >= nextMs) nextMs = (Math.floor(seen.nowMs / ROW_EVERY_MS) + 1) * ROW_EVERY_MS;
    const { nowMs, readings, commands, events, handEntries, progress } = seen;
    const { stage, waitingFor, figures } = progress;
    write(`${traceRow({ nowMs, readings, commands, events, handEntries, stage, waitingFor, figures })}\n`);
  };
}
