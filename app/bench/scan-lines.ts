// Lines of a recording back into scans: each line says what changed, and what it says is checked before it is believed.
import {
  type Command,
  type Commands,
  commandsOf,
  MEASURED,
  OFF,
  OUTPUTS,
  type Reading,
  type Readings,
  SAFE_COMMANDS,
  SWITCHES,
} from '../../controller/signals.ts';
import { ESTIMATES } from '../run/trace.ts';
import { isOddNumber, type ReadingText, type RecordedScan, type ScanLine } from './recording.ts';

/** A line that is no scan: says in a few words what is wrong with it. */
export class NoScan extends Error {}

const SENSORS = [...MEASURED, ...SWITCHES] as const;
const isObject = (value: unknown): value is { readonly [key: string]: unknown } =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

function demand(holds: boolean, what: string): asserts holds {
  if (!holds) throw new NoScan(what);
}

function saidValue(text: unknown, isSwitch: boolean): number | boolean | undefined {
  if (isSwitch) return typeof text === 'boolean' ? text : undefined;
  if (typeof text === 'number') return text;
  return typeof text === 'string' && isOddNumber(text) ? Number(text) : undefined;
}

function readingOf(text: ReadingText, isSwitch: boolean, nowMs: number): Reading<number | boolean> {
  if (typeof text === 'string' && !isOddNumber(text)) return { ok: false, reason: text } as Reading;
  const [said, atMs] = Array.isArray(text) ? text : [text, nowMs];
  const value = saidValue(said, isSwitch);
  demand(value !== undefined && typeof atMs === 'number', 'has a reading that is none');
  return { ok: true, value, atMs };
}

function readingsOf(line: ScanLine, before: Readings | undefined): Readings {
  const texts = line.readings;
  if (texts === undefined) {
    demand(before !== undefined, 'has no readings');
    return before;
  }
  demand(Array.isArray(texts) && texts.length === SENSORS.length, 'has not one reading for each sensor');
  const readings: Record<string, Reading<number | boolean>> = {};
  SENSORS.forEach((name, index) => {
    const text = texts[index]!;
    const last = before?.[name];
    demand(text !== null || last !== undefined, 'has not one reading for each sensor');
    readings[name] = text === null ? last! : readingOf(text, index >= MEASURED.length, line.ms);
  });
  return readings as unknown as Readings;
}

function commandOf(text: unknown): Command {
  if (text === undefined) return OFF;
  demand(text === true || typeof text === 'number', 'has a command that is none');
  return { on: true, offAfterMs: text === true ? undefined : text };
}

function wordOf(on: ScanLine['on']): Commands {
  demand(isObject(on), 'has commands that are none');
  const unknown = Object.keys(on).find((name) => !OUTPUTS.some((output) => output === name));
  demand(unknown === undefined, `commands '${unknown}', which is no output`);
  return commandsOf((output) => commandOf(on[output]));
}

function figuresOf(
  texts: readonly (number | null)[] | undefined,
  before: RecordedScan | undefined,
): RecordedScan['figures'] {
  if (texts === undefined) return before?.figures ?? {};
  demand(Array.isArray(texts) && texts.length === ESTIMATES.length, 'has not one figure for each estimate');
  return Object.fromEntries(
    ESTIMATES.flatMap((name, index) => {
      const value = texts[index];
      demand(value === null || typeof value === 'number', 'has an estimate that is none');
      return value === null ? [] : [[name, value]];
    }),
  );
}

function listOf<T>(list: readonly T[] | undefined): readonly T[] {
  if (list === undefined) return [];
  const sound: boolean = Array.isArray(list) && list.every((entry) => isObject(entry));
  demand(sound, 'has a list that is none');
  return list;
}

/** @throws NoScan for a line that does not follow on the scan before. */
export function scanOf(parsed: unknown, before: RecordedScan | undefined): RecordedScan {
  demand(isObject(parsed), 'is no scan');
  const line = parsed as ScanLine;
  demand(typeof line.ms === 'number', 'is no scan');
  demand(before === undefined || line.ms > before.nowMs, 'goes back in time');
  const permitted = line.on === undefined ? (before?.permitted ?? SAFE_COMMANDS) : wordOf(line.on);
  const stage = line.stage ?? before?.stage;
  demand(typeof stage === 'string', 'has no stage');
  const { waitingFor = before?.waitingFor ?? '', held = before?.held ?? {}, trip = before?.trip } = line;
  demand(typeof waitingFor === 'string' && isObject(held), 'has words that are none');
  return {
    nowMs: line.ms,
    readings: readingsOf(line, before?.readings),
    events: listOf(line.events),
    permitted,
    commands: line.given === undefined ? permitted : wordOf(line.given),
    stage,
    waitingFor,
    figures: figuresOf(line.estimates, before),
    held,
    trip: trip ?? undefined,
    notices: listOf(line.notices),
    ledgerEntries: listOf(line.ledger),
    handEntries: listOf(line.byHand),
  };
}
