// A pseudo-terminal that looks like a serial port to other programs; made by socat, since Node can make none.
import { type ChildProcess, spawn } from 'node:child_process';
import { RunBroken } from '../cli/command.ts';

export type PseudoTerminal = {
  readonly send: (bytes: Uint8Array) => void;
  readonly close: () => void;
};

const problemOf = (error: NodeJS.ErrnoException): string =>
  error.code === 'ENOENT'
    ? 'socat is needed for a pseudo-terminal and is not installed; install it (on Debian: apt-get install socat)'
    : `cannot start socat: ${error.message}`;

/** What nobody fetches is lost, as on a wire. */
const MOST_WAITING_BYTES = 4_096;

/**
 * Makes the pseudo-terminal and links it to `path`.
 * @param heard takes what another program writes into it.
 * @param ended is told once if it goes away by itself.
 */
export function openPseudoTerminal(
  path: string,
  heard: (bytes: Uint8Array) => void,
  ended: (error: RunBroken) => void,
): PseudoTerminal {
  let closed = false;
  const end = (problem: string): void => {
    if (!closed) ended(new RunBroken(problem));
    closed = true;
  };
  // rawer: nothing is echoed or turned into signals; ignoreeof and the open slave keep it over a host that closes. In a
  // group of its own, a Ctrl-C at the terminal is this program's to heed, and not the end of its port.
  const child: ChildProcess = spawn('socat', [`PTY,link=${path},rawer,ignoreeof,mode=660`, 'STDIO'], {
    stdio: ['pipe', 'pipe', 'pipe'],
    detached: true,
  });
  let said = '';
  child.stderr!.on('data', (text: Buffer) => {
    said += text.toString('utf8');
  });
  child.stdout!.on('data', (bytes: Uint8Array) => heard(bytes));
  child.stdin!.on('error', () => end('the pseudo-terminal takes nothing more'));
  child.on('error', (error) => end(problemOf(error)));
  child.on('exit', () => end(`socat has ended: ${said.trim().split('\n').at(-1) || 'no reason given'}`));
  return {
    send: (bytes) => {
      if (!closed && child.stdin!.writableLength < MOST_WAITING_BYTES) child.stdin!.write(bytes);
    },
    close: () => {
      closed = true;
      child.kill();
    },
  };
}
