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

export function processTerminal(): Terminal {
  endQuietlyWhenNobodyReads(process.stdout);
  endQuietlyWhenNobodyReads(process.stderr);
  return {
    out: (text) => void process.stdout.write(text),
    err: (text) => void process.stderr.write(text),
    lines: () => createInterface({ input: process.stdin, crlfDelay: Number.POSITIVE_INFINITY }),
    interactive: process.stdout.isTTY === true,
    columns: process.stdout.isTTY === true ? process.stdout.columns : undefined,
  };
}
