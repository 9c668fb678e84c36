// The record of a job as one HTML page that prints on A4 and Letter: what was found, every entry, plots, cautions.
import { inflateSync } from 'node:zlib';
import type { Ticket } from '../../controller/ticket.ts';
import { CAUTIONS, CAUTIONS_SIMULATED } from '../run/printed-cautions.ts';
import { toldOnce, worthSaying } from '../run/told-once.ts';
import { toldIn } from '../told.ts';
import { toMicrons, toOunces, toPsi, type Units } from '../units.ts';
import { escaped, page, rowsOf } from './html.ts';
import type { JobRecord } from './jobs.ts';
import type { LedgerLine } from './ledger.ts';
import { type Plot, type Point, svgOf, THIRD } from './plot.ts';
import { bytesIn, type Store } from './store.ts';

/** The whole trace of a job as CSV; the empty text where there is none. Parts after a resume have their own header. */
export function traceOf(store: Store, job: number): string {
  const parts = store
    .all('SELECT rows FROM traces WHERE job = ? ORDER BY part', job)
    .map((row) => inflateSync(bytesIn(row, 'rows')).toString('utf8'));
  const [header = '', ...rows] = parts.join('').split('\n');
  return [header, ...rows.filter((row) => row !== header)].join('\n');
}

type Columns = { readonly rows: readonly (readonly string[])[]; readonly at: (name: string) => number };

function columnsOf(csv: string): Columns {
  const [header = '', ...rows] = csv.trimEnd().split('\n');
  const names = header.split(',');
  // Texts are quoted and may hold commas.
  const split = (row: string): readonly string[] =>
    row.match(/("([^"]|"")*"|[^,]*)(,|$)/g)?.map((cell) => cell.replace(/,$/, '')) ?? [];
  return { rows: rows.map(split), at: (name) => names.findIndex((known) => known.split(' [')[0] === name) };
}

const HOLD = ['hold'];

function pointsOf(
  { rows, at }: Columns,
  name: string,
  scale: (value: number) => number,
  stages?: readonly string[],
): readonly Point[] {
  const [column, stage] = [at(name), at('stage')];
  if (column < 0) return [];
  return rows
    .filter((row) => row[column] !== '' && (stages === undefined || stages.includes(row[stage] ?? '')))
    .map((row) => [Number(row[0]) / 60, scale(Number(row[column]))] as const)
    .filter(([x, y]) => Number.isFinite(x) && Number.isFinite(y));
}

function plotsOf(csv: string, { equipment }: JobRecord, units: Units): readonly Plot[] {
  const columns = columnsOf(csv);
  const us = units.system === 'us';
  const pressure = (pa: number): number => (us ? toPsi(pa) : pa / 1e5);
  const vacuum = (pa: number): number => (us ? toMicrons(pa) : pa);
  const { zeroCounts, countsPerKg } = equipment.scale;
  const tank = (counts: number): number => {
    const kg = (counts - zeroCounts) / countsPerKg;
    return us ? toOunces(kg) / 16 : kg;
  };
  const xUnit = 'minutes of the job';
  return [
    {
      title: 'Tank by the scale',
      xUnit,
      yUnit: us ? 'lb' : 'kg',
      curves: [{ name: 'tank', points: pointsOf(columns, 'scale', tank) }],
    },
    {
      title: 'Pressures of the hoses',
      xUnit,
      yUnit: us ? 'psi absolute' : 'bar absolute',
      curves: [
        { name: 'high side', points: pointsOf(columns, 'highSidePressure', pressure) },
        { name: 'low side', points: pointsOf(columns, 'lowSidePressure', pressure) },
      ],
    },
    {
      title: 'Vacuum hold',
      xUnit,
      yUnit: us ? 'micron' : 'Pa',
      curves: [{ name: 'manifold', points: pointsOf(columns, 'manifoldPressure', vacuum, HOLD) }],
    },
  ];
}

type Noticed = {
  readonly code: string;
  readonly atS: number;
  readonly text: string;
  readonly remedy: string;
};

/** To the minute, UTC. */
const minuteOf = (at: string): string => escaped(at.slice(0, 16).replace('T', ' '));

/** What a tank holds reads better in kilograms or pounds than in grams or ounces. */
const LARGE_KG = 2;
const massOf = (massKg: number, units: Units): string =>
  Math.abs(massKg) < LARGE_KG ? units.charge(massKg) : units.content(massKg);

const noteRow = (note: string | undefined): string =>
  note === undefined || note === '' ? '' : `\n<tr><td></td><td colspan="2">${escaped(note)}</td></tr>`;

const minutes = ({ atS }: Noticed): string => `${(atS / 60).toFixed(1)} min`;

function ledgerTable(ledger: readonly LedgerLine[], units: Units): string {
  const rows = ledger.map(
    ({ at, movement, massKg, sdKg, other, note }) =>
      `<tr><td>${minuteOf(at)}</td><td>${escaped(movement.replaceAll('-', ' ') + (other === undefined ? '' : `, ${other}`))}</td>` +
      `<td class="number">${massOf(massKg, units)} ± ${units.charge(2 * sdKg)}</td></tr>${noteRow(note)}`,
  );
  return `<table class="grid"><tr><th>written</th><th>movement</th><th class="number">mass (k = 2)</th></tr>\n${rows.join('\n')}</table>`;
}

const supplyOf = ({ cylinderName }: Ticket): string =>
  cylinderName === undefined ? 'a supply cylinder' : `the supply cylinder '${cylinderName}'`;

const given = (name: string, value: string | undefined): readonly (readonly [string, string])[] =>
  value === undefined ? [] : [[name, value]];

type Told = {
  readonly notices?: readonly Noticed[];
  readonly hold?: { readonly verdict: string; readonly cause?: string };
  readonly evacuation?: { readonly lowestPa: number; readonly minutes: number };
  readonly masses?: { readonly uncertaintyG?: number };
};

/** The page, complete and without anything from elsewhere. */
export function reportPage(
  record: JobRecord,
  ledger: readonly LedgerLine[],
  csv: string,
  units: Units,
): string {
  const { line, ticket, equipment, origin, document } = record;
  const told = (document ?? {}) as Told;
  const { hold, evacuation, masses = {}, notices = [] } = told;
  const facts = [
    ['Job', `${line.id}: ${line.name}`],
    [
      'Outcome',
      `${line.outcome ?? 'still open'}; begun ${minuteOf(line.openedAt)}${line.closedAt === undefined ? '' : `, closed ${minuteOf(line.closedAt)}`} UTC`,
    ],
    ['Machine', `${line.machine}, equipment '${equipment.name}'`],
    [
      'Asked for',
      line.service === 'fill-tank'
        ? `${line.service}, ${line.refrigerant}, out of ${supplyOf(ticket)}`
        : `${line.service}, ${line.refrigerant}, nominal charge ${units.charge(line.nominalKg)}; system ${ticket.opened ? 'opened' : 'not opened'}, ${ticket.oil.kind} oil`,
    ],
    ...given('Recovered', line.recoveredKg === undefined ? undefined : units.charge(line.recoveredKg)),
    ...given(
      'Vacuum',
      evacuation === undefined
        ? undefined
        : `${evacuation.minutes.toFixed(0)} min, lowest ${units.vacuum(evacuation.lowestPa)}`,
    ),
    ...given(
      'Hold',
      hold === undefined
        ? undefined
        : `${hold.verdict}${hold.cause === undefined ? '' : ` (${hold.cause})`}; a vacuum hold finds gross leaks only`,
    ),
    ...given(
      'In vehicle',
      line.chargedKg === undefined
        ? undefined
        : `${units.charge(line.chargedKg)}${masses.uncertaintyG === undefined ? '' : ` ± ${units.charge(masses.uncertaintyG / 1000)} (k = 2)`}`,
    ),
  ] as const;
  const remarks = toldOnce(notices).map(({ first, times, last }) => {
    const again = times === 1 ? '' : ` (${times} times, last at ${minutes(last)})`;
    const remedy = worthSaying(first);
    return `<p><b>${minutes(first)}</b> ${escaped(toldIn(units, first.text))}${again}${remedy === undefined ? '' : ` → ${escaped(toldIn(units, remedy))}`}</p>`;
  });
  const plots = csv === '' ? [] : plotsOf(csv, record, units).map((plot) => svgOf(plot, THIRD));
  const cautions = origin.kind === 'simulated' ? CAUTIONS_SIMULATED : CAUTIONS;
  return page(
    `Job ${line.id}: ${line.name}`,
    `<h1>Record of job ${line.id}</h1>
<div class="halves"><table>${rowsOf(facts)}</table>
<div><h2>Ledger</h2>
${ledgerTable(ledger, units)}</div></div>
<h2>Course of the job</h2>
<div class="thirds">${plots.join('\n')}</div>
${remarks.length === 0 ? '' : `<h2>Notices</h2>\n<div class="notices">${remarks.join('\n')}</div>`}
<div class="cautions">${cautions.map(escaped).join(' ')}</div>`,
  );
}
