// What the views of `coldbench records` are given and answer.
import { isGiven, type LedgerLine } from '../records/ledger.ts';
import type { Store } from '../records/store.ts';
import type { UnitSystem, Units } from '../units.ts';
import type { Values } from './records-values.ts';

export const VIEWS = ['list', 'show', 'report', 'ledger', 'upkeep', 'export', 'verify'] as const;
export type View = (typeof VIEWS)[number];
export type RecordsArguments = {
  readonly view: View;
  readonly words: readonly string[];
  readonly values: Values;
  readonly units: UnitSystem;
};

/** A document for --json, and the same for people. */
export type Shown = { readonly json: unknown; readonly lines: readonly string[]; readonly status?: number };

export type ViewInput = RecordsArguments & {
  readonly store: Store;
  readonly shownIn: Units;
  readonly nowMs: number;
};

export const ledgerText = (
  { at, movement, massKg, sdKg, vessel, other, party, note, job }: LedgerLine,
  units: Units,
): string =>
  [
    at.slice(0, 16).replace('T', ' '),
    movement.padEnd(17),
    `${units.charge(massKg).padStart(9)} ± ${units.charge(2 * sdKg)}`.padEnd(22),
    vessel,
    ...(other === undefined ? [] : [`${isGiven(movement) ? '→' : '←'} ${other}`]),
    ...(party === undefined ? [] : [`→ ${party}`]),
    ...(job === undefined ? [] : [`job ${job}`]),
    ...(note === undefined ? [] : [`(${note})`]),
  ].join('  ');
