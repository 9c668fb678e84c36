// What every subcommand of the command line looks like, and the one error that means 'the input was wrong'.

/** Where a command reads and writes; tests hand in their own. */
export interface Terminal {
  /** Standard output, text as given (add your own line ends). */
  out(text: string): void;
  /** Standard error. */
  err(text: string): void;
  /** Standard input, line by line. */
  lines(): AsyncIterable<string>;
  /** True when standard output is a terminal that can redraw a line. */
  readonly interactive: boolean;
  /** True when standard error is such a terminal. */
  readonly errorsInteractive?: boolean;
  /** Width of that terminal, where it is known. */
  readonly columns?: number | undefined;
  /** Calls the listener when the person at the terminal presses Ctrl-C; answers how to stop listening. */
  onInterrupt?(listener: () => void): () => void;
  /** Talks with the person at the terminal; absent when there is none. */
  converse?(beatMs: number): Conversation;
}

/** A person at the keyboard: the lines as they are typed, and nothing every so often while none is. */
export interface Conversation extends AsyncIterable<string | undefined> {
  /** Keeps these figures on the screen, above what is being typed. */
  show(status: readonly string[]): void;
  /** Lasting text with its line end, above all that. */
  print(text: string): void;
  close(): void;
}

export interface CliCommand {
  readonly name: string;
  /** One line for the overview. */
  readonly summary: string;
  /** The whole help text, shown by `coldbench NAME --help`. */
  readonly help: string;
  /** Runs with the arguments after the name and answers the exit status. */
  run(args: readonly string[], terminal: Terminal): Promise<number>;
}

/** What an error says, whatever was thrown. */
export const textOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));

/** Wrong input: the message is one line that says what is wrong and how to mend it. Ends the process with status 2. */
export class InputError extends Error {
  override readonly name = 'InputError';
}

/** The run cannot go on, through no fault of the controller: one line that says why. Ends the process with status 1. */
export class RunBroken extends Error {
  override readonly name = 'RunBroken';
}
