// `coldbench sequence`: the statechart that a job follows, for other programs.
import { mermaid } from '../bench/mermaid.ts';
import { scxml } from '../bench/scxml.ts';
import { splitArguments } from './arguments.ts';
import { type CliCommand, InputError, type Terminal } from './command.ts';
import { EXIT } from './exit.ts';

const HELP = `Usage: coldbench sequence [--format mermaid|scxml]

Prints the chart of a job: which stage follows which, and on what. It is made from the code that runs.

  --format mermaid   a diagram for pages and editors that draw Mermaid (default)
  --format scxml     a state machine as SCXML (W3C), with conditions and what they remember, that other engines run

Exit status: 0 printed, 2 bad input.
`;

const OPTIONS = { format: { type: 'string' } } as const;

const FORMATS: { readonly [format: string]: () => string } = {
  mermaid: () => `${mermaid()}\n`,
  scxml: () => scxml(),
};

export const sequence: CliCommand = {
  name: 'sequence',
  summary: 'the chart of the stages, as Mermaid or SCXML',
  help: HELP,
  async run(args: readonly string[], terminal: Terminal): Promise<number> {
    const format = splitArguments(args, OPTIONS, 0).values.get('format') ?? 'mermaid';
    const text = FORMATS[format];
    if (text === undefined)
      throw new InputError(`--format must be ${Object.keys(FORMATS).join(' or ')}, not '${format}'`);
    terminal.out(text());
    return EXIT.completed;
  },
};
