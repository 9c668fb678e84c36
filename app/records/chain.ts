// The hash chain: each closed job, each entry booked by hand and each piece of upkeep is sealed together with the seal before.
import { createHash } from 'node:crypto';
import { numberIn, type Row, type Store, textIn } from './store.ts';

/** One text for one content: keys in order, no space (after RFC 8785, whose number format is that of JSON.stringify). */
export function canonical(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map((one) => canonical(one ?? null)).join(',')}]`;
  if (value === null || typeof value !== 'object') return JSON.stringify(value) ?? 'null';
  const fields = Object.entries(value)
    .filter(([, one]) => one !== undefined)
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([key, one]) => `${JSON.stringify(key)}:${canonical(one)}`);
  return `{${fields.join(',')}}`;
}

export const digestOf = (content: string | Uint8Array): string =>
  createHash('sha256').update(content).digest('hex');

export const SUBJECTS = ['job', 'ledger', 'upkeep'] as const;
export type Subject = (typeof SUBJECTS)[number];

/** Many rows as one digest, so that a job of a thousand entries is read row by row. */
function digestOfRows(rows: readonly Row[]): string {
  const hash = createHash('sha256');
  for (const row of rows) {
    for (const [name, value] of Object.entries(row)) {
      hash.update(`${name}=`);
      hash.update(value instanceof Uint8Array ? value : canonical(value));
      hash.update('\n');
    }
  }
  return hash.digest('hex');
}

/** What belongs to a closed job besides its row: each is only added to while it is open. */
const PARTS = {
  document: 'SELECT body FROM documents WHERE job = ?',
  equipment: 'SELECT e.digest, e.body FROM equipment e JOIN jobs j ON j.equipment = e.id WHERE j.id = ?',
  calibration:
    'SELECT c.counts_per_kg, c.zero_counts FROM calibrations c JOIN jobs j ON j.calibration = c.id WHERE j.id = ?',
  tank: 'SELECT v.name, v.refrigerant FROM vessels v JOIN jobs j ON j.tank = v.id WHERE j.id = ?',
  journal: 'SELECT * FROM journal WHERE job = ? ORDER BY id',
  ledger: 'SELECT * FROM ledger WHERE job = ? ORDER BY id',
  traces: 'SELECT * FROM traces WHERE job = ? ORDER BY part',
  wear: 'SELECT * FROM wear WHERE job = ?',
  overrides: 'SELECT * FROM overrides WHERE job = ? ORDER BY id',
} as const;

function contentOf(store: Store, subject: Subject, id: number): unknown {
  if (subject === 'upkeep') return store.one('SELECT * FROM upkeep WHERE id = ?', id);
  if (subject === 'ledger') {
    const entry = store.one('SELECT * FROM ledger WHERE id = ?', id);
    const vessels = store.all(
      'SELECT v.name, v.refrigerant FROM vessels v JOIN ledger l ON v.id IN (l.vessel, l.other) WHERE l.id = ? ORDER BY v.id',
      id,
    );
    return entry === undefined ? undefined : { entry, vessels };
  }
  const job = store.one('SELECT * FROM jobs WHERE id = ?', id);
  if (job === undefined) return undefined;
  const parts = Object.entries(PARTS).map(([name, sql]) => [name, digestOfRows(store.all(sql, id))]);
  return { job, ...Object.fromEntries(parts) };
}

const hashOf = (previous: string, subject: Subject, id: number, content: unknown): string =>
  digestOf(canonical({ previous, subject, id, content }));

/** Adds a link; to be called within the transaction that completes what is sealed. */
export function seal(store: Store, subject: Subject, id: number): void {
  const chain = store.one('SELECT length, head FROM chain');
  const position = numberIn(chain, 'length') + 1;
  const hash = hashOf(textIn(chain, 'head'), subject, id, contentOf(store, subject, id));
  store.run(
    'INSERT INTO seals (position, subject, subject_id, hash) VALUES (?, ?, ?, ?)',
    position,
    subject,
    id,
    hash,
  );
  store.run('UPDATE chain SET length = ?, head = ?', position, hash);
}

const UNSEALED: { readonly [S in Subject]: string } = {
  job: "SELECT id FROM jobs WHERE closed_at IS NOT NULL AND id NOT IN (SELECT subject_id FROM seals WHERE subject = 'job')",
  ledger:
    "SELECT id FROM ledger WHERE job IS NULL AND id NOT IN (SELECT subject_id FROM seals WHERE subject = 'ledger')",
  upkeep: "SELECT id FROM upkeep WHERE id NOT IN (SELECT subject_id FROM seals WHERE subject = 'upkeep')",
};

const NAMES: { readonly [S in Subject]: string } = {
  job: 'job',
  ledger: 'ledger entry',
  upkeep: 'upkeep entry',
};

/** What does not agree with the chain, one sentence each. */
export function breaks(store: Store): readonly string[] {
  const found: string[] = [];
  let previous = '';
  let position = 0;
  for (const row of store.all('SELECT position, subject, subject_id, hash FROM seals ORDER BY position')) {
    const subject = textIn(row, 'subject') as Subject;
    const id = numberIn(row, 'subject_id');
    const what = `${NAMES[subject]} ${id}`;
    position += 1;
    if (numberIn(row, 'position') !== position) {
      found.push(`Before ${what} a seal is missing from the chain.`);
      position = numberIn(row, 'position');
    }
    const content = contentOf(store, subject, id);
    if (content === undefined) found.push(`${what}: it was sealed and is gone.`);
    else if (hashOf(previous, subject, id, content) !== textIn(row, 'hash'))
      found.push(`${what}: it was changed, or its place in the order was, after it was sealed.`);
    previous = textIn(row, 'hash');
  }
  const chain = store.one('SELECT length, head FROM chain');
  if (numberIn(chain, 'length') !== position || textIn(chain, 'head') !== previous)
    found.push('The end of the chain is missing: what was sealed last is gone.');
  for (const [subject, sql] of Object.entries(UNSEALED) as [Subject, string][])
    for (const row of store.all(sql))
      found.push(`${NAMES[subject]} ${numberIn(row, 'id')}: it stands there without a seal.`);
  return found;
}
