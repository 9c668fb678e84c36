// Starts fresh processes, one after the other, for everything that only a cold one can tell.
import { execFile } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import type { OneProcess } from './one-process.ts';

const PROGRAM = fileURLToPath(new URL('./one-process.ts', import.meta.url));
/** Where the launcher has Node keep compiled code: the command line finds there what an earlier start has left. */
const NODE_COMPILE_CACHE = fileURLToPath(new URL('../../node_modules/.cache/coldbench', import.meta.url));
const run = promisify(execFile);

/** @throws Error with what the process said, when it fails */
export async function freshProcess(runs: number, mode: 'plain' | 'split'): Promise<OneProcess> {
  const { stdout } = await run(process.execPath, [PROGRAM, String(runs), mode], {
    env: { ...process.env, NODE_COMPILE_CACHE },
  });
  return JSON.parse(stdout) as OneProcess;
}
