// Recordings for tests: the demo job written down once, and what can be done to its lines.
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { Checked, type ScanLine } from '../../../app/bench/recording.ts';
import { run } from '../../../app/cli/run.ts';
import { fakeTerminal } from '../fake-terminal.ts';

const folder = mkdtempSync(path.join(tmpdir(), 'coldbench-recordings-'));
export const inFolder = (name: string): string => path.join(folder, name);

let demo: Promise<string> | undefined;

async function record(): Promise<string> {
  const file = inFolder('demo.recording');
  const status = await run.run(['--json', '--record', file], fakeTerminal());
  if (status !== 0) throw new Error(`the demo ended with ${status}`);
  return file;
}

/** The file of the demo job's recording; the same for everybody. */
export function demoRecording(): Promise<string> {
  demo ??= record();
  return demo;
}

export type AnyLine = ScanLine & { readonly crc: string };

/** A copy in which one line is another one. */
export function changed(file: string, name: string, at: number, change: (line: AnyLine) => AnyLine): string {
  const lines = readFileSync(file, 'utf8').split('\n');
  lines[at] = JSON.stringify(change(JSON.parse(lines[at]!)));
  writeFileSync(inFolder(name), lines.join('\n'));
  return inFolder(name);
}

/** A copy whose checksums are right again, as if the rig had said so. */
export function resealed(file: string, name: string): string {
  const checked = new Checked();
  const lines = readFileSync(file, 'utf8').trimEnd().split('\n');
  const sealed = lines.map((line) => {
    const { crc: _, ...rest } = JSON.parse(line);
    return checked.sealed(rest);
  });
  writeFileSync(inFolder(name), sealed.join(''));
  return inFolder(name);
}

/** How many scans the part has: the compressor has started. */
export const SCANS = 3000;

/** A whole recording of the first minutes of the demo job. */
export async function demoPart(): Promise<string> {
  const first = readFileSync(await demoRecording(), 'utf8')
    .split('\n')
    .slice(0, SCANS + 1);
  writeFileSync(inFolder('first'), [...first, JSON.stringify({ end: { scans: SCANS } })].join('\n'));
  return resealed(inFolder('first'), 'part.recording');
}
