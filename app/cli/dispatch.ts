// Finds the subcommand, shows help, and turns errors into one line and an exit status.
import manifest from '../../package.json' with { type: 'json' };
import { type CliCommand, InputError, RunBroken, type Terminal } from './command.ts';
import { EXIT } from './exit.ts';
import { suggestion } from './nearest.ts';

function overview(commands: readonly CliCommand[]): string {
  const width = Math.max(...commands.map(({ name }) => name.length));
  const list = commands.map(({ name, summary }) => `  ${name.padEnd(width)}  ${summary}`).join('\n');
  return `coldbench: recover, evacuate and charge vehicle air conditioning, on a simulated bench or a real rig

Usage: coldbench NAME [arguments]
       coldbench NAME --help
       coldbench --version

${list}

Exit status: 0 completed, 1 stopped or refused, 2 bad input, 70 a mistake in coldbench itself.
`;
}

async function route(
  commands: readonly CliCommand[],
  args: readonly string[],
  terminal: Terminal,
): Promise<number> {
  const [name, ...rest] = args;
  if (name === undefined || name === '--help' || name === '-h' || name === 'help') {
    terminal.out(overview(commands));
    return name === undefined ? EXIT.badInput : EXIT.completed;
  }
  if (name === '--version' || name === '-V') {
    terminal.out(`coldbench ${manifest.version}\n`);
    return EXIT.completed;
  }
  const command = commands.find((candidate) => candidate.name === name);
  if (command === undefined) {
    const names = commands.map((candidate) => candidate.name);
    throw new InputError(`there is no command '${name}'; ${suggestion(name, names)}`);
  }
  if (rest.includes('--help') || rest.includes('-h')) {
    terminal.out(command.help.endsWith('\n') ? command.help : `${command.help}\n`);
    return EXIT.completed;
  }
  return command.run(rest, terminal);
}

/** Runs what the arguments ask for and answers the exit status; it never throws. */
export async function dispatch(
  commands: readonly CliCommand[],
  args: readonly string[],
  terminal: Terminal,
): Promise<number> {
  try {
    return await route(commands, args, terminal);
  } catch (error) {
    if (error instanceof InputError) {
      terminal.err(`coldbench: ${error.message}\n`);
      return EXIT.badInput;
    }
    if (error instanceof RunBroken) {
      terminal.err(`coldbench: ${error.message}\n`);
      return EXIT.stopped;
    }
    const detail = error instanceof Error ? (error.stack ?? error.message) : String(error);
    terminal.err(
      `coldbench: internal error, this is a mistake in coldbench and not in your input\n${detail}\n`,
    );
    return EXIT.internal;
  }
}
