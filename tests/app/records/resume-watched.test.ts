// A job that goes on after a cut is written down as one that begins: its recording plays again from where it was taken up.
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { dispatch } from '../../../app/cli/dispatch.ts';
import { replay } from '../../../app/cli/replay.ts';
import { resume } from '../../../app/cli/resume.ts';
import { fakeTerminal } from '../fake-terminal.ts';
import { CAR, newFile, recordedRun, recordsFolder, withStore } from './jobs.ts';

async function called(...args: string[]) {
  const terminal = fakeTerminal();
  const status = await dispatch([resume, replay], args, terminal);
  return { status, out: terminal.output(), err: terminal.errors() };
}

const inFolder = (name: string): string => path.join(recordsFolder(), name);
const RECORDING = inFolder('taken-up.recording');
const TRACE = inFolder('taken-up.csv');

let file: string;
beforeAll(async () => {
  file = newFile();
  await withStore(file, (store) =>
    recordedRun(store, CAR, {
      look: ({ nowMs }, loop) => {
        const drawing = loop.state.visits.find(({ stage }) => stage === 'recover');
        if (drawing !== undefined && nowMs > drawing.startedAtMs + 60_000) loop.die();
      },
    }),
  );
});

describe('a job that goes on', () => {
  test('writes over no file of its first process, and nothing where it does not go on: it is still open', async () => {
    const before = inFolder('before.recording');
    writeFileSync(before, 'the first hour');
    const goOn = ['resume', '--choose', 'go-on', '--records', file];
    expect(await called(...goOn, '--record', before)).toMatchObject({
      status: 2,
      err: expect.stringMatching(
        /^coldbench: --record \S+: there is something in it already; give another file\n$/,
      ),
    });
    expect(readFileSync(before, 'utf8')).toBe('the first hour');
    expect(await called(...goOn, '--trace', inFolder('no/folder.csv'))).toMatchObject({
      status: 2,
      err: expect.stringMatching(/cannot write the trace to .*; give --trace another file/),
    });
    const unheard = ['--record', RECORDING, '--trace', TRACE, '--mqtt', 'mqtt://127.0.0.1:1'];
    expect(await called(...goOn, ...unheard)).toMatchObject({ status: 2 });
    expect([RECORDING, TRACE].filter((made) => existsSync(made))).toEqual([]);
    for (const choice of [[], ['--choose', 'close']])
      expect(await called('resume', ...choice, '--record', RECORDING, '--records', file)).toMatchObject({
        status: 2,
        err: expect.stringContaining('--record is for a job that goes on; give --choose go-on with it'),
      });
    expect(existsSync(RECORDING)).toBe(false);
    expect((await called('resume', '--records', file)).out).toMatch(/Under way +recover/);
  });

  test('has a trace and a recording that plays again, every command the same', async () => {
    const watched = ['--record', RECORDING, '--trace', TRACE];
    expect(await called('resume', '--choose', 'go-on', ...watched, '--records', file)).toMatchObject({
      status: 0,
      err: '',
    });
    const [header, ...rows] = readFileSync(TRACE, 'utf8').trimEnd().split('\n');
    expect(header).toMatch(/^time \[s\],stage,/);
    expect(rows.length).toBeGreaterThan(1000);
    const { status, out } = await called('replay', RECORDING, '--json');
    expect(status).toBe(0);
    const document = JSON.parse(out);
    expect(document).toMatchObject({ same: true });
    expect(document).not.toHaveProperty('estimates');
    expect(document.scans).toBeGreaterThan(10_000);
  });

  test('is not replayed with another plan than it was begun with, nor by a version that would begin it anew', async () => {
    expect((await called('replay', RECORDING, '--replan')).err).toMatch(
      /of a job that was taken up, with the plan of its begin: leave --replan out/,
    );
    expect(JSON.parse(readFileSync(RECORDING, 'utf8').split('\n')[0]!)).toMatchObject({ format: 2 });
  });
});
