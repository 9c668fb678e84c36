// `coldbench emulate` as a process of its own: Ctrl-C ends it whatever its input is, and it leaves no port behind.
import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, afterEach, describe, expect, test } from 'vitest';

const CLI = fileURLToPath(new URL('../../app/cli.ts', import.meta.url));
const socatIsThere = spawnSync('socat', ['-V']).status === 0;

describe.skipIf(!socatIsThere)('emulate', () => {
  const folder = mkdtempSync(path.join(tmpdir(), 'coldbench-emulate-'));
  const link = path.join(folder, 'board');
  const running: ChildProcess[] = [];
  afterEach(() => {
    for (const child of running.splice(0)) child.kill('SIGKILL');
  });
  afterAll(() => rmSync(folder, { recursive: true }));

  /** Runs in a group of its own, as a shell starts it. */
  async function standing(): Promise<{ child: ChildProcess; told: () => string }> {
    const child = spawn(process.execPath, [CLI, 'emulate', '--link', link], { detached: true });
    running.push(child);
    let told = '';
    child.stderr!.on('data', (text: Buffer) => {
      told += text.toString();
    });
    await once(child.stdout!, 'data');
    return { child, told: () => told };
  }

  test.each([
    ['a pipe that stays open', () => {}],
    ['a pipe that has ended', (child: ChildProcess) => void child.stdin!.end()],
    ['a pipe with something in it', (child: ChildProcess) => void child.stdin!.write('status\n')],
  ])('Ctrl-C, which reaches the whole group, ends it with %s on its input', async (_, feed) => {
    const { child, told } = await standing();
    expect(existsSync(link)).toBe(true);
    feed(child);
    process.kill(-child.pid!, 'SIGINT');
    const [status] = await once(child, 'exit');
    expect({ status, told: told() }).toEqual({ status: 0, told: '' });
    expect(existsSync(link)).toBe(false);
  });

  test('the check can fail: without Ctrl-C it stays, and its port with it', async () => {
    const { child } = await standing();
    child.stdin!.write('status\n');
    await once(child.stdout!, 'data');
    expect(child.exitCode).toBeNull();
    expect(existsSync(link)).toBe(true);
    child.kill('SIGINT');
    await once(child, 'exit');
  });
});
