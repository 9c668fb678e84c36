// `coldbench run`: one job on the simulated bench, from the scenario to the printed record.

import { StateOutOfRange } from '../../sim/network/equilibrium.ts';
import type { JobRecorder } from '../records/recorder.ts';
import { realTime } from '../rig/paced.ts';
import { type RunFacts, runDocument } from '../run/document.ts';
import { powerWasLost } from '../run/faults.ts';
import type { ScanLoop } from '../run/loop.ts';
import { fluidData, prepare, type Session } from '../run/prepare.ts';
import { printedRecord } from '../run/printed.ts';
import { type Onlookers, runSession } from '../run/session.ts';
import { type UnitSystem, unitsFor } from '../units.ts';
import { splitArguments } from './arguments.ts';
import { type BenchArguments, broken, scenarioFor, seedFrom, unitSystemFrom } from './bench-arguments.ts';
import { BenchWatch, wallClockMs } from './bench-watch.ts';
import { type CliCommand, InputError, RunBroken, type Terminal } from './command.ts';
import { EXIT } from './exit.ts';
import { WATCH_HELP, WATCH_OPTIONS } from './watch.ts';

const HELP = `Usage: coldbench run [SCENARIO.json] [--seed N] [--firmware | --board PORT] [--json]
                     [--trace FILE.csv] [--record FILE] [--mqtt URL] [--mqtt-topic T]
                     [--records FILE] [--units us|si]

Runs one job on the simulated bench and prints its record. Without a scenario it runs the demo job; - is standard input.

  --seed N       draw the machine and its noise from this seed instead of the scenario's (0 to 4294967295)
  --firmware     put the real firmware on an emulated board between controller and bench: a job takes two minutes
  --board PORT   outputs go to the board at this port (LEDs, relays), in real time; its sensors need not be there
  --json         print one JSON document instead of the record, and nothing else
${WATCH_HELP}  --records FILE keep the job in this file of records; without it a simulated job leaves none
  --units us|si  units of what is shown (default si); the JSON document and the trace are always SI

Exit status: 0 completed, 1 stopped or refused, 2 bad input.
`;

const OPTIONS = {
  seed: { type: 'string' },
  firmware: { type: 'boolean' },
  board: { type: 'string' },
  json: { type: 'boolean' },
  ...WATCH_OPTIONS,
  records: { type: 'string' },
  units: { type: 'string' },
} as const;

type RunArguments = BenchArguments & {
  readonly firmware: boolean;
  readonly board: string | undefined;
  readonly json: boolean;
  /** What is to be written or sent while it runs. */
  readonly watch: ReadonlyMap<string, string>;
  readonly records: string | undefined;
  readonly units: UnitSystem;
};

function readArguments(args: readonly string[]): RunArguments {
  const { values, positionals } = splitArguments(args, OPTIONS, 1);
  if (values.has('firmware') && values.has('board'))
    throw new InputError('--firmware and --board are two ways to the same: give one of them');
  return {
    path: positionals[0],
    seed: seedFrom(values.get('seed')),
    firmware: values.has('firmware'),
    board: values.get('board'),
    json: values.has('json'),
    watch: values,
    records: values.get('records'),
    units: unitSystemFrom(values.get('units')),
  };
}

/** Emulator and line are not loaded by those who run without. */
async function runBench(
  { firmware, board }: RunArguments,
  session: Session,
  onlookers: Onlookers,
  tell: (text: string) => void,
): Promise<RunFacts> {
  if (!firmware && board === undefined) return runSession(session, onlookers);
  const { runOnBoard, runWithFirmware } = await import('../rig/board-runs.ts');
  if (board === undefined) return runWithFirmware(session, onlookers, tell);
  const { openSerial } = await import('../../hardware/serial.ts');
  return runOnBoard(session, openSerial(board), realTime(), onlookers, tell);
}

/** SQLite is not loaded by those who keep nothing. */
async function keep(file: string) {
  const { benchRecorder, openStore } = await import('../records/keep.ts');
  const store = openStore(file);
  return { store, recorderFor: benchRecorder.bind(undefined, store) };
}

/** A job that lost its power, or its records, is left open: only a person chooses what becomes of it. */
function settle(recorder: JobRecorder, loop: ScanLoop, facts: RunFacts, tell: (text: string) => void): void {
  const { problem, job: number } = recorder;
  if (problem !== undefined)
    throw new RunBroken(`job ${number} was shut down and is left open: ${problem.message}`);
  if (!powerWasLost(facts.faults)) recorder.finish(loop.state, facts);
  else {
    recorder.leave(loop.state);
    tell(`Job ${number} is left open; coldbench resume shows what is known of it.`);
  }
}

/** What stands on the other end, in words. */
const rigName = ({ firmware, board }: RunArguments): string => {
  if (firmware) return 'simulated bench behind the firmware';
  return board === undefined
    ? 'simulated bench'
    : `simulated bench with the outputs of the board at ${board}`;
};

async function runJob(args: readonly string[], terminal: Terminal): Promise<number> {
  const given = readArguments(args);
  const { scenario, source } = scenarioFor(given);
  if (given.board !== undefined) (await import('./port.ts')).checkPort(given.board);
  const session = prepare(scenario, source, fluidData, wallClockMs);
  const units = unitsFor(given.units, scenario.weather.barometerPa);
  const keeping = given.records === undefined ? undefined : await keep(given.records);
  const watch = new BenchWatch(terminal, units, given.json);
  const { view, tell, pacing } = watch;
  let running: ScanLoop | undefined;
  const recorder = keeping?.recorderFor(session, source, { tell, failed: () => running?.die() });
  try {
    await watch.open(given.watch, given.path);
    const onlookers: Onlookers = {
      recorder,
      observers: watch.observers,
      pacing,
      started: (loop) => {
        running = loop;
        watch.begin(loop, { name: scenario.name, rig: rigName(given) });
      },
    };
    const facts = await runBench(given, session, onlookers, (text) => view?.tell(text));
    view?.end();
    if (recorder !== undefined && running !== undefined) settle(recorder, running, facts, tell);
    if (given.json) terminal.out(`${JSON.stringify(runDocument(facts), undefined, 2)}\n`);
    else terminal.out(printedRecord(scenario, facts, session.equipment, units));
    return facts.outcome === 'completed' ? EXIT.completed : EXIT.stopped;
  } catch (error) {
    throw error instanceof StateOutOfRange ? broken(error, scenario, source) : error;
  } finally {
    await watch.close();
    keeping?.store.close();
  }
}

export const run: CliCommand = {
  name: 'run',
  summary: 'run one job on the simulated bench, from a scenario or the demo',
  help: HELP,
  run: runJob,
};
