// Every gram in tanks and cylinders: what was booked, what should be there, and what the scale says instead.
import type { LedgerEntry, Movement } from '../../controller/ledger.ts';
import { seal } from './chain.ts';
import { isEmpty, numberIn, type Row, type Store, textIn } from './store.ts';
import { type Vessel, vesselOf } from './vessels.ts';

/** Booked by a person or by the records themselves, beside what a job weighs. */
export const BOOKED = [
  'stock',
  'bought',
  'transferred',
  'sent-away',
  'vented',
  'unexplained',
  'left-off',
] as const;
export type Booked = (typeof BOOKED)[number];

/** What each movement does to the vessel it is booked on. */
const SIGNS: { readonly [M in Movement | Booked]: 1 | -1 } = {
  'vehicle-to-tank': 1,
  'tank-to-separator': -1,
  'tank-to-vehicle': -1,
  'tank-to-air': -1,
  'hoses-to-tank': 1,
  'cylinder-to-tank': 1,
  stock: 1,
  bought: 1,
  transferred: -1,
  'sent-away': -1,
  vented: -1,
  unexplained: 1,
  'left-off': 1,
};

/** It leaves the vessel that it is booked on. */
export const isGiven = (movement: LedgerLine['movement']): boolean => SIGNS[movement] < 0;

export type LedgerLine = {
  readonly id: number;
  readonly at: string;
  readonly movement: Movement | Booked;
  readonly refrigerant: string;
  readonly massKg: number;
  readonly sdKg: number;
  readonly vessel: string;
  /** Where it went to, or came from, when that is a vessel too. */
  readonly other?: string;
  readonly job?: number;
  /** Who took it or gave it. */
  readonly party?: string;
  readonly note?: string;
};

const LINES = `SELECT l.*, v.name AS vessel_name, o.name AS other_name FROM ledger l
  JOIN vessels v ON v.id = l.vessel LEFT JOIN vessels o ON o.id = l.other`;

function lineOf(row: Row): LedgerLine {
  return {
    id: numberIn(row, 'id'),
    at: textIn(row, 'at'),
    movement: textIn(row, 'movement') as Movement | Booked,
    refrigerant: textIn(row, 'refrigerant'),
    massKg: numberIn(row, 'mass_kg'),
    sdKg: numberIn(row, 'sd_kg'),
    vessel: textIn(row, 'vessel_name'),
    ...(isEmpty(row, 'other_name') ? {} : { other: textIn(row, 'other_name') }),
    ...(isEmpty(row, 'job') ? {} : { job: numberIn(row, 'job') }),
    ...(isEmpty(row, 'party') ? {} : { party: textIn(row, 'party') }),
    ...(isEmpty(row, 'note') ? {} : { note: textIn(row, 'note') }),
  };
}

export const entriesOf = (store: Store, vessel: number, most: number): readonly LedgerLine[] =>
  store
    .all(`${LINES} WHERE l.vessel = ? OR l.other = ? ORDER BY l.id DESC LIMIT ?`, vessel, vessel, most)
    .map(lineOf);

export const entriesBetween = (store: Store, from: string, to: string): readonly LedgerLine[] =>
  store.all(`${LINES} WHERE l.at >= ? AND l.at < ? ORDER BY l.id`, from, to).map(lineOf);

export const entriesOfJob = (store: Store, job: number): readonly LedgerLine[] =>
  store.all(`${LINES} WHERE l.job = ? ORDER BY l.id`, job).map(lineOf);

export type JobBooking = {
  readonly job: number;
  readonly tank: number;
  readonly refrigerant: string;
  readonly calibration: number;
  readonly at: string;
  /** Where what a filled tank gains comes from, if the records know it. */
  readonly cylinder?: number | undefined;
};

/** The hose that hung on the cylinder was filled out of it. */
const OUT_OF_CYLINDER: readonly LedgerLine['movement'][] = ['cylinder-to-tank', 'hoses-to-tank', 'left-off'];

const otherOf = ({ cylinder }: JobBooking, movement: LedgerLine['movement']): number | null =>
  OUT_OF_CYLINDER.includes(movement) ? (cylinder ?? null) : null;

/** What a job has weighed, with the counts it was weighed from. */
export function bookWeighed(store: Store, of: JobBooking, entry: LedgerEntry): void {
  store.run(
    `INSERT INTO ledger (at, movement, refrigerant, mass_kg, sd_kg, vessel, other, job, at_ms, counts_before, counts_after, calibration)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
    of.at,
    entry.movement,
    of.refrigerant,
    entry.massKg,
    entry.sdKg,
    of.tank,
    otherOf(of, entry.movement),
    of.job,
    Math.round(entry.atMs),
    entry.countsBefore,
    entry.countsAfter,
    of.calibration,
  );
}

export type Found = {
  readonly movement: Booked;
  readonly massKg: number;
  readonly sdKg: number;
  readonly counts: number;
  readonly note: string;
};

/** What the scale has found beside everything that was booked. */
export function bookFound(store: Store, of: JobBooking, found: Found): void {
  const { movement, massKg, sdKg, counts, note } = found;
  store.run(
    `INSERT INTO ledger (at, movement, refrigerant, mass_kg, sd_kg, vessel, other, job, counts_after, calibration, note)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
    of.at,
    movement,
    of.refrigerant,
    massKg,
    sdKg,
    of.tank,
    otherOf(of, movement),
    of.job,
    counts,
    of.calibration,
    note,
  );
}

export type ByHand = {
  readonly movement: Exclude<Booked, 'left-off'>;
  readonly vessel: Vessel;
  readonly other?: Vessel | undefined;
  readonly massKg: number;
  readonly sdKg: number;
  readonly party?: string | undefined;
  readonly note?: string | undefined;
  readonly at: string;
};

/** Books and seals what a person says has moved. */
export function bookByHand(store: Store, entry: ByHand): number {
  return store.write(() => {
    const id = store.run(
      `INSERT INTO ledger (at, movement, refrigerant, mass_kg, sd_kg, vessel, other, party, note)
       VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)`,
      entry.at,
      entry.movement,
      entry.vessel.refrigerant,
      entry.massKg,
      entry.sdKg,
      entry.vessel.id,
      entry.other?.id ?? null,
      entry.party ?? null,
      entry.note ?? null,
    );
    seal(store, 'ledger', id);
    return id;
  });
}

const SIGNED = `CASE movement ${Object.entries(SIGNS)
  .map(([movement, sign]) => `WHEN '${movement}' THEN ${sign}`)
  .join(' ')} END * mass_kg`;

export type Balance = {
  readonly vessel: Vessel;
  readonly bookedKg: number;
  /** One standard deviation of what was booked since stock was last taken. */
  readonly sdKg: number;
  /** By the scale when it was last weighed; absent for what never stood on one. */
  readonly weighedKg?: number;
  readonly weighedAt?: string;
  /** Found by the scale beside everything that was booked, added up with its sign. */
  readonly unexplainedKg: number;
  /** The scale's last word less what had been booked by then. */
  readonly differenceKg?: number;
};

/** What should be in a vessel by everything that was booked up to an entry. */
export function bookedKg(store: Store, vessel: number, upTo = Number.MAX_SAFE_INTEGER): number {
  const own = store.one(`SELECT sum(${SIGNED}) AS kg FROM ledger WHERE vessel = ? AND id <= ?`, vessel, upTo);
  const moved = store.one(
    `SELECT sum(${SIGNED}) AS kg FROM ledger WHERE other = ? AND id <= ?`,
    vessel,
    upTo,
  );
  return numberIn(own, 'kg') - numberIn(moved, 'kg');
}

/**
 * What was counted or weighed apart from any job stands instead of what was booked so far: the first of it is stock, and
 * every later one says by how much the books were off.
 */
export function bookCounted(store: Store, { vessel, massKg, ...entry }: Omit<ByHand, 'movement'>): number {
  const known =
    store.one('SELECT 1 FROM ledger WHERE vessel = ?1 OR other = ?1 LIMIT 1', vessel.id) !== undefined;
  return bookByHand(store, {
    ...entry,
    vessel,
    movement: known ? 'unexplained' : 'stock',
    massKg: massKg - bookedKg(store, vessel.id),
  });
}

function balanceOf(store: Store, vessel: Vessel): Balance {
  const sums = store.one(
    `SELECT sum(sd_kg * sd_kg) AS variance FROM ledger WHERE (vessel = ?1 OR other = ?1) AND id >
       coalesce((SELECT max(id) FROM ledger WHERE vessel = ?1 AND movement IN ('stock', 'unexplained')), 0)`,
    vessel.id,
  );
  const found = store.one(
    "SELECT sum(mass_kg) AS kg FROM ledger WHERE vessel = ? AND movement IN ('unexplained', 'left-off')",
    vessel.id,
  );
  const last = store.one(
    `SELECT l.id, l.at, (l.counts_after - c.zero_counts) / c.counts_per_kg AS net_kg FROM ledger l
       JOIN calibrations c ON c.id = l.calibration WHERE l.vessel = ? AND l.counts_after IS NOT NULL ORDER BY l.id DESC LIMIT 1`,
    vessel.id,
  );
  const weighed =
    last === undefined
      ? {}
      : {
          weighedKg: numberIn(last, 'net_kg'),
          weighedAt: textIn(last, 'at'),
          differenceKg: numberIn(last, 'net_kg') - bookedKg(store, vessel.id, numberIn(last, 'id')),
        };
  return {
    vessel,
    bookedKg: bookedKg(store, vessel.id),
    sdKg: Math.sqrt(numberIn(sums, 'variance')),
    unexplainedKg: numberIn(found, 'kg'),
    ...weighed,
  };
}

export const balances = (store: Store): readonly Balance[] =>
  store.all('SELECT * FROM vessels ORDER BY id').map((row) => balanceOf(store, vesselOf(row)));
