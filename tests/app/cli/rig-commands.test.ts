// What the commands for a real machine say to wrong input: one line with the remedy, and nothing has been opened.
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { dispatch } from '../../../app/cli/dispatch.ts';
import { emulate } from '../../../app/cli/emulate.ts';
import { hand } from '../../../app/cli/hand.ts';
import { job } from '../../../app/cli/job.ts';
import { ports } from '../../../app/cli/ports.ts';
import { run } from '../../../app/cli/run.ts';
import { fakeTerminal } from '../fake-terminal.ts';
import { writeEquipmentOfToday } from '../rig/equipment-today.ts';

const folder = mkdtempSync(path.join(tmpdir(), 'coldbench-rig-'));
afterAll(() => rmSync(folder, { recursive: true }));
const written = (name: string, value: unknown): string => {
  const file = path.join(folder, name);
  writeFileSync(file, JSON.stringify(value));
  return file;
};
const TICKET = written('ticket.json', { name: 'a', ticket: { refrigerant: 'R-134a', nominalChargeG: 400 } });
const SCENARIO = written('scenario.json', {
  ticket: { refrigerant: 'R-134a', nominalChargeG: 400 },
  vehicle: { chargeG: 300 },
});
const EMPTY = written('empty.json', { format: 'coldbench equipment', version: 1, lines: {} });

async function called(...args: string[]) {
  const terminal = fakeTerminal();
  const status = await dispatch([run, hand, job, emulate, ports], args, terminal);
  return { status, out: terminal.output(), err: terminal.errors() };
}

test.each([
  [['job'], /the ticket is missing/],
  [['job', TICKET], /--port is missing/],
  [['job', TICKET, '--port', '/dev/none'], /--file is missing/],
  [
    ['job', TICKET, '--port', '/dev/none', '--file', path.join(folder, 'no.json')],
    /no such equipment file; coldbench commission/,
  ],
  [['job', SCENARIO, '--port', '/dev/none', '--file', EMPTY], /vehicle is for the simulator/],
  [
    ['job', path.join(folder, 'no.json'), '--port', 'x', '--file', EMPTY],
    /no such file; give the path of a ticket/,
  ],
  [['run', SCENARIO, '--firmware', '--board', 'x'], /give one of them/],
  [['emulate', '--link', folder], /is there already/],
])('%s', async (args, remedy) => {
  const { status, out, err } = await called(...args);
  expect({ status, out }).toEqual({ status: 2, out: '' });
  expect(err).toMatch(remedy);
  expect(err.trimEnd().split('\n')).toHaveLength(1);
});

test('a rig that nobody has commissioned is not driven: every line that is missing is named, with how to repeat it', async () => {
  const { status, err } = await called('job', TICKET, '--port', '/dev/none', '--file', EMPTY);
  expect(status).toBe(2);
  for (const line of ['emergency-stop', 'link', 'scale']) expect(err).toContain(line);
  expect(err).toContain('coldbench commission --port /dev/none --file');
});

test.each([
  ['/dev/no-such-port', /^coldbench: there is no port \/dev\/no-such-port; plug the board in, [^\n]+\n$/],
  [path.join(folder, 'empty.json', 'port'), /^coldbench: there is no port [^\n]+\n$/],
  [folder, /^coldbench: \S+ is no serial port; name one \(coldbench ports lists them\)\n$/],
])('a port that is not there is bad input, and nothing begins: %s', async (port, words) => {
  const today = path.join(folder, 'today.json');
  writeEquipmentOfToday(today);
  const kept = ['--records', path.join(folder, 'records.db')];
  const trace = path.join(folder, 'trace.csv');
  for (const args of [
    ['run', SCENARIO, '--board', port, '--trace', trace],
    ['job', TICKET, '--port', port, '--file', today, ...kept, '--trace', trace],
  ]) {
    const { status, err } = await called(...args);
    expect(status).toBe(2);
    expect(err).toMatch(words);
  }
  expect(existsSync(trace)).toBe(false);
});

test('the ports of this computer are listed, or that there are none is said', async () => {
  const { status, out, err } = await called('ports');
  expect(status).toBe(0);
  expect(out !== '' || err.includes('no serial port was found')).toBe(true);
});

test('a real rig is worked by hand at a terminal only, and only where it is commissioned', async () => {
  const { status, err } = await called('hand', TICKET, '--port', '/dev/none', '--file', EMPTY);
  expect(status).toBe(2);
  expect(err).toContain('may not be driven');
  const bare = await called('hand', '--port', '/dev/none', '--file', EMPTY);
  expect(bare.err).toMatch(/the ticket is missing/);
});

test('a real rig whose tank holds another refrigerant than the ticket’s is not worked by hand', async () => {
  const file = path.join(folder, 'today.json');
  writeEquipmentOfToday(file);
  const other = written('other.json', { ticket: { refrigerant: 'R-1234yf', nominalChargeG: 400 } });
  const { status, err } = await called('hand', other, '--port', '/dev/none', '--file', file);
  expect(status).toBe(2);
  expect(err).toMatch(/other\.json: The tank holds R-134a, the ticket asks for R-1234yf\./);
});
