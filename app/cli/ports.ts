// `coldbench ports`: the serial ports of this computer.
import { serialPorts } from '../../hardware/serial.ts';
import { splitArguments } from './arguments.ts';
import type { CliCommand, Terminal } from './command.ts';
import { EXIT } from './exit.ts';

const HELP = `Usage: coldbench ports

Lists the serial ports of this computer, one to a line, with what is known of what hangs on them.

Exit status: 0 also where there is none, 2 bad input.
`;

async function listPorts(args: readonly string[], terminal: Terminal): Promise<number> {
  splitArguments(args, {}, 0);
  const ports = await serialPorts();
  for (const { path, what } of ports) terminal.out(`${path}${what === '' ? '' : `  ${what}`}\n`);
  if (ports.length === 0) terminal.err('coldbench: no serial port was found; plug the board in\n');
  return EXIT.completed;
}

export const ports: CliCommand = {
  name: 'ports',
  summary: 'list the serial ports of this computer',
  help: HELP,
  run: listPorts,
};
