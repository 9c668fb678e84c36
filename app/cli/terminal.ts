// The process's own streams as a Terminal.
import { createInterface } from 'node:readline';
import type { Terminal } from './command.ts';

/** A reader that goes away (`coldbench … | head`) ends the process quietly; it is not an error of ours. */
function endQuietlyWhenNobodyReads(stream: NodeJS.WriteStream): void {
  stream.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code !== 'EPIPE') throw error;
    process.exit();
  });
}

/** One Ctrl-C may arrive more than once: from the terminal itself, and forwarded by whoever started this process. */
const SAME_PRESS_MS = 500;
/** 128 + SIGINT, as shells report it. */
const KILLED_BY_INTERRUPT = 130;

/** The first Ctrl-C is the listener's; the next one ends the process. */
function listenForInterrupt(listener: () => void): () => void {
  let firstAtMs: number | undefined;
  const pressed = () => {
    if (firstAtMs === undefined) {
      firstAtMs = performance.now();
      listener();
    } else if (performance.now() - firstAtMs > SAME_PRESS_MS) process.exit(KILLED_BY_INTERRUPT);
  };
  process.on('SIGINT', pressed);
  return () => process.off('SIGINT', pressed);
}

export function processTerminal(): Terminal {
  endQuietlyWhenNobodyReads(process.stdout);
  endQuietlyWhenNobodyReads(process.stderr);
  return {
    out: (text) => void process.stdout.write(text),
    err: (text) => void process.stderr.write(text),
    lines: () => createInterface({ input: process.stdin, crlfDelay: Number.POSITIVE_INFINITY }),
    interactive: process.stdout.isTTY === true,
    columns: process.stdout.isTTY === true ? process.stdout.columns : undefined,
    onInterrupt: listenForInterrupt,
  };
}
