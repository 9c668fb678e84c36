// Where tests keep files in memory, where that is possible: what a process leaves behind is there as on a disk, and nobody
// waits for one.
import { existsSync } from 'node:fs';
import { tmpdir } from 'node:os';

const { TEST_MEMORY } = process.env;

export const MEMORY = TEST_MEMORY ?? (existsSync('/dev/shm') ? '/dev/shm' : tmpdir());
