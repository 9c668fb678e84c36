// Jobs in the store: opened before anything moves, closed once and for good, listed, searched and read.
import type { Equipment } from '../../controller/equipment.ts';
import type { Plan } from '../../controller/plan.ts';
import type { Ticket } from '../../controller/ticket.ts';
import { InputError } from '../cli/command.ts';
import { canonical, digestOf, seal } from './chain.ts';
import { thisProcess } from './holder.ts';
import type { JobLine } from './lines.ts';
import { isEmpty, numberIn, type Row, type Store, textIn } from './store.ts';
import { onScaleOf } from './vessels.ts';

/** Where a job was done: what a resume needs beside the records. */
export type Origin =
  /** `scenario` is what the bench is made of, in SI, as JSON keeps it. */
  | { readonly kind: 'simulated'; readonly scenario: unknown; readonly source: string }
  | { readonly kind: 'rig'; readonly port: string; readonly file: string };

export type Opening = {
  readonly name: string;
  readonly machine: string;
  readonly ticket: Ticket;
  readonly equipment: Equipment;
  readonly plan: Plan;
  readonly origin: Origin;
};

const COLUMNS =
  'id, name, service, refrigerant, nominal_kg, machine, opened_at, closed_at, outcome, recovered_kg, charged_kg';

function lineOf(row: Row): JobLine {
  const closed = isEmpty(row, 'closed_at') ? {} : { closedAt: textIn(row, 'closed_at') };
  const outcome = isEmpty(row, 'outcome') ? {} : { outcome: textIn(row, 'outcome') };
  return {
    id: numberIn(row, 'id'),
    name: textIn(row, 'name'),
    service: textIn(row, 'service'),
    refrigerant: textIn(row, 'refrigerant'),
    nominalKg: numberIn(row, 'nominal_kg'),
    machine: textIn(row, 'machine'),
    openedAt: textIn(row, 'opened_at'),
    ...closed,
    ...outcome,
    ...(isEmpty(row, 'recovered_kg') ? {} : { recoveredKg: numberIn(row, 'recovered_kg') }),
    ...(isEmpty(row, 'charged_kg') ? {} : { chargedKg: numberIn(row, 'charged_kg') }),
  };
}

function addMachine(store: Store, machine: string, simulated: boolean, at: string): void {
  store.run(
    'INSERT INTO machines (name, first_seen, simulated) VALUES (?, ?, ?) ON CONFLICT DO NOTHING',
    machine,
    at,
    simulated ? 1 : 0,
  );
}

function equipmentId(store: Store, machine: string, equipment: Equipment, at: string): number {
  const body = canonical(equipment);
  const digest = digestOf(body);
  store.run(
    'INSERT INTO equipment (machine, digest, body, first_seen) VALUES (?, ?, ?, ?) ON CONFLICT DO NOTHING',
    machine,
    digest,
    body,
    at,
  );
  const row = store.one('SELECT id FROM equipment WHERE machine = ? AND digest = ?', machine, digest);
  return numberIn(row, 'id');
}

function calibrationId(store: Store, machine: string, { scale }: Equipment, at: string): number {
  const { countsPerKg, zeroCounts } = scale;
  store.run(
    'INSERT INTO calibrations (machine, counts_per_kg, zero_counts, first_seen) VALUES (?, ?, ?, ?) ON CONFLICT DO NOTHING',
    machine,
    countsPerKg,
    zeroCounts,
    at,
  );
  const row = store.one(
    'SELECT id FROM calibrations WHERE machine = ? AND counts_per_kg = ? AND zero_counts = ?',
    machine,
    countsPerKg,
    zeroCounts,
  );
  return numberIn(row, 'id');
}

export type OpenedJob = { readonly id: number; readonly calibration: number; readonly tank: number };

/** Opens a job; what the machine is and what stands on its scale is noted where it is new. */
export function openJobRecord(store: Store, opening: Opening, at: string): OpenedJob {
  const { machine, equipment, ticket, origin } = opening;
  return store.write(() => {
    addMachine(store, machine, origin.kind === 'simulated', at);
    const calibration = calibrationId(store, machine, equipment, at);
    const tank = onScaleOf(store, machine, equipment.tank, at);
    const id = store.run(
      `INSERT INTO jobs (name, service, refrigerant, nominal_kg, machine, opened_at, holder, equipment, calibration,
         tank, ticket, origin, plan) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
      opening.name,
      ticket.service,
      ticket.refrigerant,
      ticket.nominalChargeKg,
      machine,
      at,
      thisProcess(),
      equipmentId(store, machine, equipment, at),
      calibration,
      tank,
      canonical(ticket),
      canonical(origin),
      JSON.stringify(opening.plan),
    );
    return { id, calibration, tank };
  });
}

/** From now on this process is at it. @throws InputError where another one was quicker. */
export function takeJob(store: Store, { line: { id }, holder }: Pick<JobRecord, 'line' | 'holder'>): void {
  const taken = store.one(
    'UPDATE jobs SET holder = ? WHERE id = ? AND holder = ? AND closed_at IS NULL RETURNING id',
    thisProcess(),
    id,
    holder,
  );
  if (taken === undefined)
    throw new InputError(`job ${id} was closed or taken up by another process meanwhile; look again`);
}

export type Closing = {
  readonly outcome: string;
  readonly recoveredKg: number | undefined;
  readonly chargedKg: number | undefined;
  /** The whole record, as JSON keeps it. */
  readonly document: unknown;
  readonly wear: Wear;
};

/** What a job has used up of the machine. */
export type Wear = {
  readonly pumpS: number;
  /** What has gone through the filter-drier. */
  readonly drawnKg: number;
  /** Water was found in the vehicle: the pump's oil has had its share. */
  readonly wet: boolean;
};

/** Closes a job and seals it: from then on nothing of it can be changed without being found. */
export function closeJobRecord(store: Store, id: number, closing: Closing, at: string): void {
  store.write(() => {
    const { wear } = closing;
    store.run('INSERT INTO documents (job, body) VALUES (?, ?)', id, canonical(closing.document));
    store.run(
      'INSERT INTO wear (job, machine, at, pump_s, drawn_kg, wet) SELECT id, machine, ?, ?, ?, ? FROM jobs WHERE id = ?',
      at,
      wear.pumpS,
      wear.drawnKg,
      wear.wet ? 1 : 0,
      id,
    );
    store.run('DELETE FROM checkpoints WHERE job = ?', id);
    store.run('DELETE FROM worlds WHERE job = ?', id);
    store.run(
      'UPDATE jobs SET closed_at = ?, outcome = ?, recovered_kg = ?, charged_kg = ? WHERE id = ?',
      at,
      closing.outcome,
      closing.recoveredKg ?? null,
      closing.chargedKg ?? null,
      id,
    );
    seal(store, 'job', id);
  });
}

export type Search = {
  /** In name, refrigerant, service, machine or outcome; all of the words. */
  readonly words?: readonly string[];
  readonly from?: string;
  readonly to?: string;
  readonly most?: number;
};

const FIELDS =
  "name || ' ' || refrigerant || ' ' || service || ' ' || machine || ' ' || coalesce(outcome, 'open')";
const escaped = (word: string): string => `%${word.replace(/[\\%_]/g, '\\$&')}%`;

/** The newest first. */
export function listJobs(store: Store, { words = [], from, to, most = 50 }: Search): readonly JobLine[] {
  const matching = words.map(() => `${FIELDS} LIKE ? ESCAPE '\\'`).join(' AND ');
  const conditions = [
    ...(words.length === 0 ? [] : [`id IN (SELECT id FROM jobs INDEXED BY jobs_searched WHERE ${matching})`]),
    ...(from === undefined ? [] : ['opened_at >= ?']),
    ...(to === undefined ? [] : ['opened_at < ?']),
  ];
  const where = conditions.length === 0 ? '' : `WHERE ${conditions.join(' AND ')}`;
  const values = [...words.map(escaped), ...[from, to].filter((time) => time !== undefined), most];
  return store.all(`SELECT ${COLUMNS} FROM jobs ${where} ORDER BY id DESC LIMIT ?`, ...values).map(lineOf);
}

export type JobRecord = {
  readonly line: JobLine;
  readonly origin: Origin;
  readonly ticket: Ticket;
  readonly equipment: Equipment;
  readonly holder: string;
  readonly calibration: number;
  readonly tank: number;
  readonly plan: string;
  /** Absent while the job is open. */
  readonly document?: unknown;
};

export function readJob(store: Store, id: number): JobRecord | undefined {
  const row = store.one(
    `SELECT j.*, e.body AS equipment_body, d.body AS document FROM jobs j JOIN equipment e ON e.id = j.equipment
       LEFT JOIN documents d ON d.job = j.id WHERE j.id = ?`,
    id,
  );
  if (row === undefined) return undefined;
  return {
    line: lineOf(row),
    origin: JSON.parse(textIn(row, 'origin')) as Origin,
    ticket: JSON.parse(textIn(row, 'ticket')) as Ticket,
    equipment: JSON.parse(textIn(row, 'equipment_body')) as Equipment,
    holder: textIn(row, 'holder'),
    calibration: numberIn(row, 'calibration'),
    tank: numberIn(row, 'tank'),
    plan: textIn(row, 'plan'),
    ...(isEmpty(row, 'document') ? {} : { document: JSON.parse(textIn(row, 'document')) as unknown }),
  };
}

export const openJobs = (store: Store): readonly JobLine[] =>
  store.all(`SELECT ${COLUMNS} FROM jobs WHERE closed_at IS NULL ORDER BY id`).map(lineOf);
