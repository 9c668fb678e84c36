import { existsSync, readFileSync, truncateSync, writeFileSync } from 'node:fs';
import { gunzipSync, gzipSync } from 'node:zlib';
import { beforeAll, describe, expect, test } from 'vitest';
import type { replayDocument } from '../../../app/bench/replay-printed.ts';
import { dispatch } from '../../../app/cli/dispatch.ts';
import { replay } from '../../../app/cli/replay.ts';
import { run } from '../../../app/cli/run.ts';
import { MEASURED, SWITCHES } from '../../../controller/signals.ts';
import { fakeTerminal } from '../fake-terminal.ts';
import { type AnyLine, changed, demoPart, demoRecording, inFolder, resealed, SCANS } from './recordings.ts';

async function called(...args: string[]) {
  const terminal = fakeTerminal();
  const status = await dispatch([run, replay], args, terminal);
  return { status, out: terminal.output(), err: terminal.errors() };
}

async function documentOf(file: string, ...more: string[]) {
  const { status, out, err } = await called('replay', file, '--json', ...more);
  return { status, err, document: JSON.parse(out) as ReturnType<typeof replayDocument> };
}

/** A job that ends as soon as it has seen that the vehicle is full. */
const SHORT = inFolder('short.json');
writeFileSync(
  SHORT,
  JSON.stringify({
    ticket: { refrigerant: 'R-134a', nominalChargeG: 400, service: 'evacuate-and-charge' },
    vehicle: { chargeG: 300, volumeL: 1.5 },
    operator: { delayS: 1 },
  }),
);

let demo: string;
/** The first minutes of it. */
let part: string;
/** Of that. Counted from 0 the first is the opening, and scan N stands in line N. */
let lines: readonly string[];
beforeAll(async () => {
  demo = await demoRecording();
  part = await demoPart();
  lines = readFileSync(part, 'utf8').trimEnd().split('\n');
}, 120_000);

const SENSORS = [...MEASURED, ...SWITCHES] as readonly string[];
/** The same line with another value of one sensor. */
const reading =
  (name: string, to: number | boolean) =>
  (line: AnyLine): AnyLine => ({
    ...line,
    readings: SENSORS.map((sensor, at) => (sensor === name ? to : (line.readings?.[at] ?? null))),
  });

describe('a recording', () => {
  test('of a full job gives every word of commands again', async () => {
    const { status, document } = await documentOf(demo);
    expect(status).toBe(0);
    expect(document).toMatchObject({ same: true, planToday: [] });
    expect(document).not.toHaveProperty('estimates');
    expect(document).not.toHaveProperty('cut');
    expect(document.scans).toBeGreaterThan(50_000);
    expect(document.words).toBeGreaterThan(300);
  });

  test('says so in two lines', async () => {
    const { status, out } = await called('replay', part);
    expect(status).toBe(0);
    expect(out).toMatch(/Scans +3000 over 5:00, with \d+ words of commands: every command the same/);
  });

  test('of one seed is the same to the byte, packed and unpacked', async () => {
    const [plain, packed] = [inFolder('short.recording'), inFolder('short.recording.gz')];
    const first = await called('run', SHORT, '--json', '--record', plain);
    await called('run', SHORT, '--json', '--record', packed);
    expect(first.status).toBe(1);
    expect(gunzipSync(readFileSync(packed)).equals(readFileSync(plain))).toBe(true);
    expect((await called('replay', packed)).out.replaceAll('.gz', '')).toBe(
      (await called('replay', plain)).out,
    );
  });
});

describe('one flipped reading', () => {
  test.each([
    ['highSidePressurePa', 418_000],
    ['scaleCounts', 2_100_001],
    ['ambientTemperatureK', 285.7],
    ['gasAlarm', false],
  ])('of %s is found at its scan, and the commands are compared all the same', async (name, to) => {
    const file = changed(part, 'flipped.recording', 2000, reading(name, to));
    const { status, err, document } = await documentOf(file);
    expect(status).toBe(2);
    expect(err).toMatch(/^coldbench: [^\n]*line 2001, scan 2000 at 3:20 \(199\.9 s\)[^\n]*\n$/);
    expect(document.damage).toMatchObject({ line: 2001, scan: 2000, atMs: 199_900, lines: 1 });
    expect(document.damage!.context!.readings).toHaveProperty([name, 'value'], to);
    expect(document).toMatchObject({ same: true, scans: SCANS });
  });

  test('of the scale, if the rig had said so, is found in the estimates of its scan', async () => {
    // One count that is not the middle one of the last is no other estimate: here it is.
    const counts = (JSON.parse(lines[2001]!) as AnyLine).readings![SENSORS.indexOf('scaleCounts')] as number;
    const flipped = changed(part, 'flipped.recording', 2001, reading('scaleCounts', counts - 640));
    const { status, document } = await documentOf(resealed(flipped, 'said.recording'));
    expect(status).toBe(0);
    expect(document).toMatchObject({ same: true, estimates: { name: 'tankNetKg', scan: 2001 } });
  });

  test('of the emergency stop, if the rig had said so, is a trip at its scan', async () => {
    const flipped = changed(part, 'flipped.recording', 2000, reading('emergencyStop', true));
    const { status, document } = await documentOf(resealed(flipped, 'said.recording'));
    expect(status).toBe(1);
    expect(document.difference).toMatchObject({ scan: 2000, atMs: 199_900 });
    expect(document.difference!.in).toEqual(['commands', 'trip', 'notices']);
    expect(document.difference!.now.trip).toMatch(/^IL-/);
    expect(document.difference!.recorded.trip).toBeUndefined();
    expect(document.difference!.before.map(({ scan }) => scan)).toEqual([1997, 1998, 1999]);
    expect(document.difference!.after.map(({ scan }) => scan)).toEqual([2001, 2002, 2003]);
  });
});

describe('another logic', () => {
  test('is found at the first word that differs, with what was read and what was waited for', async () => {
    const slower = resealed(
      changed(part, 'slower.recording', 0, (line) => {
        const { equipment } = line as unknown as { equipment: { compressor: { minimumOffMs: number } } };
        equipment.compressor.minimumOffMs += 5000;
        return line;
      }),
      'slower-sealed.recording',
    );
    const { status, out } = await called('replay', slower);
    expect(status).toBe(1);
    const opens = lines.findIndex((line) => /"on":\{[^}]*"highSideValve":true/.test(line));
    expect(out).toMatch(
      new RegExp(`Difference +first at scan ${opens}, \\d+:\\d\\d \\([\\d.]+ s\\), in commands`),
    );
    expect(out).toMatch(/on +recorded: highSideValve\n +now: +–/);
    expect(out).toMatch(/waiting for +recorded: the high side .*\n +now: +the compressor to have rested/);
    expect(out).toMatch(/tankTemperatureK \d+/);
    expect(out).toMatch(/no longer answers the logic of today/);
  });

  test('a plan that would be another one today is told, and used on request', async () => {
    const lower = resealed(
      changed(part, 'lower.recording', 0, (line) => {
        const { plan } = line as unknown as { plan: { settle: { compressorRestMs: number } } };
        plan.settle.compressorRestMs -= 1000;
        return line;
      }),
      'lower-sealed.recording',
    );
    const kept = await called('replay', lower);
    expect(kept.status).toBe(1);
    expect(kept.out).toMatch(/Plan +would be another one today: settle.compressorRestMs 9000, today 10000/);
    expect((await called('replay', lower, '--replan')).status).toBe(0);
  });
});

describe('what cannot be read is one line', () => {
  const written = (name: string, content: string | Buffer): string => {
    writeFileSync(inFolder(name), content);
    return inFolder(name);
  };

  test.each<[string, () => string, RegExp]>([
    [
      'nothing there',
      () => inFolder('none'),
      /none: there is no such file; 'coldbench run --record FILE' writes a recording/,
    ],
    ['a folder', () => inFolder(''), /cannot read/],
    [
      'nothing in it',
      () => written('empty', ''),
      /is not a recording; 'coldbench run --record FILE' writes one/,
    ],
    ['any other file', () => written('other', '{"name": "x"}\n'), /is not a recording/],
    [
      'bytes',
      () => written('bytes', Buffer.from(Array.from({ length: 9000 }, (_, at) => (at * 7919) % 256))),
      /is not a recording/,
    ],
    ['two megabytes without a line', () => written('long', 'x'.repeat(2_000_000)), /has no lines/],
    [
      'a trace',
      () => written('a.trace.csv', 'time [s],stage\n0,recover\n'),
      /is a trace: a row a second is not enough/,
    ],
    [
      'another version',
      () => changed(part, 'v3', 0, (line) => ({ ...line, format: 3, version: '3.1.0' }) as AnyLine),
      /has format 3, this version reads 1 and 2: read it with coldbench 3\.1\.0/,
    ],
    [
      'other sensors',
      () => changed(part, 'sensors', 0, (line) => ({ ...line, measured: ['speed'] }) as unknown as AnyLine),
      /has other sensors than this version knows/,
    ],
    [
      'a changed opening',
      () => changed(part, 'opening', 0, (line) => ({ ...line, atMs: 1 }) as unknown as AnyLine),
      /its first line is not what was written/,
    ],
    [
      'a packed one that was damaged',
      () => {
        const packed = gzipSync(lines.slice(0, 2000).join('\n'));
        // The checksum of gzip itself.
        packed[packed.length - 8]! ^= 1;
        return written('hole.gz', packed);
      },
      /cannot unpack .*hole\.gz beyond line \d+: incorrect data check/,
    ],
    [
      'a line that is none',
      () => written('text', [...lines.slice(0, 50), 'hello', ...lines.slice(50)].join('\n')),
      /line 51, scan 50: it is no scan/,
    ],
    [
      'an output that there is not',
      () => changed(part, 'output', 9, (line) => ({ ...line, on: { spark: true } }) as AnyLine),
      /line 10, scan 9: it commands 'spark', which is no output/,
    ],
    ['no scan at all', () => written('opening-only', `${lines[0]}\n`), /has no scan/],
  ])('%s', async (_, file, words) => {
    const { status, out, err } = await called('replay', file());
    expect({ status, out }).toEqual({ status: 2, out: '' });
    expect(err).toMatch(/^coldbench: [^\n]+\n$/);
    expect(err).toMatch(words);
  });

  test('a recording that was cut off is replayed up to the tear, and that is told', async () => {
    const torn = inFolder('torn');
    writeFileSync(torn, lines.join('\n'));
    truncateSync(torn, 500_000);
    const whole = readFileSync(torn, 'utf8').split('\n').length - 2;
    const { status, out } = await called('replay', torn);
    expect(status).toBe(0);
    expect(out).toMatch(new RegExp(`not whole: it was cut off after ${whole} scans`));
  });

  test('a line that is lost is told apart from another logic', async () => {
    const lost = written('lost', lines.filter((_, at) => at !== 2000).join('\n'));
    const { status, err, document } = await documentOf(lost);
    expect(status).toBe(2);
    expect(err).toMatch(/line 2001, scan 2000/);
    expect(document.damage!.lines).toBe(1);
    expect(document.cut).toMatch(/it has \d+ scans, and had \d+/);
  });
});

describe('a place that cannot be written', () => {
  test('from the start is refused before anything runs', async () => {
    const { status, out, err } = await called('run', '--record', inFolder('no/where'));
    expect({ status, out }).toEqual({ status: 2, out: '' });
    expect(err).toMatch(/cannot write the recording to .*; give --record another file/);
  });

  test.runIf(existsSync('/dev/full')).each([
    ['--record', 'recording'],
    ['--trace', 'trace'],
  ])('any more for %s is told once, and the job goes on', async (option, what) => {
    const { status, out } = await called('run', SHORT, option, '/dev/full');
    expect(status).toBe(1);
    expect(out.split(`The ${what} /dev/full ends here, the job goes on: ENOSPC`)).toHaveLength(2);
    expect(out).toContain('JOB RECORD');
  });
});
