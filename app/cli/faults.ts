// `coldbench faults`: what can go wrong on the simulated bench, and how a scenario asks for it.
import { OUTPUTS } from '../../controller/signals.ts';
import { STAGES } from '../../controller/stages.ts';
import { FAULT_NAMES, FAULTS, type FaultName } from '../../sim/faults.ts';
import { splitArguments } from './arguments.ts';
import type { CliCommand, Terminal } from './command.ts';
import { EXIT } from './exit.ts';

const WIDTH = 110;
const INDENT = '    ';

function wrapped(text: string): string {
  let column = INDENT.length;
  return text
    .split(' ')
    .map((word) => {
      const breaks = column + word.length > WIDTH;
      column = (breaks ? INDENT.length : column) + word.length + 1;
      return breaks ? `\n${INDENT}${word}` : word;
    })
    .join(' ')
    .replaceAll(' \n', '\n');
}

const HELP = `Usage: coldbench faults [--json]

Lists the faults that a scenario can switch on: name, meaning, size where it can be chosen, and whether one output
must be named. A scenario has them in its list "faults":

  "faults": [
    { "fault": "scale-leaned-on", "stage": "charge", "afterS": 40, "forS": 8, "size": 3 },
    { "fault": "relay-welded", "output": "vacuumPump", "atS": 1800 }
  ]

  atS      switched on at this second of simulated time
  stage    switched on when this stage is first entered, and afterS seconds later where that is given
  forS     how long it stays on; without it, for good
  output   the output it strikes; needed where the list says so
  size     how strong it is; without it, the default

Without atS and stage it is on from the start.

Stages:
${INDENT}${wrapped(STAGES.join(', '))}
Outputs:
${INDENT}${wrapped(OUTPUTS.join(', '))}

  --json   one JSON list instead of the text

Exit status: 0 completed, 2 bad input.
`;

function textFor(name: FaultName): string {
  const { meaning, size, output } = FAULTS[name];
  const lines = [name, INDENT + wrapped(meaning)];
  if (output) lines.push(`${INDENT}output needed`);
  if (size !== undefined)
    lines.push(`${INDENT}size ${size.min} to ${size.max} ${size.unit}, default ${size.default}`);
  return `${lines.join('\n')}\n`;
}

/** The shortest entry of a scenario that switches it on from the start. */
const exampleFor = (name: FaultName) => ({
  fault: name,
  ...(FAULTS[name].output ? { output: 'vacuumPump' } : {}),
});

const documentFor = (name: FaultName) => {
  const { meaning, size, output } = FAULTS[name];
  return {
    fault: name,
    meaning,
    outputNeeded: output === true,
    ...(size === undefined ? {} : { size }),
    example: exampleFor(name),
  };
};

export const faults: CliCommand = {
  name: 'faults',
  summary: 'what can go wrong on the simulated bench, for the scenario',
  help: HELP,
  async run(args: readonly string[], terminal: Terminal): Promise<number> {
    const { values } = splitArguments(args, { json: { type: 'boolean' } }, 0);
    if (values.has('json')) terminal.out(`${JSON.stringify(FAULT_NAMES.map(documentFor), undefined, 2)}\n`);
    else terminal.out(FAULT_NAMES.map(textFor).join(''));
    return EXIT.completed;
  },
};
