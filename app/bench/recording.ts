// A recording: everything that a scan takes and everything it answers, as lines of JSON that can be checked one by one.
import { crc32 } from 'node:zlib';
import type { Equipment } from '../../controller/equipment.ts';
import type { LedgerEntry } from '../../controller/ledger.ts';
import type { Notice } from '../../controller/notice.ts';
import type { OperatorEvent } from '../../controller/operator.ts';
import type { Plan } from '../../controller/plan.ts';
import type { Progress } from '../../controller/progress.ts';
import { type Commands, MEASURED, OUTPUTS, type Readings, SWITCHES } from '../../controller/signals.ts';
import type { ControllerState } from '../../controller/state.ts';
import type { HandEntry } from '../../controller/wishes.ts';
import type { Estimated } from '../run/trace.ts';

/** Counts up when an older reader would misunderstand what is written: it would open anew a job that was taken up. */
export const FORMATS = { opened: 1, takenUp: 2 } as const;
export const MARK = 'coldbench recording';

/** What the records had of a job that was taken up again. */
export type LeftOff = {
  readonly state: Omit<ControllerState, 'plan' | 'equipment'>;
  /** By the last intent. */
  readonly opened: readonly string[];
};

export type Called = {
  readonly name: string;
  /** What stands on the other end, in words. */
  readonly rig: string;
  /** Absent for a job that begins. */
  readonly left?: LeftOff;
};

/** The first line: what the job was opened with. Curves and limits stand in it, so that nothing else is needed. */
export type Opening = Called & {
  readonly plan: Plan;
  readonly equipment: Equipment;
  readonly atMs: number;
};

/** The names behind the places of a line's readings, and of what can be commanded. */
export const LAYOUT = { measured: MEASURED, switches: SWITCHES, outputs: OUTPUTS } as const;

export type Header = typeof LAYOUT &
  Opening & { readonly coldbench: typeof MARK; readonly format: number; readonly version: string };

/** Which row of the interlocks holds which output back. */
export type Held = { readonly [output: string]: string };

/** One scan with all that it read, heard and answered. */
export type RecordedScan = {
  readonly nowMs: number;
  readonly readings: Readings;
  readonly events: readonly OperatorEvent[];
  readonly permitted: Commands;
  /** What the rig was given. */
  readonly commands: Commands;
  readonly stage: Progress['stage'];
  readonly waitingFor: string;
  readonly figures: Estimated;
  readonly held: Held;
  /** The row of the trip that stands, by its first reason. */
  readonly trip: string | undefined;
  readonly notices: readonly Notice[];
  readonly ledgerEntries: readonly LedgerEntry[];
  readonly handEntries: readonly HandEntry[];
};

/** A value with its time where that is not the scan's; the reason for having none; null for as it was. */
export type ReadingText = number | boolean | string | readonly [number | boolean | string, number] | null;

/** What changed, and what happened. */
export type ScanLine = {
  readonly ms: number;
  readonly readings?: readonly ReadingText[];
  readonly events?: readonly OperatorEvent[];
  /** Outputs that are on: `true`, or the milliseconds until the rig switches them off. */
  readonly on?: { readonly [output: string]: true | number };
  /** The same for what the rig was given, in a scan where that was something else. */
  readonly given?: { readonly [output: string]: true | number };
  readonly stage?: Progress['stage'];
  readonly waitingFor?: string;
  readonly estimates?: readonly (number | null)[];
  readonly held?: Held;
  readonly trip?: string | null;
  readonly notices?: readonly Notice[];
  readonly ledger?: readonly LedgerEntry[];
  readonly byHand?: readonly HandEntry[];
};

/** JSON has no text for these. */
const ODD = new Set(['NaN', 'Infinity', '-Infinity', '-0']);
export const numberText = (value: number): number | string => {
  if (Object.is(value, -0)) return '-0';
  return Number.isFinite(value) ? value : String(value);
};
export const isOddNumber = (text: string): boolean => ODD.has(text);

/** Nine figures: finer than any converter, and the same on every machine. */
export const nineFigures = (value: number): number => Number(value.toPrecision(9));

const CHECK = /,"crc":"([0-9a-f]{8})"\}$/;

/** Each line carries a checksum of itself and of the line before: what is changed, lost or swapped is found at its place. */
export class Checked {
  #last = 0;

  /** The line with its checksum and its end. */
  sealed(line: object): string {
    const text = JSON.stringify(line);
    this.#last = crc32(text, this.#last);
    return `${text.slice(0, -1)},"crc":"${this.#last.toString(16).padStart(8, '0')}"}\n`;
  }

  /** Whether a line is what was written, after what was written before it. */
  holds(text: string): boolean {
    const written = CHECK.exec(text)?.[1];
    if (written === undefined) return false;
    const found = crc32(text.replace(CHECK, '}'), this.#last);
    // Goes on from what stands there, so that only the line itself is accused.
    this.#last = Number.parseInt(written, 16);
    return found === this.#last;
  }
}
