// The trace of a run as CSV: a row every second, at every change of stage and whenever the operator did something;
// each column's unit stands in its header.
import type { OperatorEvent } from '../../controller/operator.ts';
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
const ESTIMATES = ['tankNetKg', 'phaseKg', 'targetKg', 'flowKgPerS'] as const;

export const TRACE_HEADER = [
  'time [s]',
  'stage',
  'waiting for',
  'operator',
  ...MEASURED.map(headed),
  ...SWITCHES.map((name) => `${name} [0/1]`),
  ...OUTPUTS.map((name) => `${name} [0/1]`),
  ...ESTIMATES.map((name) => `estimated ${headed(name)}`),
].join(',');

/** Nine figures: finer than any converter, and the same text on every machine. */
const number = (value: number | undefined): string =>
  value === undefined ? '' : String(Number(value.toPrecision(9)));
const measured = (reading: Reading): string => (reading.ok ? number(reading.value) : '');
const bit = (on: boolean): string => (on ? '1' : '0');
const switched = (reading: Reading<boolean>): string => (reading.ok ? bit(reading.value) : '');
const quoted = (text: string): string => (/[",\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);

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

const operatorText = ({ events, handEntries }: ScanSeen): string =>
  [...events.map(saidText), ...handEntries.map(doneText)].filter((text) => text !== undefined).join('; ');

function traceRow(seen: ScanSeen): string {
  const { nowMs, readings, commands, progress } = seen;
  return [
    String(nowMs / 1000),
    progress.stage,
    quoted(progress.waitingFor),
    quoted(operatorText(seen)),
    ...MEASURED.map((name) => measured(readings[name])),
    ...SWITCHES.map((name) => switched(readings[name])),
    ...OUTPUTS.map((name) => bit(commands[name].on)),
    ...ESTIMATES.map((name) => number(progress.figures[name])),
  ].join(',');
}

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
    write(`${traceRow(seen)}\n`);
  };
}
