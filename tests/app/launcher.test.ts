import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, test } from 'vitest';

const launcher = fileURLToPath(new URL('../../app/coldbench.js', import.meta.url));
const elsewhere = mkdtempSync(path.join(tmpdir(), 'coldbench-launcher-'));
afterAll(() => rmSync(elsewhere, { recursive: true }));

/** Makes a Node say that it is an older one, which must then start the pinned one. */
const PRETEND_OLD = [
  '--import',
  'data:text/javascript,Object.defineProperty(process,"versions",{value:{...process.versions,node:"20.0.0"}})',
];

describe.each([
  ['on the Node that runs', []],
  ['on an older Node', PRETEND_OLD],
])('the launcher %s', (_, flags) => {
  function started(...args: string[]) {
    const { status, stdout, stderr } = spawnSync(process.execPath, [...flags, launcher, ...args], {
      cwd: elsewhere,
      encoding: 'utf8',
    });
    return { status, stdout, stderr };
  }

  test('runs the command line from any folder and passes its output on', () => {
    const { status, stdout, stderr } = started('--version');
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
    expect(stdout).toMatch(/^coldbench \d/);
  });

  test('passes the exit status and the one line of bad input on', () => {
    const { status, stdout, stderr } = started('run', 'none.json');
    expect({ status, stdout }).toEqual({ status: 2, stdout: '' });
    expect(stderr).toBe(
      'coldbench: none.json: there is no such file; give the path of a scenario, or none for the demo job\n',
    );
  });
});

test('a reader that goes away early is not an error', () => {
  const shell = spawnSync('sh', ['-c', `"$0" "$1" run --json | head -n 1`, process.execPath, launcher], {
    cwd: elsewhere,
    encoding: 'utf8',
  });
  expect(shell.stdout).toBe('{\n');
  expect(shell.stderr).toBe('');
});
