// Which process has a job in hand, so that nobody takes one up that another process is still running.
import { readFileSync } from 'node:fs';
import { hostname } from 'node:os';

/** Fields of /proc/pid/stat from the third on (proc(5)). */
function statOf(pid: number): readonly string[] {
  try {
    const stat = readFileSync(`/proc/${pid}/stat`, 'utf8');
    return stat.slice(stat.lastIndexOf(')') + 2).split(' ');
  } catch {
    return [];
  }
}

/** When a process was started, in ticks since boot (field 22): a number given anew is another process. */
const startedAt = (pid: number): string => statOf(pid)[19] ?? '';

/** Dead, and kept by the system until its parent has asked for its end: in a container that may be never. */
const isDead = (pid: number): boolean => statOf(pid)[0] === 'Z';

const bootId = (): string => {
  try {
    return readFileSync('/proc/sys/kernel/random/boot_id', 'utf8').trim();
  } catch {
    return '';
  }
};

export const thisProcess = (): string =>
  JSON.stringify({ host: hostname(), boot: bootId(), pid: process.pid, started: startedAt(process.pid) });

type Holder = {
  readonly host: string;
  readonly boot: string;
  readonly pid: number;
  readonly started: string;
};

function isThere(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}

/** The process that is still running this job, if it is another one on this computer. */
export function runningElsewhere(holder: string): number | undefined {
  const { host, boot, pid, started } = JSON.parse(holder) as Holder;
  const here = host === hostname() && boot === bootId();
  if (!here || pid === process.pid || !isThere(pid) || isDead(pid)) return undefined;
  return startedAt(pid) === started ? pid : undefined;
}
