// Recordings of the page's jobs: each plays again to the last command, none writes over another, and trouble ends no job.
import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { dispatch } from '../../../app/cli/dispatch.ts';
import { replay } from '../../../app/cli/replay.ts';
import { Recordings } from '../../../app/page/server/recordings.ts';
import { MEMORY } from '../../memory.ts';
import { fakeTerminal } from '../fake-terminal.ts';
import { beginJob, newPanel } from './panel.ts';

const SCENARIO = {
  name: 'a small van, emptied',
  seed: 5,
  ticket: { refrigerant: 'R-134a', nominalChargeG: 500, service: 'recover' },
  vehicle: { chargeG: 200, volumeL: 1.5 },
};

let folder: string;
let recordings: Recordings;
beforeEach(() => {
  folder = mkdtempSync(path.join(MEMORY, 'coldbench-recordings-'));
  recordings = new Recordings(path.join(folder, 'jobs'));
});
afterEach(() => rmSync(folder, { recursive: true }));

const written = (): string[] => readdirSync(path.join(folder, 'jobs')).sort();

/** A panel with a job under way, and a clock that moves it. */
function begun() {
  const file = path.join(folder, 'scenario.json');
  writeFileSync(file, JSON.stringify(SCENARIO));
  let wallMs = 0;
  const panel = newPanel(file, { wallClockMs: () => wallMs, recordings });
  beginJob(panel);
  const beats = (most: number): void => {
    for (let beat = 0; beat < most && panel.bench.phase === 'job'; beat += 1) {
      wallMs += 100;
      panel.beat();
    }
  };
  return { panel, beats };
}

async function replayed(name: string) {
  const terminal = fakeTerminal();
  const file = path.join(folder, 'jobs', name);
  const status = await dispatch([replay], ['replay', file, '--json'], terminal);
  return { status, told: JSON.parse(terminal.output()) };
}

test('a job that was begun on the page plays again, every command the same', async () => {
  const { panel, beats } = begun();
  beats(4_000);
  expect(panel.bench.phase).toBe('ended');
  await recordings.close();
  expect(written()).toEqual(['job-0001.recording.gz']);
  const { status, told } = await replayed('job-0001.recording.gz');
  expect(status).toBe(0);
  expect(told).toMatchObject({ name: SCENARIO.name, rig: 'simulated bench' });
  expect(told.scans).toBeGreaterThan(3_000);
  expect(told.words).toBeGreaterThan(10);
  expect(told.difference).toBeUndefined();
  expect(told.cut).toBeUndefined();
});

test('a job that the end of the server leaves is whole up to there, and the next has the next free number', async () => {
  writeFileSync(path.join(folder, 'jobs', 'job-0001.recording.gz'), 'kept');
  const { panel, beats } = begun();
  beats(3);
  expect(panel.bench.phase).toBe('job');
  panel.end();
  await recordings.close();
  expect(written()).toEqual(['job-0001.recording.gz', 'job-0002.recording.gz']);
  const { status, told } = await replayed('job-0002.recording.gz');
  expect(status).toBe(0);
  expect(told.cut).toBeUndefined();
});

test('a folder that is gone is told once, and the job goes on without', async () => {
  rmSync(path.join(folder, 'jobs'), { recursive: true });
  const { panel, beats } = begun();
  expect(panel.bench.told).toEqual([
    expect.stringMatching(/^This job is not recorded: cannot write .*; give --recordings another folder\.$/),
  ]);
  beats(3);
  expect(panel.bench.phase).toBe('job');
  await recordings.close();
});

test('an end that the disk refuses is told, and ends nothing else', async () => {
  const told: string[] = [];
  const part = recordings.begin((text) => told.push(text))!;
  const { close } = part;
  const refused = async (): Promise<void> => {
    await close();
    throw new Error('no disk');
  };
  Object.assign(part, { close: refused });
  recordings.end(part, (text) => told.push(text));
  await recordings.close();
  expect(told).toEqual(["The end of this job's recording is not written: no disk."]);
});

test('a folder that cannot be is refused before anything is served', () => {
  writeFileSync(path.join(folder, 'file'), '');
  expect(() => new Recordings(path.join(folder, 'no', 'jobs'))).toThrow(/no such file/);
  expect(() => new Recordings(path.join(folder, 'file'))).toThrow(/it is no folder/);
  expect(() => new Recordings(path.join(folder, 'file', 'jobs'))).toThrow(
    /^cannot write recordings to .*--recordings/,
  );
});
