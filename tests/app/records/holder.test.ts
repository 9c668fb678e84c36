// A job is in hand only as long as its process lives.
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { runningElsewhere, thisProcess } from '../../../app/records/holder.ts';

/** Field 22 of /proc/pid/stat (proc(5)). */
const startOf = (pid: number): string =>
  readFileSync(`/proc/${pid}/stat`, 'utf8')
    .replace(/^.*\) /, '')
    .split(' ')[19]!;

const heldBy = (pid: number): string =>
  JSON.stringify({ ...JSON.parse(thisProcess()), pid, started: startOf(pid) });

test.runIf(existsSync('/proc/self/stat'))(
  'a process that has ended holds no job, even while its parent has not asked for its end',
  async () => {
    const parent = spawn('sh', ['-c', 'sleep 600 & echo $!; exec sleep 600'], {
      stdio: ['ignore', 'pipe', 'ignore'],
    });
    try {
      const [line] = (await once(parent.stdout, 'data')) as [Buffer];
      const pid = Number(line.toString());
      // A shell would still ask for its child's end.
      await expect.poll(() => readFileSync(`/proc/${parent.pid}/comm`, 'utf8').trim()).toBe('sleep');
      const held = heldBy(pid);
      expect(runningElsewhere(held)).toBe(pid);
      process.kill(pid, 'SIGKILL');
      await expect.poll(() => runningElsewhere(held)).toBeUndefined();
      expect(existsSync(`/proc/${pid}`)).toBe(true);
    } finally {
      parent.kill('SIGKILL');
    }
  },
);
