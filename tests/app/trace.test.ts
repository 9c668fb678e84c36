import { expect, test } from 'vitest';
import { TRACE_HEADER, tracer } from '../../app/run/trace.ts';
import { ON, SAFE_COMMANDS } from '../../controller/signals.ts';
import { noReadings, quiet, reading, seen } from './seen.ts';

function traced(scans: Parameters<ReturnType<typeof tracer>>[0][]): string[] {
  let text = '';
  const trace = tracer((part) => {
    text += part;
  });
  for (const scan of scans) trace(scan);
  return text.trimEnd().split('\n');
}

const column = (row: string, header: string): string =>
  row.split(',')[TRACE_HEADER.split(',').indexOf(header)] ?? 'no such column';

test('every column that has a unit says so in the header', () => {
  const headers = TRACE_HEADER.split(',');
  expect(new Set(headers).size).toBe(headers.length);
  for (const header of headers) {
    if (['stage', 'waiting for', 'operator'].includes(header)) continue;
    expect(header).toMatch(/ \[(s|Pa|K|kg|kg\/s|counts|0\/1)\]$/);
  }
  expect(headers).toContain('highSidePressure [Pa]');
  expect(headers).toContain('scale [counts]');
  expect(headers).toContain('estimated flow [kg/s]');
});

test('there is a row a second, and one more where the stage changes', () => {
  const rest = { ...quiet, stage: 'rest' as const };
  const scans = Array.from({ length: 31 }, (_, scan) =>
    seen(scan * 100, { progress: scan * 100 >= 1400 ? rest : quiet }),
  );
  const times = traced(scans)
    .slice(1)
    .map((row) => `${column(row, 'time [s]')} ${column(row, 'stage')}`);
  expect(times).toEqual(['0 recover', '1 recover', '1.4 rest', '2 rest', '3 rest']);
});

test('a sensor without a value leaves its field empty, never a number', () => {
  const [, row] = traced([
    seen(0, {
      readings: { ...noReadings, lowSidePressurePa: reading(61_234.5678912), fanFlow: reading(true) },
      commands: { ...SAFE_COMMANDS, compressor: ON },
    }),
  ]);
  expect(column(row!, 'highSidePressure [Pa]')).toBe('');
  expect(column(row!, 'lowSidePressure [Pa]')).toBe('61234.5679');
  expect(column(row!, 'fanFlow [0/1]')).toBe('1');
  expect(column(row!, 'compressor [0/1]')).toBe('1');
  expect(column(row!, 'vacuumPump [0/1]')).toBe('0');
});

test('a reason with a comma in it does not shift the columns', () => {
  const [, row] = traced([seen(0, { progress: { ...quiet, waitingFor: 'this, and "that"' } })]);
  expect(row).toContain(',"this, and ""that""",');
});

test('what the operator says and does by hand has a row of its own, with what came of it', () => {
  const rows = traced([
    seen(0),
    seen(100, { events: [{ type: 'confirmed', prompt: 'connect-hoses' }] }),
    seen(200, {
      events: [{ type: 'wished', output: 'vacuumValve', on: true, offAfterMs: 2500 }],
      handEntries: [
        {
          atMs: 200,
          deed: 'on',
          output: 'vacuumValve',
          offAfterMs: 2500,
          result: 'refused',
          reason: { row: 'IL-09', hazard: 'h', remedy: 'r' },
        },
      ],
    }),
    seen(300),
    seen(400, { handEntries: [{ atMs: 400, deed: 'off', output: 'highSideValve', result: 'expired' }] }),
  ]).slice(1);
  expect(rows.map((row) => `${column(row, 'time [s]')} ${column(row, 'operator')}`.trim())).toEqual([
    '0',
    '0.1 confirmed connect-hoses',
    '0.2 by hand on vacuumValve for 2.5 s: refused IL-09',
    '0.4 by hand off highSideValve: expired',
  ]);
});
