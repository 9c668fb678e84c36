// Amounts of refrigerant over a range of dates, with the fields that authorities ask for.
import { entriesBetween, type LedgerLine } from './ledger.ts';
import type { Store } from './store.ts';

const LOCAL_FIRST =
  'Local rules come first: what must be kept, for how long and in which form was not checked for any place.';

/**
 * 40 CFR 82.42(b): name and address of the facility that recovered refrigerant is sent to; three years, on site.
 * Regulation (EU) 2024/573: quantity and type of gas added, recovered and sent for reclamation or destruction (from memory).
 */
export type AmountRow = {
  readonly refrigerant: string;
  readonly recoveredKg: number;
  readonly chargedKg: number;
  readonly boughtKg: number;
  readonly sentAwayKg: number;
  readonly releasedKg: number;
  readonly unexplainedKg: number;
};

export type AmountsExport = {
  readonly from: string;
  readonly to: string;
  readonly amounts: readonly AmountRow[];
  /** US: where recovered refrigerant went. */
  readonly sentAway: readonly LedgerLine[];
  readonly entries: readonly LedgerLine[];
  readonly note: string;
};

const KINDS: { readonly [K in Exclude<keyof AmountRow, 'refrigerant'>]: readonly string[] } = {
  recoveredKg: ['vehicle-to-tank', 'hoses-to-tank'],
  chargedKg: ['tank-to-vehicle'],
  boughtKg: ['bought'],
  sentAwayKg: ['sent-away'],
  releasedKg: ['tank-to-air', 'vented'],
  unexplainedKg: ['unexplained', 'left-off'],
};

function amountsOf(refrigerant: string, entries: readonly LedgerLine[]): AmountRow {
  const own = entries.filter((entry) => entry.refrigerant === refrigerant);
  const sums = Object.entries(KINDS).map(([name, movements]) => [
    name,
    own.filter(({ movement }) => movements.includes(movement)).reduce((sum, { massKg }) => sum + massKg, 0),
  ]);
  return { refrigerant, ...(Object.fromEntries(sums) as Omit<AmountRow, 'refrigerant'>) };
}

export function amountsBetween(store: Store, from: string, to: string): AmountsExport {
  const entries = entriesBetween(store, from, to);
  const refrigerants = [...new Set(entries.map(({ refrigerant }) => refrigerant))].sort();
  return {
    from,
    to,
    amounts: refrigerants.map((refrigerant) => amountsOf(refrigerant, entries)),
    sentAway: entries.filter(({ movement }) => movement === 'sent-away'),
    entries,
    note: LOCAL_FIRST,
  };
}

const AMOUNTS = Object.keys(KINDS) as readonly (keyof typeof KINDS)[];

/** A tenth of a gram, finer than any weighing. */
const shownKg = (massKg: number): string => String(Number(massKg.toFixed(4)));

/**
 * A line for each refrigerant, always SI; no name of a refrigerant has a comma in it.
 * @param days first and last day, as they were asked for.
 */
export const amountsCsv = (
  { amounts }: AmountsExport,
  days: readonly [first: string, last: string],
): readonly string[] => [
  ['from', 'to', 'refrigerant', ...AMOUNTS].join(),
  ...amounts.map((row) => [...days, row.refrigerant, ...AMOUNTS.map((name) => shownKg(row[name]))].join()),
];
