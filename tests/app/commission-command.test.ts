// `coldbench commission` at a terminal that a test plays, on the simulated bench, in time that the test moves.
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { commissionIn } from '../../app/cli/commission.ts';
import { statusText } from '../../app/cli/commission-words.ts';
import type { CommissioningWorld } from '../../app/cli/commission-world.ts';
import { dispatch } from '../../app/cli/dispatch.ts';
import { NO_BOARD_SEEN } from '../../app/rig/commissioned-board.ts';
import { readRecord } from '../../app/rig/equipment-file.ts';
import { OUTPUT_BITS } from '../../hardware/protocol.ts';
import { machineOf } from '../hardware/commissioning/simulated-machine.ts';
import { seenWith } from '../hardware/commissioning/support.ts';
import { fakeTerminal } from './fake-terminal.ts';

const FILE = 'tests/app/rig/equipment.json';
const START_MS = Date.parse('2031-05-07T00:00:00.000Z');

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'commission-'));
});
afterEach(() => rmSync(folder, { recursive: true }));

type PortProblem = (nowMs: number) => string | undefined;

/** The bench as the port; its time passes while the command pauses. */
function worldOf(problem: PortProblem = () => undefined) {
  const { board } = machineOf('good', 3);
  const closed: string[] = [];
  const world: CommissioningWorld = {
    nowMs: () => board.nowMs,
    calendarMs: () => START_MS + board.nowMs,
    sleep: async (ms) => board.advanceTo(board.nowMs + ms),
    join: (port) => ({
      boardWith: () => board,
      tick: () => {},
      linked: () => board.faults.linked,
      problem: () => problem(board.nowMs),
      close: () => void closed.push(port),
    }),
  };
  return { world, board, closed };
}

type Run = { readonly input?: readonly string[]; readonly problem?: PortProblem; readonly linked?: boolean };

async function run(args: readonly string[], { input = [], problem, linked = true }: Run = {}) {
  const { world, board, closed } = worldOf(problem);
  board.faults.linked = linked;
  const terminal = fakeTerminal({ input: [...input] });
  const status = await dispatch([commissionIn(() => world)], ['commission', ...args], terminal);
  return { status, output: terminal.output(), errors: terminal.errors(), board, closed };
}

const withoutLines = (...lines: readonly string[]): string => {
  const file = JSON.parse(readFileSync(FILE, 'utf8')) as { lines: { [line: string]: unknown } };
  for (const line of lines) delete file.lines[line];
  const path = join(folder, 'equipment.json');
  writeFileSync(path, JSON.stringify(file));
  return path;
};

const TEMPERATURES = ['', '0.2 K', '68 F', '20'];

describe('the status', () => {
  it('says that a board answers before its facts are known, and does not where none does', () => {
    expect(statusText(NO_BOARD_SEEN, true)).toEqual(['the board answers']);
    expect(statusText(NO_BOARD_SEEN, false)).toEqual(['no board answers yet']);
  });

  it('says how long there is to wait, what is on, and that its pressures are absolute', () => {
    const seen = seenWith({ tankPressurePa: 300_000, scaleCounts: undefined }, { word: 0b1_0000_0001 });
    const status = statusText(seen, true, 754_300);
    expect(status[0]).toBe('12:34 to wait');
    expect(status).toContain(`on: ${OUTPUT_BITS[0]}, ${OUTPUT_BITS[8]}`);
    expect(status).toContain('tank 3 bar (43.511 psi) abs.');
    expect(status).toContain('scale open-circuit');
    expect(statusText(seenWith(), true)).toContain('on: nothing');
    expect(statusText(seenWith(), true)[0]).toBe('board armed');
  });
});

describe('a line at the terminal', () => {
  it('tells why, asks in both systems of units, and ends with what stands', async () => {
    const path = withoutLines('temperatures');
    const { status, output, closed } = await run(['--port', '/dev/ttyX', '--file', path], {
      input: TEMPERATURES,
    });
    expect(output).toMatch(/temperatures: Thermometers\n {4}Whether a tank holds air/);
    expect(output).toMatch(/\[°C; -20 °C \(-4 °F\) to 60\s+°C \(140 °F\)\]/);
    expect(output).toMatch(/Passed\. Valid for 365 days\./);
    expect(output).toMatch(/Everything is off\./);
    expect(output).not.toMatch(/same command/);
    expect(status).toBe(0);
    expect(closed).toEqual(['/dev/ttyX']);
    expect(readRecord(path).temperatures?.verdict).toBe('passed');
  });

  it('sends back what it does not understand, and goes on', async () => {
    const path = withoutLines('temperatures');
    const input = ['', 'a bit', '0.2', '68 F', '20'];
    const { status, output } = await run(['--port', 'P', '--file', path], { input });
    expect(output).toMatch(/That was not understood: 'a bit' is no number/);
    expect(status).toBe(0);
  });

  it('tells that the line has broken, and that it is there again', async () => {
    const path = withoutLines('temperatures');
    const { output } = await run(['--port', 'P', '--file', path], {
      input: TEMPERATURES,
      problem: (nowMs) => (nowMs > 2_000 && nowMs < 3_000 ? 'the board has fallen silent' : undefined),
    });
    expect(output.match(/ {4}The (?:port|board).*/g)).toEqual([
      '    The port: the board has fallen silent.',
      '    The board answers.',
    ]);
  });

  it('goes back to the question before', async () => {
    const path = withoutLines('temperatures');
    const input = ['', '2', 'back', '0.3', '20', '20'];
    await run(['--port', 'P', '--file', path], { input });
    expect(readRecord(path).temperatures?.figures).toMatchObject({ thermometerErrorK: 0.3 });
  });

  it('skipped stays missing, and the status says so', async () => {
    const path = withoutLines('temperatures');
    const { status, output } = await run(['--port', 'P', '--file', path], { input: ['skip'] });
    expect(output).toMatch(/temperatures {4}missing/);
    expect(status).toBe(1);
  });

  it('failed is written down with its remedy, and the status says so', async () => {
    const path = withoutLines('temperatures');
    const { status, output } = await run(['--port', 'P', '--file', path], { input: ['', '0.2', '30', '20'] });
    expect(output).toMatch(
      /Failed: tankOffsetK is 9\.\d+ and must be -3 to 3: check how the tank probe sits/,
    );
    expect(readRecord(path).temperatures?.verdict).toBe('failed');
    expect(output).toMatch(
      /missing \(optional\), waits for temperatures, which has failed\nPut right what failed, then give the same command again/,
    );
    expect(status).toBe(1);
  });

  it('is repeated alone with --line, though it stands', async () => {
    const path = withoutLines('volumes');
    const input = ['', '0.3', '20', '20'];
    const { status, output } = await run(['--port', 'P', '--file', path, '--line', 'temperatures'], {
      input,
    });
    expect(status).toBe(0);
    expect(output).toMatch(/volumes {9}missing/);
    expect(readRecord(path).temperatures?.figures).toMatchObject({ thermometerErrorK: 0.3 });
  });
});

describe('an end in the middle', () => {
  it.each([
    ['quit', ['yes', '', 'quit']],
    ['the end of the input', ['yes']],
  ])('by %s leaves everything off and the line missing', async (_, input) => {
    const path = withoutLines('dead-time');
    const { status, output, board } = await run(['--port', 'P', '--file', path], { input });
    expect(status).toBe(1);
    expect(output).toMatch(/Everything is off\./);
    expect(board.bench.inspect().on).toEqual([]);
  });

  it('by Ctrl-C while the pump runs turns it off', async () => {
    const path = withoutLines('second-point');
    const { world, board } = worldOf();
    let press = () => {};
    const terminal = {
      ...fakeTerminal({ input: ['yes', ''] }),
      onInterrupt: (listener: () => void) => {
        press = listener;
        return () => {};
      },
    };
    let ran = false;
    const pausing: CommissioningWorld = {
      ...world,
      sleep: async (ms) => {
        await world.sleep(ms);
        const turns = board.bench.inspect().on.includes('vacuumPump');
        if (turns && board.nowMs > 30_000) press();
        ran ||= turns;
      },
    };
    const status = await dispatch(
      [commissionIn(() => pausing)],
      ['commission', '--port', 'P', '--file', path],
      terminal,
    );
    expect(ran).toBe(true);
    expect(status).toBe(1);
    expect(board.bench.inspect().on).toEqual([]);
    expect(readRecord(path)['second-point']).toBeUndefined();
    expect(terminal.output()).toMatch(/Go on with the same command\./);
  });
});

describe('the list', () => {
  it('shows what each line is worth, without a port', async () => {
    const path = withoutLines('scale');
    const { status, output } = await run(['--file', path, '--list']);
    expect(output).toMatch(/^facts {11}passed, stands until 2032-05-05\n/);
    expect(output).toMatch(/scale {11}missing\n/);
    expect(output).toMatch(/in-flight {7}missing \(optional\)\n/);
    expect(status).toBe(1);
    expect((await run(['--file', FILE, '--list'])).status).toBe(0);
  });
});

describe('what cannot begin', () => {
  it('is told in one line with the remedy', async () => {
    const path = withoutLines();
    expect((await run(['--file', path])).errors).toMatch(
      /--port is missing; write coldbench commission --port/,
    );
    expect((await run(['--port', 'P'])).errors).toMatch(/--file is missing/);
    expect((await run(['--port', 'P', '--file', path, '--line', 'scales'])).errors).toMatch(
      /there is no line 'scales'; did you mean scale/,
    );
    expect((await run(['--port', 'P', '--file', join(folder, 'no', 'such')])).errors).toMatch(
      /cannot write .*\(ENOENT\); everything is off/,
    );
    writeFileSync(path, '{"lines": ');
    const broken = await run(['--port', 'P', '--file', path]);
    expect(broken.errors).toMatch(/not JSON at line 1/);
    expect(broken.status).toBe(2);
    expect(existsSync(`${path}.new`)).toBe(false);
  });

  it('is given up when no board answers, with what the port says', async () => {
    const path = withoutLines('temperatures');
    const { status, errors } = await run(['--port', 'P', '--file', path], {
      linked: false,
      problem: () => 'P is in use by another program; close that program, then try again',
    });
    expect(errors).toBe('coldbench: P is in use by another program; close that program, then try again\n');
    expect(status).toBe(1);
  });
});
