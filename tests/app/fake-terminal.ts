// A terminal that remembers, for tests of the command line.
import type { Terminal } from '../../app/cli/command.ts';

export type FakeTerminal = Terminal & { readonly output: () => string; readonly errors: () => string };

export function fakeTerminal(
  options: { interactive?: boolean; columns?: number; input?: string[] } = {},
): FakeTerminal {
  const out: string[] = [];
  const err: string[] = [];
  return {
    out: (text) => void out.push(text),
    err: (text) => void err.push(text),
    async *lines() {
      yield* options.input ?? [];
    },
    interactive: options.interactive ?? false,
    columns: options.columns,
    output: () => out.join(''),
    errors: () => err.join(''),
  };
}
