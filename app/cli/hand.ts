// `coldbench hand`: the simulated bench worked by hand, from a keyboard, a pipe or a script.
import { readFileSync } from 'node:fs';
import { StateOutOfRange } from '../../sim/network/equilibrium.ts';
import { HandBench, Pace } from '../run/by-hand.ts';
import { type HandFacts, handDocument } from '../run/hand-document.ts';
import { fluidData, prepare } from '../run/prepare.ts';
import { CAUTIONS_SIMULATED } from '../run/printed-cautions.ts';
import { faultLines, truthLines } from '../run/printed-truth.ts';
import { type UnitSystem, type Units, unitsFor } from '../units.ts';
import { splitArguments } from './arguments.ts';
import { type BenchArguments, broken, scenarioFor, seedFrom, unitSystemFrom } from './bench-arguments.ts';
import { type CliCommand, type Conversation, InputError, type Terminal, textOf } from './command.ts';
import { EXIT } from './exit.ts';
import { HandDesk } from './hand-desk.ts';
import { handLine, LINES_HELP } from './hand-lines.ts';
import { WATCH_HELP, WATCH_OPTIONS, Watch } from './watch.ts';

const HELP = `Usage: coldbench hand [SCENARIO.json] [--seed N] [--script FILE] [--speed X] [--json]
                      [--trace FILE.csv] [--record FILE] [--mqtt URL] [--mqtt-topic T] [--units us|si]
       coldbench hand TICKET.json --port PORT --file FILE
                      [--trace FILE.csv] [--record FILE] [--mqtt URL] [--mqtt-topic T] [--units us|si]

Works a machine by hand: each line is one deed, and the interlocks of a job permit or refuse it with the reason. Without
a port it is the simulated bench, without a scenario the machine and vehicle of the demo. With a port it is the real rig
there, at a terminal; what is done at the vehicle you do yourself, and say so here.

  --port PORT    the serial port of a board ('coldbench ports' lists them)
  --file FILE    its equipment file, as 'coldbench commission' wrote it

  --seed N       draw the machine and its noise from this seed instead of the scenario's (0 to 4294967295)
  --script FILE  take the lines from this file; they are all checked before the first one is obeyed
  --speed X      at a terminal: simulated seconds in a second, 0.1 to 1000 (default 1)
  --json         print one JSON document of what happened instead of the text, and nothing else
${WATCH_HELP}  --units us|si  units of what is shown (default si); the JSON document and the trace are always SI

At a terminal time goes on while you type. From a script or a pipe it moves by the lines alone, a tenth of a second
each and as long as 'wait' says, so the same lines and seed give the same result. At the end everything is off.

${LINES_HELP}
Exit status: 0 completed, 1 ended by a trip, a power failure or an interrupted script, 2 bad input.
`;

const OPTIONS = {
  port: { type: 'string' },
  file: { type: 'string' },
  seed: { type: 'string' },
  script: { type: 'string' },
  speed: { type: 'string' },
  json: { type: 'boolean' },
  ...WATCH_OPTIONS,
  units: { type: 'string' },
} as const;

type HandArguments = BenchArguments & {
  readonly port: string | undefined;
  readonly file: string | undefined;
  readonly script: string | undefined;
  readonly speed: number;
  readonly json: boolean;
  readonly watch: ReadonlyMap<string, string>;
  readonly units: UnitSystem;
};

const SLOWEST = 0.1;
const FASTEST = 1_000;

function speedFrom(text: string | undefined): number {
  const speed = Number(text ?? 1);
  if (!(speed >= SLOWEST && speed <= FASTEST))
    throw new InputError(`--speed must be a number from ${SLOWEST} to ${FASTEST}, not '${text}'`);
  return speed;
}

function readArguments(args: readonly string[]): HandArguments {
  const { values, positionals } = splitArguments(args, OPTIONS, 1);
  return {
    path: positionals[0],
    seed: seedFrom(values.get('seed')),
    port: values.get('port'),
    file: values.get('file'),
    script: values.get('script'),
    speed: speedFrom(values.get('speed')),
    json: values.has('json'),
    watch: values,
    units: unitSystemFrom(values.get('units')),
  };
}

/** @throws InputError for a file that cannot be read, and for the first line that cannot be, with how many more there are. */
function scriptLines(path: string): readonly string[] {
  let text: string;
  try {
    text = readFileSync(path, 'utf8');
  } catch (error) {
    const reason = textOf(error);
    throw new InputError(`cannot read the script ${path}: ${reason}; give --script another file`);
  }
  const lines = text.split(/\r?\n/);
  const problems = lines.flatMap((line, index) => {
    const problem = problemOf(line);
    return problem === undefined ? [] : [`${path}:${index + 1}: ${problem}`];
  });
  const [first] = problems;
  if (first === undefined) return lines;
  const more = problems.length - 1;
  throw new InputError(
    more === 0 ? first : `${first} (and ${more} more ${more === 1 ? 'problem' : 'problems'})`,
  );
}

/** Why a line cannot be read, or nothing. */
function problemOf(line: string): string | undefined {
  try {
    handLine(line);
    return undefined;
  } catch (error) {
    if (error instanceof InputError) return error.message;
    throw error;
  }
}

type Ending = { readonly interrupted: boolean; readonly misread: boolean };

/** One line after the other; time moves by the lines alone. */
async function obeyLines(
  desk: HandDesk,
  lines: AsyncIterable<string> | Iterable<string>,
  terminal: Terminal,
  echo: (line: string) => void,
  settle: () => Promise<void>,
): Promise<Ending> {
  let interrupted = false;
  let interrupt = () => {};
  const pressed = new Promise<undefined>((resolve) => {
    interrupt = () => {
      interrupted = true;
      resolve(undefined);
    };
  });
  const stopListening = terminal.onInterrupt?.(interrupt);
  let misread = false;
  let number = 0;
  try {
    const source = asyncLines(lines);
    for (;;) {
      const next = await Promise.race([source.next(), pressed]);
      if (interrupted || next === undefined || next.done === true || desk.powerLost) break;
      number += 1;
      try {
        const line = handLine(next.value);
        if (line === undefined) continue;
        echo(next.value.trim());
        desk.obey(line, next.value.trim());
        await settle();
        if (line.kind === 'quit') break;
      } catch (error) {
        if (!(error instanceof InputError)) throw error;
        misread = true;
        desk.notUnderstood(next.value.trim(), error.message);
        terminal.err(`coldbench: line ${number}: ${error.message}\n`);
      }
    }
  } finally {
    stopListening?.();
  }
  return { interrupted, misread };
}

async function* asyncLines(lines: AsyncIterable<string> | Iterable<string>): AsyncGenerator<string> {
  yield* lines;
}

/** Time goes on while nothing is typed, and a line that was not understood costs nothing. */
async function talk(desk: HandDesk, conversation: Conversation, pace: Pace): Promise<void> {
  for await (const text of conversation) {
    desk.pass(pace.dueMs());
    if (desk.powerLost) return;
    try {
      const line = text === undefined ? undefined : handLine(text);
      if (line !== undefined && text !== undefined) desk.obey(line, text.trim());
      if (line?.kind === 'quit') return;
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      desk.notUnderstood(text ?? '', error.message);
      conversation.print(`          ${error.message}\n`);
    }
    conversation.show(desk.status);
  }
}

const BEAT_MS = 250;
const wallClockMs = (): number => performance.now();

function closingText({ truth, faults, outcome }: HandFacts, units: Units): string {
  return [
    '',
    ...(outcome === 'stopped' ? ['Stopped: a trip, a failure of the power or Ctrl-C ended the work.'] : []),
    ...faultLines(faults),
    ...truthLines(truth, units),
    ...CAUTIONS_SIMULATED,
    '',
  ].join('\n');
}

async function workByHand(args: readonly string[], terminal: Terminal): Promise<number> {
  const given = readArguments(args);
  if (given.port !== undefined) {
    const { workRigByHand } = await import('./hand-rig.ts');
    return workRigByHand({ ...given, port: given.port }, terminal);
  }
  const script = given.script === undefined ? undefined : scriptLines(given.script);
  const { scenario, source } = scenarioFor(given);
  const session = prepare(scenario, source, fluidData, wallClockMs);
  const watch = await Watch.open(given.watch, given.path, (text) => terminal.err(`${text}\n`));
  const units = unitsFor(given.units, scenario.weather.barometerPa);
  const conversation = script === undefined && !given.json ? terminal.converse?.(BEAT_MS) : undefined;
  const print = given.json
    ? () => {}
    : conversation === undefined
      ? (text: string) => terminal.out(text)
      : (text: string) => conversation.print(text);
  try {
    let bench: HandBench | undefined;
    const desk = new HandDesk(
      (look) => {
        bench = new HandBench(session, [...watch.observers, look], (loop) =>
          watch.begin(loop, { name: scenario.name, rig: 'simulated bench worked by hand' }),
        );
        return bench;
      },
      units,
      print,
    );
    let ending: Ending = { interrupted: false, misread: false };
    if (conversation !== undefined) await talk(desk, conversation, new Pace(wallClockMs, given.speed));
    else {
      const echo = (line: string): void => print(`> ${line}\n`);
      ending = await obeyLines(desk, script ?? terminal.lines(), terminal, echo, () => watch.settle());
    }
    conversation?.close();
    const facts = { ...desk.end(ending.interrupted), faults: bench!.faults, truth: bench!.truth() };
    if (given.json) terminal.out(`${JSON.stringify(handDocument(facts), undefined, 2)}\n`);
    else terminal.out(closingText(facts, units));
    if (ending.misread) return EXIT.badInput;
    return facts.outcome === 'completed' ? EXIT.completed : EXIT.stopped;
  } catch (error) {
    throw error instanceof StateOutOfRange ? broken(error, scenario, source) : error;
  } finally {
    conversation?.close();
    await watch.close();
  }
}

export const hand: CliCommand = {
  name: 'hand',
  summary: 'work the simulated bench or a real rig by hand: single valves and drives, behind the interlocks',
  help: HELP,
  run: workByHand,
};
