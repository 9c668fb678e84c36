// `coldbench commission`: leads a builder through the tests and measurements that make a rig fit to be driven.
import { existsSync } from 'node:fs';
import { standingOf } from '../../hardware/commissioning/judge.ts';
import { LINES, lineOf } from '../../hardware/commissioning/lines/index.ts';
import { type EquipmentRecord, LINE_IDS, type LineId } from '../../hardware/commissioning/record.ts';
import { FLUID_NAMES } from '../../sim/fluids/fluid.ts';
import { Commissioning } from '../rig/commissioning.ts';
import { readRecord, writeRecord } from '../rig/equipment-file.ts';
import { splitArguments } from './arguments.ts';
import { type CliCommand, InputError, RunBroken, type Terminal } from './command.ts';
import { talkThrough } from './commission-talk.ts';
import { listText } from './commission-words.ts';
import { type CommissioningWorld, realWorld } from './commission-world.ts';
import { EXIT } from './exit.ts';
import { suggestion } from './nearest.ts';

const HELP = `Usage: coldbench commission --port PORT --file FILE [--line ID]
       coldbench commission --file FILE --list

Leads you through what makes a rig fit to be driven, and writes what was found into the equipment file: the emergency
stop first, then the line and the high-pressure switch, each output, each sensor, the scale, valves, volumes and leaks.
The machine must be empty of refrigerant. Nothing is on while you are asked something.

  --port PORT    the serial port of the board (coldbench ports lists them)
  --file FILE    the equipment file; it is written after every line, and what stands in it already is not repeated
  --line ID      only this line, whatever the file says of it
  --list         what the file says of each line, and nothing else

Figures are typed in SI or US units: 12.5, 12.5 bar, 181 psi. Instead of an answer: back, skip, quit, help.
Ctrl-C turns everything off and stops; the same command goes on where it was, at the beginning of the line.

The lines, in order:
${LINES.map(({ id, title, optional }) => `  ${id.padEnd(16)}${title}${optional === true ? ' (only with --line)' : ''}`).join('\n')}

Exit status: 0 every line stands (with --line: that line was passed), 1 not so, 2 bad input.
`;

const OPTIONS = {
  port: { type: 'string' },
  file: { type: 'string' },
  line: { type: 'string' },
  list: { type: 'boolean' },
} as const;

function lineFrom(text: string | undefined): LineId | undefined {
  if (text === undefined) return undefined;
  const known = LINE_IDS.find((id) => id === text);
  if (known === undefined) throw new InputError(`there is no line '${text}'; ${suggestion(text, LINE_IDS)}`);
  return known;
}

function given(values: ReadonlyMap<string, string>, name: 'port' | 'file'): string {
  const value = values.get(name);
  if (value === undefined)
    throw new InputError(`--${name} is missing; write coldbench commission --port PORT --file FILE`);
  return value;
}

/** A file that cannot be written is found before the work and not after it. */
function keep(path: string, record: EquipmentRecord): void {
  try {
    writeRecord(path, record);
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    throw new RunBroken(
      `cannot write ${path} (${code ?? message}); everything is off; free some room or give --file another place, then go on`,
    );
  }
}

const stands = (record: EquipmentRecord, nowMs: number): boolean =>
  LINES.every((line) => line.optional === true || standingOf(line, record, nowMs).is === 'standing');

async function lead(
  values: ReadonlyMap<string, string>,
  terminal: Terminal,
  world: CommissioningWorld,
): Promise<number> {
  const file = given(values, 'file');
  const only = lineFrom(values.get('line'));
  const path = given(values, 'port');
  const record = existsSync(file) ? readRecord(file) : {};
  keep(file, record);
  const port = world.join(path);
  const commissioning = new Commissioning({
    record,
    only,
    refrigerants: FLUID_NAMES,
    startMs: world.calendarMs(),
    boardWith: port.boardWith,
    keep: (found) => keep(file, found),
  });
  const atEnd = await talkThrough({ commissioning, port, terminal, world });
  const found = commissioning.session.record;
  terminal.out(`\nEverything is off.\n${listText(found, world.calendarMs())}`);
  const complete = stands(found, world.calendarMs());
  if (!atEnd) terminal.out('Go on with the same command.\n');
  else if (only === undefined && !complete)
    terminal.out(
      'Put right what failed, then give the same command again: it repeats only what does not stand.\n',
    );
  if (only !== undefined)
    return found[only] !== record[only] &&
      standingOf(lineOf(only), found, world.calendarMs()).is === 'standing'
      ? EXIT.completed
      : EXIT.stopped;
  return complete ? EXIT.completed : EXIT.stopped;
}

/** The command in a world of its own. */
export const commissionIn = (worldOf: () => CommissioningWorld): CliCommand => ({
  name: 'commission',
  summary: 'test and measure a real rig, line by line, and write its equipment file',
  help: HELP,
  run: async (args, terminal) => {
    const { values } = splitArguments(args, OPTIONS, 0);
    const world = worldOf();
    if (!values.has('list')) return lead(values, terminal, world);
    const record = readRecord(given(values, 'file'));
    terminal.out(listText(record, world.calendarMs()));
    return stands(record, world.calendarMs()) ? EXIT.completed : EXIT.stopped;
  },
});

export const commission = commissionIn(realWorld);
