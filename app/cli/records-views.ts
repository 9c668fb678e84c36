// What `coldbench records` shows and writes once its arguments are read.
import { STANDARD_ATMOSPHERE_PA } from '../../sim/fluids/air.ts';
import { isoOf, latestMs } from '../records/calendar.ts';
import { breaks } from '../records/chain.ts';
import { amountsBetween, amountsCsv } from '../records/export.ts';
import { type JobRecord, listJobs, openJobs, readJob } from '../records/jobs.ts';
import { openKept, openStore } from '../records/keep.ts';
import { entriesOfJob } from '../records/ledger.ts';
import { type JobLine, UPKEEP_ITEMS, type UpkeepItem } from '../records/lines.ts';
import { reportPage, traceOf } from '../records/report.ts';
import type { Store } from '../records/store.ts';
import { enterUpkeep, scaleVerdict, upkeepOf } from '../records/upkeep.ts';
import { entry } from '../run/printed-entry.ts';
import { type Units, unitsFor } from '../units.ts';
import { InputError, type Terminal } from './command.ts';
import { EXIT } from './exit.ts';
import { suggestion } from './nearest.ts';
import { ledgerView } from './records-ledger.ts';
import { ledgerText, type RecordsArguments, type Shown, type View, type ViewInput } from './records-shown.ts';
import { amount, day, needed, until, type Values, whole } from './records-values.ts';

const mass = (massKg: number | undefined, units: Units): string =>
  (massKg === undefined ? '–' : units.charge(massKg)).padStart(9);

const jobLine = (job: JobLine, units: Units): string =>
  [
    String(job.id).padStart(6),
    job.openedAt.slice(0, 16).replace('T', ' '),
    (job.outcome ?? 'open').padEnd(9),
    job.service.padEnd(19),
    job.refrigerant.padEnd(9),
    `out ${mass(job.recoveredKg, units)}`,
    `in ${mass(job.chargedKg, units)}`,
    job.name,
  ].join('  ');

function list({ store, words, values, shownIn }: ViewInput): Shown {
  const from = day(values, 'from');
  const to = until(values, 'to');
  const most = whole(values.get('most'), '--most') ?? 50;
  const search = {
    words,
    most,
    ...(from === undefined ? {} : { from }),
    ...(to === undefined ? {} : { to }),
  };
  const jobs = listJobs(store, search);
  const lines = jobs.map((job) => jobLine(job, shownIn));
  return { json: jobs, lines: lines.length === 0 ? ['No job is kept that fits.'] : lines };
}

/** @throws InputError where none is named, or there is none of that number. */
function jobFrom(store: Store, words: readonly string[]): JobRecord {
  const id = whole(words[0], 'the number of the job');
  if (id === undefined) throw new InputError("say which job: 'coldbench records list' has their numbers");
  const record = readJob(store, id);
  if (record === undefined)
    throw new InputError(`there is no job ${id}; 'coldbench records list' has what there is`);
  return record;
}

function show({ store, words, shownIn }: ViewInput): Shown {
  const record = jobFrom(store, words);
  const id = record.line.id;
  const { line, document } = record;
  const ledger = entriesOfJob(store, id);
  const overrides = store.all('SELECT at_ms, what, reason FROM overrides WHERE job = ? ORDER BY id', id);
  const lines = [
    ...entry('Job', `${line.id}, ${line.name}`),
    ...entry('Machine', line.machine),
    ...entry(
      'Asked for',
      `${line.service}, ${line.refrigerant}${line.service === 'fill-tank' ? '' : `, nominal charge ${shownIn.charge(line.nominalKg)}`}`,
    ),
    ...entry('Begun', line.openedAt),
    ...entry(
      'Closed',
      line.closedAt === undefined
        ? "still open; 'coldbench resume' shows it"
        : `${line.closedAt}, ${line.outcome}`,
    ),
    ...ledger.map((one) => ledgerText(one, shownIn)),
    ...overrides.map(({ what, reason }) => `overridden: ${what}: ${reason}`),
  ];
  return { json: { ...line, document, ledger, overrides }, lines };
}

function report({ store, words, values, shownIn }: ViewInput): Shown {
  const record = jobFrom(store, words);
  const csv = traceOf(store, record.line.id);
  const ledger = entriesOfJob(store, record.line.id);
  const page = values.has('csv') ? csv : reportPage(record, ledger, csv, shownIn);
  return { json: { ...record.line, document: record.document, ledger }, lines: [page.trimEnd()] };
}

function machineOf({ store, values }: ViewInput): string {
  const known = store.all('SELECT name FROM machines ORDER BY name').map(({ name }) => String(name));
  const given = values.get('machine') ?? (known.length === 1 ? known[0] : undefined);
  if (given === undefined)
    throw new InputError(
      known.length === 0
        ? 'no machine is known yet: it is once it has done a job'
        : `--machine is missing; known: ${known.join(', ')}`,
    );
  if (!known.includes(given)) throw new InputError(`--machine ${given}: ${suggestion(given, known)}`);
  return given;
}

function upkeepVerdict(item: UpkeepItem, values: Values) {
  if (item !== 'scale-weights')
    return { verdict: values.has('failed') ? ('failed' as const) : ('done' as const), figures: {} };
  const weightKg = needed(amount(values, 'weight-kg'), 'weight-kg');
  const readKg = needed(amount(values, 'read-kg'), 'read-kg');
  const stepG = needed(amount(values, 'step-g'), 'step-g');
  return { verdict: scaleVerdict(weightKg, readKg, stepG), figures: { weightKg, readKg, stepG } };
}

function upkeep(input: ViewInput): Shown {
  const { store, values, nowMs } = input;
  const machine = machineOf(input);
  const done = values.get('done');
  const written: string[] = [];
  if (done !== undefined) {
    const item = UPKEEP_ITEMS.find((known) => known === done);
    if (item === undefined) throw new InputError(`--done ${done}: ${suggestion(done, UPKEEP_ITEMS)}`);
    const { verdict, figures } = upkeepVerdict(item, values);
    enterUpkeep(store, { machine, at: isoOf(nowMs), item, verdict, figures, note: values.get('note') });
    written.push(`Written down: ${item}, ${verdict}.`);
  }
  const states = upkeepOf(store, machine, latestMs(store, nowMs));
  const lines = states.flatMap(({ title, standing, since, how, lastAt }) => [
    ...entry(
      standing,
      `${title}${since === '' ? '' : `: ${since}`}; ${lastAt === undefined ? 'not noted so far, counted from its first job' : `last ${lastAt.slice(0, 10)}`}`,
    ),
    ...(standing === 'in order' ? [] : entry('', `→ ${how}`)),
  ]);
  return { json: { machine, upkeep: states }, lines: [...written, machine, ...lines] };
}

function amounts({ store, values, shownIn }: ViewInput): Shown {
  const from = needed(day(values, 'from'), 'from');
  const to = needed(until(values, 'to'), 'to');
  const found = amountsBetween(store, from, to);
  if (values.has('csv'))
    return { json: found, lines: amountsCsv(found, [from, needed(values.get('to'), 'to')]) };
  const lines = found.amounts.map(
    (row) =>
      `${row.refrigerant}: recovered ${shownIn.content(row.recoveredKg)}, charged ${shownIn.content(row.chargedKg)}, ` +
      `bought ${shownIn.content(row.boughtKg)}, sent away ${shownIn.content(row.sentAwayKg)}, ` +
      `released ${shownIn.content(row.releasedKg)}, unexplained ${shownIn.content(row.unexplainedKg)}`,
  );
  return {
    json: found,
    lines: [...lines, ...found.sentAway.map((one) => ledgerText(one, shownIn)), found.note],
  };
}

function verify({ store }: ViewInput): Shown {
  const damage = store.damage();
  const found = damage.length > 0 ? [] : breaks(store);
  const open = openJobs(store).map(({ id }) => id);
  const sound = damage.length === 0 && found.length === 0;
  const lines = [
    ...damage.map((text) => `The file is damaged: ${text}`),
    ...found,
    sound ? 'The file is whole, and every seal holds.' : 'See docs/records.md for what to do.',
    ...(open.length === 0 ? [] : [`Still open, and not sealed: job ${open.join(', ')}.`]),
  ];
  return {
    json: { sound, damage, breaks: found, open },
    lines,
    status: sound ? EXIT.completed : EXIT.stopped,
  };
}

const SHOW: { readonly [V in View]: (input: ViewInput) => Shown } = {
  list,
  show,
  report,
  ledger: ledgerView,
  upkeep,
  export: amounts,
  verify,
};

/** What may be the first thing in a new file. */
const WRITING = ['add-cylinder', 'book', 'done'] as const;

export function showRecords(given: RecordsArguments, terminal: Terminal): number {
  const open = WRITING.some((option) => given.values.has(option)) ? openStore : openKept;
  const store = open(given.values.get('records'));
  try {
    const shownIn = unitsFor(given.units, STANDARD_ATMOSPHERE_PA);
    const { json, lines, status } = SHOW[given.view]({ ...given, store, shownIn, nowMs: Date.now() });
    terminal.out(
      given.values.has('json') ? `${JSON.stringify(json, undefined, 2)}\n` : `${lines.join('\n')}\n`,
    );
    return status ?? EXIT.completed;
  } finally {
    store.close();
  }
}
