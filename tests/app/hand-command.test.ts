import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import type { Conversation } from '../../app/cli/command.ts';
import { dispatch } from '../../app/cli/dispatch.ts';
import { hand } from '../../app/cli/hand.ts';
import { replay } from '../../app/cli/replay.ts';
import type { HandDocument } from '../../app/run/hand-document.ts';
import { TRACE_HEADER } from '../../app/run/trace.ts';
import { OUTPUTS } from '../../controller/signals.ts';
import { fakeTerminal } from './fake-terminal.ts';

const folder = mkdtempSync(path.join(tmpdir(), 'coldbench-hand-'));
afterAll(() => rmSync(folder, { recursive: true }));

function fileOf(name: string, text: string): string {
  writeFileSync(path.join(folder, name), text);
  return path.join(folder, name);
}

async function called(args: readonly string[], input: readonly string[] = []) {
  const terminal = fakeTerminal({ input: [...input] });
  const status = await dispatch([hand], ['hand', ...args], terminal);
  return { status, out: terminal.output(), err: terminal.errors() };
}

async function documentOf(input: readonly string[], ...args: readonly string[]) {
  const { status, out, err } = await called(['--json', ...args], input);
  return { status, err, made: JSON.parse(out) as HandDocument };
}

/** What is on in each row of a trace. Counted from the end of the row: texts with commas stand before. */
function onInRows(trace: string): readonly (readonly string[])[] {
  const columns = TRACE_HEADER.split(',');
  const rows = readFileSync(trace, 'utf8').trim().split('\n').slice(1);
  return rows.map((row) => {
    const cells = row.split(',');
    return OUTPUTS.filter((output) => cells.at(columns.indexOf(`${output} [0/1]`) - columns.length) !== '0');
  });
}

const RECOVER = [
  'connect',
  'open high valve',
  'open low valve',
  'wait 130',
  'open recovery valve',
  'start compressor',
  'wait 20',
];

describe('bad input is one line and status 2', () => {
  const fine = fileOf('fine.hand', 'status\n');
  const misspelt = fileOf('misspelt.hand', '# a class\nconnect\nopen high vlave\n');
  const twiceWrong = fileOf('twice.hand', 'open high vlave\nconnect\nwait long\nstats\n');

  test.each([
    [['--script', path.join(folder, 'none.hand')], 'cannot read the script'],
    [['--script', folder], 'cannot read the script'],
    [
      ['--script', misspelt],
      "misspelt.hand:3: there is no output 'high vlave'; did you mean high-side-valve?",
    ],
    [['--script', twiceWrong], '(and 2 more problems)'],
    [['--speed', 'fast'], '--speed must be a number from 0.1 to 1000'],
    [['--speed', '0'], '--speed must be a number from 0.1 to 1000'],
    [['--seed', '-'], '--seed needs a value'],
    [['--units', 'metric'], '--units must be si or us'],
    [['--scrpt', fine], 'did you mean --script?'],
    [['--trace', folder, '--script', fine], 'cannot write the trace'],
    [[path.join(folder, 'none.json')], 'no such file'],
  ])('hand %j', async (args, words) => {
    const { status, out, err } = await called(args);
    expect({ status, out }).toEqual({ status: 2, out: '' });
    expect(err).toMatch(/^coldbench: [^\n]+\n$/);
    expect(err).toContain(words);
  });
});

test('a line from a pipe that cannot be read costs nothing: what was on stays on, and the next line counts', async () => {
  const { status, err, made } = await documentOf(['connect', 'open high valve', 'opne low valve', 'wait 1']);
  expect(status).toBe(2);
  expect(err).toBe("coldbench: line 3: there is no 'opne' by hand; did you mean open or on?\n");
  expect(made.lines.map(({ answer }) => answer)).toEqual(['done', 'permitted', 'not-understood', 'done']);
  expect(made.lines[2]?.remedy).toContain('did you mean open');
  expect(made.looks.at(-1)?.on).toEqual(['highSideValve']);
});

test('the document has each line with its answer, and a refusal with interlock, hazard and remedy', async () => {
  const { status, made } = await documentOf([...RECOVER, 'start pump', 'wait 4', 'open vacuum valve']);
  expect(status).toBe(0);
  expect(made.outcome).toBe('completed');
  expect(made.lines.map(({ answer }) => answer)).toEqual([
    'done',
    'permitted',
    'permitted',
    'done',
    'permitted',
    'permitted',
    'done',
    'permitted',
    'done',
    'refused',
  ]);
  expect(made.lines.at(-1)?.reasons).toMatchObject([
    { interlock: 'IL-10', hazard: expect.stringContaining('vented'), remedy: expect.stringMatching(/\.$/) },
  ]);
  expect(made.journal.filter(({ result }) => result === 'refused')).toHaveLength(1);
  expect(made.looks.at(-1)!.tankNetG! - made.looks[0]!.tankNetG!).toBeGreaterThan(30);
});

test('a valve that is refused does NOT open, and its twin that is permitted does', async () => {
  const pumping = ['connect', 'start pump', 'wait 12', 'open vacuum valve', 'wait 10'];
  const permitted = await documentOf(pumping);
  expect(permitted.made.lines[3]?.answer).toBe('permitted');
  expect(permitted.made.looks.at(-1)?.on).toContain('vacuumValve');
  expect(permitted.made.truth.pumpExhaustG).toBeGreaterThan(0);
  const refused = await documentOf(['open high valve', ...pumping]);
  expect(refused.made.lines[4]).toMatchObject({ answer: 'refused', reasons: [{ interlock: 'IL-10' }] });
  expect(refused.made.looks.at(-1)?.on).toEqual(['highSideValve', 'vacuumPump']);
  expect(refused.made.truth.pumpExhaustG).toBe(0);
});

test('the same lines and seed give the same document and the same trace, byte for byte', async () => {
  const [one, two] = [path.join(folder, 'one.csv'), path.join(folder, 'two.csv')];
  const first = await called(['--json', '--seed', '5', '--trace', one], RECOVER);
  const second = await called(['--json', '--seed', '5', '--trace', two], RECOVER);
  expect(second).toEqual(first);
  const trace = readFileSync(one, 'utf8');
  expect(readFileSync(two, 'utf8')).toBe(trace);
  const at = TRACE_HEADER.split(',').indexOf('operator');
  const said = trace.split('\n').map((row) => row.split(',')[at]);
  expect(said).toContain('by hand begun: done');
  expect(said).toContain('by hand on compressor: permitted');
});

test('what is recorded plays again to the same words', async () => {
  const recording = path.join(folder, 'hand.recording');
  await called(['--json', '--seed', '5', '--record', recording], RECOVER);
  const played = async (file: string) => {
    const terminal = fakeTerminal();
    const status = await dispatch([replay], ['replay', file], terminal);
    return { status, out: terminal.output() };
  };
  const same = await played(recording);
  expect(same.status).toBe(0);
  expect(same.out).toMatch(/every command the same/);
  // Scans with nothing done would play the same as well: the compressor is in it.
  expect(readFileSync(recording, 'utf8')).toMatch(/"compressor":true/);
});

test('at the end everything is off, whatever was on', async () => {
  const trace = path.join(folder, 'ended.csv');
  const { made } = await documentOf(RECOVER, '--trace', trace);
  expect(made.journal.at(-1)).toMatchObject({ deed: 'ended', result: 'done' });
  const on = onInRows(trace);
  expect(on.some((outputs) => outputs.includes('compressor'))).toBe(true);
  expect(on.at(-1)).toEqual([]);
});

test('a trip ends with status 1; after a reset the work goes on', async () => {
  const pressed = (forS?: number) =>
    fileOf(
      `stop-${forS}.json`,
      JSON.stringify({
        ticket: { refrigerant: 'R-134a', nominalChargeG: 600 },
        vehicle: { chargeG: 500 },
        faults: [{ fault: 'emergency-stop', atS: 10, ...(forS === undefined ? {} : { forS }) }],
      }),
    );
  const lines = ['open high valve', 'wait 12', 'open low valve', 'reset', 'open low valve', 'wait 1'];
  const held = await documentOf(lines, pressed());
  expect(held.status).toBe(1);
  expect(held.made.outcome).toBe('stopped');
  expect(held.made.lines.map(({ answer }) => answer)).toEqual([
    'permitted',
    'done',
    'refused',
    'refused',
    'refused',
    'done',
  ]);
  expect(held.made.looks.at(-1)?.on).toEqual([]);
  const released = await documentOf(lines, pressed(1));
  expect(released.status).toBe(0);
  expect(released.made.looks.at(-1)?.on).toEqual(['lowSideValve']);
});

test('a power failure ends it with status 1 and everything off', async () => {
  const scenario = fileOf(
    'power.json',
    JSON.stringify({
      ticket: { refrigerant: 'R-134a', nominalChargeG: 600 },
      vehicle: { chargeG: 500 },
      faults: [{ fault: 'power-lost', atS: 5 }],
    }),
  );
  const { status, made } = await documentOf(['open high valve', 'wait 60', 'open low valve'], scenario);
  expect(status).toBe(1);
  expect(made.lines).toHaveLength(2);
  expect(made.looks.at(-1)?.on).toEqual([]);
  expect(made.faults).toMatchObject([{ fault: 'power-lost', onAtS: 5 }]);
});

test('Ctrl-C ends a script with everything off and status 1', async () => {
  const trace = path.join(folder, 'interrupted.csv');
  const terminal = fakeTerminal();
  let press = (): void => {};
  const status = await dispatch([hand], ['hand', '--json', '--trace', trace], {
    ...terminal,
    async *lines() {
      yield* RECOVER;
      press();
      yield 'wait 60';
    },
    onInterrupt: (listener) => {
      press = listener;
      return () => {};
    },
  });
  expect(status).toBe(1);
  const { lines, journal } = JSON.parse(terminal.output()) as HandDocument;
  expect(lines).toHaveLength(RECOVER.length);
  expect(journal.at(-1)).toMatchObject({ deed: 'ended' });
  const on = onInRows(trace);
  expect(on.some((outputs) => outputs.includes('compressor'))).toBe(true);
  expect(on.at(-1)).toEqual([]);
});

describe('at a terminal', () => {
  /** Someone who types these lines; nothing is a beat of the clock. */
  function typing(lines: readonly (string | undefined)[]) {
    const printed: string[] = [];
    const shown: string[] = [];
    const conversation: Conversation = {
      async *[Symbol.asyncIterator]() {
        yield* lines;
      },
      show: (status) => void shown.push(status.join(' | ')),
      print: (text) => void printed.push(text),
      close: () => {},
    };
    return { printed, shown, conversation };
  }

  test('a wrong line is answered in one line, and the figures stay in view', async () => {
    const { printed, shown, conversation } = typing([
      undefined,
      'connect',
      'open high vlave',
      'open high valve',
      'why compressor',
      'status',
      'help',
      'quit',
    ]);
    const terminal = { ...fakeTerminal(), converse: () => conversation };
    const status = await dispatch([hand], ['hand', '--units', 'us'], terminal);
    expect(status).toBe(0);
    const text = printed.join('');
    expect(text).toContain("there is no output 'high vlave'; did you mean high-side-valve?");
    expect(text).toContain('highSideValve on until 5:00, unless it is wished again');
    expect(text).toMatch(/compressor would be refused now\n +IL-15: .+ → Open the recovery valve/);
    expect(text).toContain('open OUTPUT');
    expect(shown.at(-1)).toMatch(/high .+ psig \(sat\. .+ °F\) .*tank .*scale .*highSideValve on until/);
    expect(text).toContain('Work by hand has ended');
    expect(terminal.output()).toContain('Truth');
  });

  test('a line that ends without quit puts everything away too', async () => {
    const { printed, conversation } = typing(['open high valve']);
    const status = await dispatch([hand], ['hand'], { ...fakeTerminal(), converse: () => conversation });
    expect(status).toBe(0);
    expect(printed.join('')).toContain('Every valve is shut');
  });
});
