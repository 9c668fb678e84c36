// A run of the tests has one folder on disk and one in memory; both go when it ends, whatever its tests have left in them.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { MEMORY } from './memory.ts';

/** Before the first worker starts, which takes over what the environment says. */
export default function runFolder(): () => void {
  const [disk, memory] = [tmpdir(), MEMORY].map((place) => mkdtempSync(path.join(place, 'coldbench-tests-')));
  Object.assign(process.env, { TMPDIR: disk, TEST_MEMORY: memory });
  return () => {
    for (const folder of [disk!, memory!]) rmSync(folder, { recursive: true, force: true });
  };
}
