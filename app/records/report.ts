// The record of a job as one HTML page that prints on A4 and Letter: what was found, every entry, plots, cautions.
import { inflateSync } from 'node:zlib';
import { CAUTIONS, CAUTIONS_SIMULATED } from '../run/printed-cautions.ts';
import { toMicrons, toOunces, toPsi, type Units } from '../units.ts';
import type { JobRecord } from './jobs.ts';
import type { LedgerLine } from './ledger.ts';
import { type Plot, type Point, svgOf } from './plot.ts';
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

const escaped = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;');

const rowsOf = (pairs: readonly (readonly [string, string])[]): string =>
  pairs.map(([name, value]) => `<tr><th>${escaped(name)}</th><td>${escaped(value)}</td></tr>`).join('\n');

type Noticed = { readonly atS: number; readonly text: string; readonly remedy: string };

const STYLE = `
@page { margin: 12mm }
* { box-sizing: border-box }
body { font: 10pt/1.35 system-ui, sans-serif; color: #111; max-width: 186mm; margin: 0 auto; padding: 4mm }
h1 { font-size: 15pt; margin: 0 0 2mm; border-bottom: 1.5pt solid #111 }
h2 { font-size: 11pt; margin: 4mm 0 1mm }
table { border-collapse: collapse; width: 100% }
th, td { text-align: left; vertical-align: top; padding: 0.4mm 2mm 0.4mm 0; overflow-wrap: anywhere }
th { width: 34mm; font-weight: 600 }
.ledger th, .ledger td { border-bottom: 0.4pt solid #bbb; width: auto }
.number { text-align: right; white-space: nowrap }
svg { width: 100%; height: auto; break-inside: avoid; display: block; margin: 1mm 0 }
svg text { font: 11px system-ui, sans-serif; fill: #222 }
svg .title { font-weight: 600 }
svg .grid { stroke: #ddd }
.cautions { border: 1pt solid #111; padding: 2mm; margin-top: 4mm; font-size: 8.5pt; break-inside: avoid }
.tampered { border: 2pt solid #a00; padding: 2mm; color: #a00 }
`;

function ledgerTable(ledger: readonly LedgerLine[], units: Units): string {
  const rows = ledger.map(
    ({ at, movement, massKg, sdKg, note }) =>
      `<tr><td>${escaped(at.slice(0, 16).replace('T', ' '))}</td><td>${escaped(movement.replaceAll('-', ' '))}</td>` +
      `<td class="number">${units.charge(massKg)} ± ${units.charge(2 * sdKg)}</td><td>${escaped(note ?? '')}</td></tr>`,
  );
  return `<table class="ledger"><tr><th>written</th><th>movement</th><th class="number">mass (k = 2)</th><th></th></tr>\n${rows.join('\n')}</table>`;
}

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
      `${line.outcome ?? 'still open'}, begun ${line.openedAt}${line.closedAt === undefined ? '' : `, closed ${line.closedAt}`}`,
    ],
    ['Machine', `${line.machine}, equipment '${equipment.name}'`],
    [
      'Asked for',
      `${line.service}, ${line.refrigerant}, nominal charge ${units.charge(line.nominalKg)}; system ${ticket.opened ? 'opened' : 'not opened'}, ${ticket.oil.kind} oil`,
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
  const remarks = notices.map(({ atS, text, remedy }): readonly [string, string] => [
    `${(atS / 60).toFixed(1)} min`,
    `${text} → ${remedy}`,
  ]);
  const plots = csv === '' ? [] : plotsOf(csv, record, units).map(svgOf);
  const cautions = origin.kind === 'simulated' ? CAUTIONS_SIMULATED : CAUTIONS;
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>Job ${line.id}: ${escaped(line.name)}</title><style>${STYLE}</style></head>
<body><h1>Record of job ${line.id}</h1>
<table>${rowsOf(facts)}</table>
<h2>Ledger</h2>
${ledgerTable(ledger, units)}
<h2>Course of the job</h2>
${plots.join('\n')}
${remarks.length === 0 ? '' : `<h2>Notices</h2>\n<table>${rowsOf(remarks)}</table>`}
<div class="cautions">${cautions.map(escaped).join(' ')}</div>
</body></html>
`;
}
