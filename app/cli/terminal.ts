// The process's own streams as a Terminal.
import { writeSync } from 'node:fs';
import { createInterface } from 'node:readline';
import { isatty } from 'node:tty';
import type { Terminal } from './command.ts';
import { converse } from './conversation.ts';
import { EXIT } from './exit.ts';

/** A reader that goes away (`coldbench … | head`) ends the process quietly; a full disk ends it with one line. */
function endWhenNobodyReads(stream: NodeJS.WriteStream): void {
  stream.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'EPIPE') process.exit();
    writeSync(
      process.stderr.fd,
      `coldbench: cannot write the output (${error.code}); free some room or write elsewhere\n`,
    );
    process.exit(EXIT.badInput);
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

/** Lines of standard input; whoever leaves them lets go of it, so that a pipe which stays open keeps no process alive. */
function typedLines(): AsyncIterable<string> {
  const reader = createInterface({ input: process.stdin, crlfDelay: Number.POSITIVE_INFINITY });
  return {
    [Symbol.asyncIterator]: () => {
      const lines = reader[Symbol.asyncIterator]();
      return {
        next: () => lines.next(),
        return: async () => {
          reader.close();
          return { done: true, value: undefined };
        },
      };
    },
  };
}

/** Whoever asks `process.stdin` makes it a stream, and a scenario can no longer be read from it at once. */
const STANDARD_INPUT_FD = 0;

export function processTerminal(): Terminal {
  endWhenNobodyReads(process.stdout);
  endWhenNobodyReads(process.stderr);
  return {
    out: (text) => void process.stdout.write(text),
    err: (text) => void process.stderr.write(text),
    lines: typedLines,
    interactive: process.stdout.isTTY === true,
    errorsInteractive: process.stderr.isTTY === true,
    columns: process.stdout.isTTY === true ? process.stdout.columns : undefined,
    onInterrupt: listenForInterrupt,
    ...(isatty(STANDARD_INPUT_FD) && process.stdout.isTTY === true ? { converse } : {}),
  };
}
