// Writes a job down as it runs: an observer of the scan loop that hands finished lines on.
import {
  type Command,
  type Commands,
  MEASURED,
  OUTPUTS,
  type Reading,
  type Readings,
  SWITCHES,
} from '../../controller/signals.ts';
import type { ControllerState } from '../../controller/state.ts';
import type { ScanLoop, ScanSeen } from '../run/loop.ts';
import { ESTIMATES, type Estimated } from '../run/trace.ts';
import { logicVersion } from './logic-version.ts';
import {
  type Called,
  Checked,
  FORMATS,
  type Held,
  LAYOUT,
  MARK,
  nineFigures,
  numberText,
  type ReadingText,
  type RecordedScan,
  type ScanLine,
} from './recording.ts';

/** Where finished lines go. */
export type RecordingSink = {
  write(line: string): void;
  /** What has been written is worth keeping now. */
  flush(): void;
};

const SENSORS = [...MEASURED, ...SWITCHES] as const;

const valueText = (value: number | boolean): number | boolean | string =>
  typeof value === 'number' ? numberText(value) : value;

function readingText(reading: Reading<number | boolean>, nowMs: number): ReadingText {
  if (!reading.ok) return reading.reason;
  const value = valueText(reading.value);
  return reading.atMs === nowMs ? value : [value, reading.atMs];
}

function sameReading(one: Reading<number | boolean> | undefined, other: Reading<number | boolean>): boolean {
  if (one === other) return true;
  if (one === undefined || one.ok !== other.ok) return false;
  if (one.ok && other.ok) return Object.is(one.value, other.value) && one.atMs === other.atMs;
  return !one.ok && !other.ok && one.reason === other.reason;
}

const sameCommand = (one: Command, other: Command): boolean =>
  one.on === other.on && one.offAfterMs === other.offAfterMs;

/** Two words of commands that tell a rig the same. */
export const sameCommands = (one: Commands, other: Commands): boolean =>
  one === other || OUTPUTS.every((output) => sameCommand(one[output], other[output]));

export const onText = (commands: Commands): { readonly [output: string]: true | number } =>
  Object.fromEntries(
    OUTPUTS.filter((output) => commands[output].on).map((output) => [
      output,
      commands[output].offAfterMs ?? true,
    ]),
  );

/** The first row that refused each output. */
function heldIn({ judged }: ControllerState): Held {
  const held: { [output: string]: string } = {};
  for (const { output, row } of judged?.refusals ?? []) held[output] ??= row;
  return held;
}

const estimatedIn = (figures: Estimated): Estimated =>
  Object.fromEntries(
    ESTIMATES.flatMap((name) => {
      const value = figures[name];
      return value === undefined ? [] : [[name, nineFigures(value)]];
    }),
  );

const some = <T>(list: readonly T[]): readonly T[] | undefined => (list.length === 0 ? undefined : list);

/** What a scan has come to, as it is written down and as it is compared. */
export function recordedOf(seen: ScanSeen, state: ControllerState): RecordedScan {
  const { stage, waitingFor, figures } = seen.progress;
  return {
    nowMs: seen.nowMs,
    readings: seen.readings,
    events: seen.events,
    permitted: seen.permitted,
    commands: seen.commands,
    stage,
    waitingFor,
    figures: estimatedIn(figures),
    held: heldIn(state),
    trip: state.memory.trip?.row,
    notices: seen.notices,
    ledgerEntries: seen.ledgerEntries,
    handEntries: seen.handEntries,
  };
}

export class Recorder {
  readonly #sink: RecordingSink;
  readonly #checked = new Checked();
  #loop: ScanLoop | undefined;
  #last: RecordedScan | undefined;
  #scans = 0;

  constructor(sink: RecordingSink) {
    this.#sink = sink;
  }

  /** Before the first scan. */
  begin(loop: ScanLoop, called: Called): void {
    const { plan, equipment, memory } = loop.state;
    this.#loop = loop;
    this.#write({
      coldbench: MARK,
      format: called.left === undefined ? FORMATS.opened : FORMATS.takenUp,
      version: logicVersion(),
      ...called,
      ...LAYOUT,
      atMs: memory.lastScanMs,
      plan,
      equipment,
    });
  }

  /** Observes every scan. */
  readonly look = (seen: ScanSeen): void => {
    if (this.#loop === undefined) return;
    const scan = recordedOf(seen, this.#loop.state);
    this.#write(this.#lineOf(scan));
    this.#last = scan;
    this.#scans += 1;
    if (scan.notices.length > 0) this.#sink.flush();
  };

  /** The job is over: a recording without this line was cut off. */
  end(): void {
    if (this.#loop !== undefined) this.#write({ end: { scans: this.#scans } });
  }

  #write(line: object): void {
    this.#sink.write(this.#checked.sealed(line));
  }

  #lineOf(scan: RecordedScan): ScanLine {
    const last = this.#last;
    const changed = <T>(value: T, before: T | undefined): T | undefined =>
      JSON.stringify(value) === JSON.stringify(before) ? undefined : value;
    const estimates = ESTIMATES.map((name) => scan.figures[name] ?? null);
    const line: { [K in keyof ScanLine]: ScanLine[K] | undefined } = {
      ms: scan.nowMs,
      readings: this.#readingsText(scan.readings, scan.nowMs),
      events: some(scan.events),
      on:
        last !== undefined && sameCommands(last.permitted, scan.permitted)
          ? undefined
          : onText(scan.permitted),
      given: sameCommands(scan.commands, scan.permitted) ? undefined : onText(scan.commands),
      stage: changed(scan.stage, last?.stage),
      waitingFor: changed(scan.waitingFor, last?.waitingFor),
      estimates: changed(
        estimates,
        last === undefined ? undefined : ESTIMATES.map((name) => last.figures[name] ?? null),
      ),
      held: changed(scan.held, last?.held ?? {}),
      trip: scan.trip === last?.trip ? undefined : (scan.trip ?? null),
      notices: some(scan.notices),
      ledger: some(scan.ledgerEntries),
      byHand: some(scan.handEntries),
    };
    return line as ScanLine;
  }

  #readingsText(readings: Readings, nowMs: number): readonly ReadingText[] | undefined {
    const before = this.#last?.readings;
    const texts = SENSORS.map((name) =>
      sameReading(before?.[name], readings[name]) ? null : readingText(readings[name], nowMs),
    );
    return texts.some((text) => text !== null) ? texts : undefined;
  }
}
