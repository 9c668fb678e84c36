// A file that is written while a job runs holds nothing up: neither a disk that stands still nor one that is full.
import { spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, readFileSync } from 'node:fs';
import { gunzipSync } from 'node:zlib';
import { expect, test } from 'vitest';
import { WaitingFile } from '../../../app/cli/waiting-file.ts';
import { inFolder } from '../bench/recordings.ts';

const ASKED = { option: '--record', what: 'recording' };
const LINE = `${'x'.repeat(1023)}\n`;
/** More than the file keeps in memory for a slow disk. */
const FAR_TOO_MANY = 40_000;

test('a disk that stands still never makes a writer wait: the recording ends, and that is told once', async () => {
  const pipe = inFolder('pipe');
  expect(spawnSync('sh', ['-c', `mkfifo '${pipe}'`]).status).toBe(0);
  const reader = spawn('sh', ['-c', `exec 3<'${pipe}'; echo open; exec sleep 600`], {
    stdio: ['ignore', 'pipe', 'ignore'],
  });
  const told: string[] = [];
  const file = new WaitingFile(pipe, ASKED, (text) => told.push(text));
  await once(reader.stdout, 'data');
  for (let line = 0; line < FAR_TOO_MANY; line++) file.write(LINE);
  expect(told).toEqual([`The recording ${pipe} ends here, the job goes on: the disk is too slow.`]);
  reader.kill('SIGKILL');
  await file.close();
  expect(told).toHaveLength(1);
});

test.runIf(existsSync('/dev/full'))('a full disk is told once, however much follows', async () => {
  const told: string[] = [];
  const file = new WaitingFile('/dev/full', ASKED, (text) => told.push(text));
  for (let line = 0; line < 200; line++) file.write(LINE);
  await file.close();
  expect(told).toEqual([expect.stringMatching(/\/dev\/full ends here, the job goes on: ENOSPC/)]);
});

test('what was flushed can be read while the job still runs, packed too', async () => {
  const path = inFolder('flushed.recording.gz');
  const file = new WaitingFile(path, ASKED, () => {});
  file.write('one\n');
  file.flush();
  file.write('two\n');
  for (let turn = 0; readFileSync(path).length === 0 && turn < 10_000; turn++)
    await new Promise((resolve) => setImmediate(resolve));
  expect(gunzipSync(readFileSync(path)).toString()).toBe('one\n');
  await file.close();
  expect(gunzipSync(readFileSync(path)).toString()).toBe('one\ntwo\n');
});

test('it does not overwrite the job that it records', () => {
  const own = inFolder('own.json');
  spawnSync('touch', [own]);
  expect(() => WaitingFile.check(own, ASKED, [own])).toThrow(/--record .* would overwrite/);
});
