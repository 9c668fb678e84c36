// A recording as a value change dump (IEEE 1364-2005, clause 18), for any viewer of waveforms: outputs with the edges of
// their countdowns between two scans, switches, readings, stage and trip.
import { MEASURED, OUTPUTS, SWITCHES } from '../../controller/signals.ts';
import { type Edge, Handed, RecordedRig } from '../../hardware/recorded.ts';
import manifest from '../../package.json' with { type: 'json' };
import { TextFile } from '../cli/text-file.ts';
import type { Export, ExportTo } from './export.ts';
import type { Opening, RecordedScan } from './recording.ts';

/** Countdowns have no whole number of milliseconds. */
const TICKS_PER_MS = 1000;
const TIMESCALE = '1 us';

/** Shown after the last scan. */
const LAST_MS = 1_000;

/** Texts are vectors of ASCII, which every viewer can show as such: names of stages and of rows are shorter. */
const TEXT_BYTES = 16;

/** Identifiers of printable characters, clause 18.2.1: '!', '"', … */
const FIRST_ID = 33;
const IDS = 94;
function idOf(index: number): string {
  const digit = String.fromCharCode(FIRST_ID + (index % IDS));
  return index < IDS ? digit : idOf(Math.floor(index / IDS) - 1) + digit;
}

type Variable = {
  readonly scope: string;
  readonly name: string;
  /** As it is declared: type and size in bits. */
  readonly type: string;
};

const wire = (scope: string, name: string): Variable => ({ scope, name, type: 'wire 1' });

const VARIABLES: readonly Variable[] = [
  ...OUTPUTS.map((name) => wire('outputs', name)),
  ...SWITCHES.map((name) => wire('switches', name)),
  { scope: 'job', name: 'stage', type: `reg ${8 * TEXT_BYTES}` },
  { scope: 'job', name: 'trip', type: `reg ${8 * TEXT_BYTES}` },
  ...MEASURED.map((name) => ({ scope: 'readings', name, type: 'real 64' })),
  ...MEASURED.map((name) => wire('has_reading', name)),
];
const IDENTIFIERS: ReadonlyMap<string, string> = new Map(
  VARIABLES.map(({ scope, name }, index) => [`${scope}.${name}`, idOf(index)]),
);

const bit = (on: boolean): string => (on ? '1' : '0');
const ascii = (text: string): string =>
  `b${[...Buffer.from(text.slice(0, TEXT_BYTES).padStart(TEXT_BYTES, '\0'), 'latin1')]
    .map((byte) => byte.toString(2).padStart(8, '0'))
    .join('')
    .replace(/^0+(?=.)/, '')} `;

/** Nothing that ends a declaration. */
const commented = (text: string): string => text.replaceAll('$', '');

function header({ name, rig }: Opening): string {
  const scopes = [...new Set(VARIABLES.map(({ scope }) => scope))].map((scope) => {
    const own = VARIABLES.filter((variable) => variable.scope === scope);
    const declared = own.map(
      ({ name: called, type }) => `$var ${type} ${IDENTIFIERS.get(`${scope}.${called}`)} ${called} $end`,
    );
    return [`$scope module ${scope} $end`, ...declared, '$upscope $end'];
  });
  return [
    `$version coldbench ${manifest.version} $end`,
    `$comment ${commented(name)}, ${commented(rig)} $end`,
    `$timescale ${TIMESCALE} $end`,
    '$scope module coldbench $end',
    ...scopes.flat(),
    '$upscope $end',
    '$enddefinitions $end',
    '',
  ].join('\n');
}

class VcdExport implements Export {
  readonly #file: TextFile;
  readonly #values = new Map<string, string>();
  #rig: RecordedRig | undefined;
  readonly #handed = new Handed();
  #edges = 0;
  #tick = -1;

  constructor(path: string, opening: Opening) {
    this.#file = new TextFile(path);
    this.#file.write(header(opening));
  }

  take(scan: RecordedScan): void {
    const first = this.#rig === undefined;
    this.#handed.put(scan);
    this.#rig ??= new RecordedRig(this.#handed.take);
    this.#rig.advanceTo(scan.nowMs);
    this.#showEdges();
    this.#rig.apply(scan.commands);
    if (first) this.#dump(scan);
    else this.#showScan(scan);
    this.#showEdges();
  }

  end(): void {
    if (this.#rig !== undefined) {
      // The last countdowns run out.
      this.#rig.advanceTo(this.#rig.nowMs() + LAST_MS);
      this.#showEdges();
      this.#at(this.#rig.nowMs());
    }
    this.#file.close();
  }

  drop(): void {
    this.#file.drop();
  }

  /** Everything once, at the first time. */
  #dump(scan: RecordedScan): void {
    this.#at(scan.nowMs);
    this.#file.write('$dumpvars\n');
    for (const output of OUTPUTS) this.#show(`outputs.${output}`, '0');
    this.#showScan(scan);
    this.#file.write('$end\n');
  }

  #showScan({ nowMs, readings, stage, trip }: RecordedScan): void {
    this.#at(nowMs);
    for (const name of SWITCHES) {
      const reading = readings[name];
      this.#show(`switches.${name}`, reading.ok ? bit(reading.value) : 'x');
    }
    this.#show('job.stage', ascii(stage));
    this.#show('job.trip', ascii(trip ?? ''));
    for (const name of MEASURED) {
      const reading = readings[name];
      const finite = reading.ok && Number.isFinite(reading.value);
      this.#show(`has_reading.${name}`, bit(finite));
      // A real has no unknown: the last value stands, or zero where there was none.
      if (finite) this.#show(`readings.${name}`, `r${reading.value} `);
      else if (!this.#values.has(`readings.${name}`)) this.#show(`readings.${name}`, 'r0 ');
    }
  }

  #showEdges(): void {
    const edges: readonly Edge[] = this.#rig?.edges ?? [];
    const fresh = edges.slice(this.#edges).sort((one, other) => one.atMs - other.atMs);
    this.#edges = edges.length;
    for (const { atMs, output, on } of fresh) {
      this.#at(atMs);
      this.#show(`outputs.${output}`, bit(on));
    }
  }

  #at(timeMs: number): void {
    const tick = Math.round(timeMs * TICKS_PER_MS);
    if (tick <= this.#tick) return;
    this.#tick = tick;
    this.#file.write(`#${tick}\n`);
  }

  #show(name: string, value: string): void {
    if (this.#values.get(name) === value) return;
    this.#values.set(name, value);
    this.#file.write(`${value}${IDENTIFIERS.get(name)}\n`);
  }
}

export const vcd: ExportTo = (path, opening) => new VcdExport(path, opening);
