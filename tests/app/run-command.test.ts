import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { dispatch } from '../../app/cli/dispatch.ts';
import { run } from '../../app/cli/run.ts';
import { TRACE_HEADER } from '../../app/run/trace.ts';
import { fakeTerminal } from './fake-terminal.ts';

const folder = mkdtempSync(path.join(tmpdir(), 'coldbench-run-'));
afterAll(() => rmSync(folder, { recursive: true }));
const inFolder = (name: string): string => path.join(folder, name);

function scenarioFile(name: string, scenario: unknown): string {
  writeFileSync(inFolder(name), JSON.stringify(scenario));
  return inFolder(name);
}

async function called(...args: string[]) {
  const terminal = fakeTerminal();
  const status = await dispatch([run], ['run', ...args], terminal);
  return { status, out: terminal.output(), err: terminal.errors() };
}

const withoutWallTimes = (text: string): string => text.replaceAll(/"(wallS|tablesS)": [^,\n]+/g, '"$1": 0');

describe('bad input is one line and status 2', () => {
  const good = { ticket: { refrigerant: 'R-134a', nominalChargeG: 600 }, vehicle: { chargeG: 500 } };
  const misspelt = scenarioFile('misspelt.json', { ...good, wether: {} });
  const overfull = scenarioFile('overfull.json', { ...good, vehicle: { chargeG: 4000, volumeL: 2 } });
  const fine = scenarioFile('fine.json', good);
  const plan = scenarioFile('plan.json', { name: 'a plan', base: good, draws: {}, jobs: 2 });

  test.each([
    [[inFolder('none.json')], 'no such file'],
    [[folder], 'is a directory'],
    [[misspelt], 'wether'],
    [[plan], 'plan.json: is the plan of a campaign; coldbench campaign takes it'],
    [[overfull], 'vehicle.chargeG 4000'],
    [['--sed', '1'], 'did you mean --seed?'],
    [['--seed', 'one'], '--seed must be a whole number'],
    [['--seed', '4294967296'], '--seed must be a whole number'],
    [['--seed', '-1'], "--seed must be a whole number from 0 to 4294967295, not '-1'"],
    [['--units', 'metric'], '--units must be si or us'],
    [['--trace', path.join(folder, 'no', 'where.csv')], 'cannot write the trace'],
    [['--trace', folder], 'cannot write the trace'],
    [[fine, '--trace', fine], 'fine.json would overwrite'],
    [[fine, '--record', inFolder('r.db'), '--records', inFolder('r.db')], 'r.db would overwrite'],
    [[fine, '--record', inFolder('t.csv'), '--trace', inFolder('t.csv')], 't.csv would overwrite'],
    [[fine, 'other.json'], 'one argument too many'],
  ])('run %j', async (args, words) => {
    const { status, out, err } = await called(...args);
    expect({ status, out }).toEqual({ status: 2, out: '' });
    expect(err).toMatch(/^coldbench: [^\n]+\n$/);
    expect(err).toContain(words);
  });

  test('a refused trace or recording leaves scenario and records as they were', () => {
    expect(JSON.parse(readFileSync(fine, 'utf8'))).toEqual(good);
    expect(readFileSync(inFolder('r.db'), 'latin1')).toMatch(/^SQLite format 3/);
  });

  test.each([
    ['--record', folder],
    ['--mqtt', 'mqtt://127.0.0.1:1'],
  ])('a trace of before stays when %s %s is refused', async (option, value) => {
    const before = inFolder('before.csv');
    writeFileSync(before, 'of before\n');
    expect((await called(fine, '--trace', before, option, value)).status).toBe(2);
    expect(readFileSync(before, 'utf8')).toBe('of before\n');
  });
});

test('the same seed gives the same document and the same trace, byte for byte', async () => {
  const [one, two] = [inFolder('one.csv'), inFolder('two.csv')];
  const first = await called('--json', '--seed', '3', '--trace', one);
  const second = await called('--json', '--seed', '3', '--trace', two);
  expect(first.err).toBe('');
  expect(withoutWallTimes(second.out)).toBe(withoutWallTimes(first.out));
  const trace = readFileSync(one, 'utf8');
  expect(readFileSync(two, 'utf8')).toBe(trace);
  expect(trace.startsWith(`${TRACE_HEADER}\n`)).toBe(true);
  const { simulatedS } = JSON.parse(first.out);
  expect(trace.split('\n').length).toBeGreaterThan(simulatedS);
});

test('another seed gives another machine', async () => {
  const first = await called('--json', '--seed', '3');
  const second = await called('--json', '--seed', '4');
  expect(withoutWallTimes(second.out)).not.toBe(withoutWallTimes(first.out));
});

test.each([
  ['si', [' g', 'bar g', '°C']],
  ['us', [' oz', 'psig', '°F']],
])(
  'the printed record in %s units has recovery, hold, charge, cautions and the truth',
  async (units, words) => {
    const { status, out, err } = await called('--units', units);
    expect({ status, err }).toEqual({ status: 0, err: '' });
    const record = out.slice(out.indexOf('JOB RECORD'));
    for (const word of [
      ...words,
      'not certified',
      'gross leaks only',
      'k = 2',
      'Truth',
      'Ledger',
      'completed',
    ])
      expect(out).toContain(word);
    expect(record.split('\n').every((line) => line.length <= 120)).toBe(true);
    expect(record.split('\n').length).toBeLessThan(80);
  },
);

test('a ticket for another refrigerant than the tank holds is refused with the remedy, and nothing moves', async () => {
  const path = scenarioFile('mismatch.json', {
    ticket: { refrigerant: 'R-1234yf', nominalChargeG: 600 },
    vehicle: { refrigerant: 'R-134a', chargeG: 500 },
    tank: { refrigerant: 'R-134a' },
  });
  const { status, out, err } = await called(path, '--json');
  expect({ status, err }).toEqual({ status: 1, err: '' });
  const { outcome, blockers, stages, simulatedS, truth } = JSON.parse(out);
  expect({ outcome, stages, simulatedS }).toEqual({ outcome: 'refused', stages: [], simulatedS: 0 });
  expect(blockers.map(({ code }: { code: string }) => code)).toEqual(['tank-refrigerant-differs']);
  expect(blockers[0].remedy).not.toBe('');
  expect(truth.vehicleRefrigerantG).toBeCloseTo(500, 3);
});

describe('a ticket that cannot be', () => {
  const IMPOSSIBLE = {
    ticket: {
      refrigerant: 'R-1234yf',
      nominalChargeG: 2500,
      electricCompressor: true,
      oil: { kind: 'PAG', addMl: 20 },
    },
    vehicle: { chargeG: 500 },
    tank: { refrigerant: 'R-134a', contentKg: 2 },
  };
  const CODES = ['tank-refrigerant-differs', 'oil-forbidden', 'oil-unfit', 'tank-too-empty'];

  test('is refused with every blocker and its remedy at once, before anything moves', async () => {
    const { status, out, err } = await called(scenarioFile('impossible.json', IMPOSSIBLE), '--json');
    expect({ status, err }).toEqual({ status: 1, err: '' });
    const { outcome, blockers, stages, truth } = JSON.parse(out);
    expect({ outcome, stages }).toEqual({ outcome: 'refused', stages: [] });
    expect(blockers.map(({ code }: { code: string }) => code)).toEqual(CODES);
    for (const { text, remedy } of blockers) expect(text.length * remedy.length).toBeGreaterThan(0);
    expect(truth.vehicleRefrigerantG).toBeCloseTo(500, 3);
    expect(truth.tankRefrigerantG).toBeCloseTo(2000, 3);
  });

  test('is refused on the page, each blocker on a line of its own with its remedy below', async () => {
    const { status, out } = await called(scenarioFile('impossible-page.json', IMPOSSIBLE));
    expect(status).toBe(1);
    for (const words of ['holds R-134a', 'PAG', 'kg are missing']) expect(out).toContain(words);
    expect(out.match(/→ /g)!.length).toBeGreaterThanOrEqual(CODES.length);
  });

  test('mended, it is NOT refused', async () => {
    const { blockers } = JSON.parse(
      (
        await called(
          scenarioFile('possible.json', {
            ticket: { ...IMPOSSIBLE.ticket, nominalChargeG: 600, oil: { kind: 'POE', addMl: 20 } },
            vehicle: { chargeG: 500 },
            tank: { refrigerant: 'R-1234yf', contentKg: 6 },
          }),
          '--json',
        )
      ).out,
    );
    expect(blockers).toEqual([]);
  });

  test('one reading of the scale that is a spike does NOT refuse a job', async () => {
    const path = scenarioFile('spiky.json', {
      ticket: { refrigerant: 'R-134a', nominalChargeG: 600 },
      vehicle: { chargeG: 500 },
      tank: { contentKg: 1.75 },
      build: { scaleSpikesPerSample: 0.1 },
    });
    for (const seed of ['1', '2', '3']) {
      const { blockers } = JSON.parse((await called(path, '--json', '--seed', seed)).out);
      expect(blockers).toEqual([]);
    }
  });
});

test('Ctrl-C ends the job in the safe state with its record and status 1', async () => {
  const terminal = fakeTerminal();
  let pressed = false;
  const status = await dispatch([run], ['run', '--json'], {
    ...terminal,
    onInterrupt: (listener) => {
      listener();
      return () => {
        pressed = true;
      };
    },
  });
  const { outcome, masses } = JSON.parse(terminal.output());
  expect(status).toBe(1);
  expect(outcome).toBe('stopped');
  expect(masses.chargedG).toBeUndefined();
  expect(pressed).toBe(true);
});
