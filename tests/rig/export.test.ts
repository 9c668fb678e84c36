import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { tableFromIPC } from 'apache-arrow';
import { readParquet } from 'parquet-wasm';
import { beforeAll, describe, expect, test } from 'vitest';
import { readRecording } from '../../app/bench/read-recording.ts';
import type { RecordedScan } from '../../app/bench/recording.ts';
import { dispatch } from '../../app/cli/dispatch.ts';
import { exportCommand } from '../../app/cli/export.ts';
import { TRACE_COLUMNS, TRACE_HEADER, traceRow } from '../../app/run/trace.ts';
import { OUTPUTS } from '../../controller/signals.ts';
import { type AnyLine, changed, demoPart, demoRecording, inFolder } from '../app/bench/recordings.ts';
import { fakeTerminal } from '../app/fake-terminal.ts';

async function called(...args: string[]) {
  const terminal = fakeTerminal();
  const status = await dispatch([exportCommand], ['export', ...args], terminal);
  return { status, out: terminal.output(), err: terminal.errors() };
}

let demo: string;
const scans: RecordedScan[] = [];
const [CSV, PARQUET, VCD] = [inFolder('demo.csv'), inFolder('demo.parquet'), inFolder('demo.vcd')];
beforeAll(async () => {
  demo = await demoRecording();
  for await (const scan of (await readRecording(demo)).scans()) scans.push(scan);
  const { status, out, err } = await called(demo, CSV, PARQUET, VCD);
  expect({ status, err }).toEqual({ status: 0, err: '' });
  expect(out).toContain(`${scans.length} scans`);
}, 120_000);

test('CSV has a row for every scan, with the columns and the units of a trace', () => {
  const [header, ...rows] = readFileSync(CSV, 'utf8').trimEnd().split('\n');
  expect(header).toBe(TRACE_HEADER);
  expect(rows).toHaveLength(scans.length);
  for (const at of [0, 12_345, scans.length - 1]) expect(rows[at]).toBe(traceRow(scans[at]!));
});

test('Parquet, read by another library, has the exact values, and none where there was none', () => {
  const table = tableFromIPC(readParquet(readFileSync(PARQUET)).intoIPCStream());
  expect(table.numRows).toBe(scans.length);
  expect(table.schema.fields.map(({ name }) => name)).toEqual(TRACE_COLUMNS.map(({ header }) => header));
  for (const column of TRACE_COLUMNS) {
    const values = table.getChild(column.header)!;
    const wrong = scans.findIndex((scan, at) => values.get(at) !== (column.of(scan) ?? null));
    expect(wrong, column.header).toBe(-1);
  }
  expect(table.getChild('ventTemperature [K]')!.nullCount).toBe(scans.length);
});

type Turn = { readonly atMs: number; readonly on: boolean };

/** What an output does by the contract of a rig, told from the words alone. */
function turnsOf(output: (typeof OUTPUTS)[number]): Turn[] {
  const turns: Turn[] = [];
  let endsMs = Number.POSITIVE_INFINITY;
  let on = false;
  let spent = false;
  const turn = (atMs: number, to: boolean): void => {
    if (to !== on) turns.push({ atMs, on: to });
    on = to;
  };
  for (const { nowMs, commands } of scans) {
    if (on && endsMs <= nowMs) {
      turn(endsMs, false);
      spent = true;
    }
    const command = commands[output];
    if (!command.on) {
      [endsMs, spent] = [Number.POSITIVE_INFINITY, false];
      turn(nowMs, false);
    } else if (!spent) {
      endsMs = Math.min(endsMs, nowMs + (command.offAfterMs ?? Number.POSITIVE_INFINITY));
      turn(nowMs, true);
    }
  }
  return turns;
}

type Change = { readonly tick: number; readonly value: string };

/** Changes of every variable in a dump, by 'scope.name'. */
function changesIn(dump: string): ReadonlyMap<string, readonly Change[]> {
  const byId = new Map<string, Change[]>();
  const byName = new Map<string, Change[]>();
  let scope = '';
  let tick = 0;
  for (const line of dump.split('\n')) {
    const [word = '', second = '', , id = '', name = ''] = line.split(' ');
    if (word === '$scope') scope = line.split(' ')[2]!;
    else if (word === '$var') {
      byId.set(id, []);
      byName.set(`${scope}.${name}`, byId.get(id)!);
    } else if (word.startsWith('#')) tick = Number(word.slice(1));
    else if (/^[01xz]/.test(word)) byId.get(word.slice(1))?.push({ tick, value: word[0]! });
    else if (/^[br]/.test(word)) byId.get(second)?.push({ tick, value: word });
  }
  return byName;
}

function expectEdges(changes: ReadonlyMap<string, readonly Change[]>): void {
  let countdowns = 0;
  for (const output of OUTPUTS) {
    const turns = turnsOf(output);
    countdowns += turns.filter(({ atMs }) => atMs % 100 !== 0).length;
    const [first, ...shown] = changes.get(`outputs.${output}`)!;
    expect(first).toEqual({ tick: 0, value: '0' });
    expect(shown, output).toEqual(
      turns.map(({ atMs, on }) => ({ tick: Math.round(atMs * 1000), value: on ? '1' : '0' })),
    );
  }
  expect(countdowns).toBeGreaterThan(20);
}

describe('the dump of value changes', () => {
  test('has every edge of every output where it was, countdowns between two scans too', () => {
    expectEdges(changesIn(readFileSync(VCD, 'utf8')));
  });

  test('goes forward in time only, and declares what it uses', () => {
    const dump = readFileSync(VCD, 'utf8');
    const ticks = [...dump.matchAll(/^#(\d+)$/gm)].map(([, tick]) => Number(tick));
    expect(ticks.every((tick, at) => at === 0 || tick > ticks[at - 1]!)).toBe(true);
    expect(dump).toMatch(/\$timescale 1 us \$end/);
  });

  test('says the stage in letters', () => {
    const text = (bits: string): string => {
      const whole = bits.slice(1).padStart(128, '0');
      const bytes = whole.match(/.{8}/g)!.map((byte) => Number.parseInt(byte, 2));
      return String.fromCharCode(...bytes.filter((byte) => byte !== 0));
    };
    const stages = changesIn(readFileSync(VCD, 'utf8'))
      .get('job.stage')!
      .map(({ value }) => text(value));
    const expected = scans.map(({ stage }) => stage).filter((stage, at, all) => stage !== all[at - 1]);
    expect(stages).toEqual(expected);
  });

  const reader = spawnSync('vcd2fst', ['--help']).error === undefined;
  if (!reader)
    process.stderr.write('skipped: gtkwave is not installed, so its parser cannot read the dump\n');

  test.runIf(reader)('is read by the parser of a waveform viewer, which shows the same edges', () => {
    const fst = inFolder('demo.fst');
    expect(spawnSync('vcd2fst', [VCD, fst], { encoding: 'utf8' }).status).toBe(0);
    const { status, stdout } = spawnSync('fst2vcd', ['-f', fst], { encoding: 'utf8', maxBuffer: 1e9 });
    expect(status).toBe(0);
    const changes = changesIn(stdout);
    expectEdges(changes);
    const last = changes.get('readings.scaleCounts')!.at(-1)!;
    const { scaleCounts } = scans.at(-1)!.readings;
    expect(Number(last.value.slice(1))).toBe(scaleCounts.ok && scaleCounts.value);
  });
});

describe('wrong input is one line', () => {
  test.each<[string, () => string[], RegExp]>([
    ['nothing given', () => [], /give a recording and a file to write/],
    ['no file', () => [demo], /give a recording and a file to write/],
    [
      'an unknown ending',
      () => [demo, inFolder('x.xlsx')],
      /the ending says the format; give \.csv, \.vcd, \.parquet/,
    ],
    ['the same twice', () => [demo, CSV, CSV], /given twice/],
    ['no recording', () => [CSV, inFolder('y.csv')], /is a trace/],
    ['no place', () => [demo, inFolder('no/where.csv')], /cannot write .*where\.csv.*; give another place/],
  ])('%s', async (_, args, words) => {
    const { status, out, err } = await called(...args());
    expect({ status, out }).toEqual({ status: 2, out: '' });
    expect(err).toMatch(/^coldbench: [^\n]+\n$/);
    expect(err).toMatch(words);
  });

  test('a recording does not overwrite itself', async () => {
    const own = inFolder('own.csv');
    writeFileSync(own, 'x');
    expect((await called(own, own)).err).toMatch(/is the recording itself/);
  });

  test('a line that cannot be understood leaves the files as they were, and nothing besides', async () => {
    const kept = inFolder('kept.csv');
    writeFileSync(kept, 'of yesterday');
    const bad = changed(
      await demoPart(),
      'bad.recording',
      900,
      (line) => ({ ...line, on: { spark: true } }) as AnyLine,
    );
    expect((await called(bad, kept, inFolder('kept.vcd'))).status).toBe(2);
    expect(readFileSync(kept, 'utf8')).toBe('of yesterday');
    expect(existsSync(inFolder('kept.vcd'))).toBe(false);
    expect(readdirSync(path.dirname(kept)).filter((name) => name.endsWith('.part'))).toEqual([]);
  });

  test('a damaged line is written, and told', async () => {
    const damaged = changed(await demoPart(), 'damaged.recording', 900, (line) => ({
      ...line,
      ms: line.ms + 1,
    }));
    const { status, err } = await called(damaged, inFolder('damaged.csv'));
    expect(status).toBe(2);
    expect(err).toMatch(/is damaged: line 901, scan 900/);
    expect(existsSync(inFolder('damaged.csv'))).toBe(true);
  });
});
