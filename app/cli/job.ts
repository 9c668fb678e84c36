// `coldbench job`: one job on a real rig behind a serial line, with a person at it.
import type { Equipment } from '../../controller/equipment.ts';
import type { FittedSensors } from '../../hardware/fitted.ts';
import { openStore } from '../records/keep.ts';
import { JobRecorder } from '../records/recorder.ts';
import type { Store } from '../records/store.ts';
import { runRigJob } from '../rig/job.ts';
import { jobDocument } from '../run/document.ts';
import type { ScanLoop } from '../run/loop.ts';
import { printedJob } from '../run/printed.ts';
import { type NamedTicket, readTicket } from '../scenario/ticket.ts';
import { type Units, unitsFor } from '../units.ts';
import { splitArguments } from './arguments.ts';
import { unitSystemFrom } from './bench-arguments.ts';
import { type CliCommand, InputError, type Terminal } from './command.ts';
import { commissioned, joinRig } from './commissioned.ts';
import { EXIT } from './exit.ts';
import { JobDesk } from './job-desk.ts';
import { JOB_LINES_HELP } from './job-lines.ts';
import { WATCH_HELP, WATCH_OPTIONS, Watch } from './watch.ts';

const HELP = `Usage: coldbench job TICKET.json --port PORT --file FILE [--json] [--trace FILE.csv] [--record FILE]
                     [--mqtt URL] [--mqtt-topic T] [--records FILE] [--units us|si]

Runs one job on a real machine: the board at PORT drives its valves, you do what it asks and say so.

  --port PORT    the serial port of the board, for example /dev/ttyUSB0 ('coldbench ports' lists them)
  --file FILE    the equipment file that 'coldbench commission' wrote; without a valid one nothing is driven
  --json         print one JSON document at the end instead of the record
${WATCH_HELP}  --records FILE the file of records (default: in your data folder); a real machine always records
  --units us|si  units of what is shown (default si); the JSON document and the trace are always SI

TICKET.json holds the ticket of a scenario and a name: {"name": "...", "ticket": {"refrigerant": "R-134a",
"nominalChargeG": 600}}. Vehicle, tank and weather are found at the machine.

${JOB_LINES_HELP}
Coldbench is not certified service equipment. Work on vehicles is for licensed people; local codes come first. The
firmware and this program are layers, not the protection: emergency stop, high-pressure cut-out and reliefs are wired.

Exit status: 0 completed, 1 stopped or refused, 2 bad input.
`;

const OPTIONS = {
  port: { type: 'string' },
  file: { type: 'string' },
  json: { type: 'boolean' },
  ...WATCH_OPTIONS,
  records: { type: 'string' },
  units: { type: 'string' },
} as const;

/** @throws InputError for an argument that is missing. */
function needed(value: string | undefined, what: string): string {
  if (value === undefined)
    throw new InputError(`${what} is missing; coldbench job --help shows how to give it`);
  return value;
}

async function runJob(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = splitArguments(args, OPTIONS, 1);
  const path = needed(positionals[0], 'the ticket');
  const named = readTicket(path);
  const port = needed(values.get('port'), '--port');
  const system = unitSystemFrom(values.get('units'));
  const { equipment, sensors } = commissioned(values.get('file'), port);
  const units = unitsFor(system, sensors.typedBarometerPa);
  const store = openStore(values.get('records'));
  try {
    const given = { values, path, port, named, equipment, sensors, units, store };
    return await runAtRig(given, terminal);
  } finally {
    store.close();
  }
}

type AtRig = {
  readonly values: ReadonlyMap<string, string>;
  readonly path: string;
  readonly port: string;
  readonly named: NamedTicket;
  readonly equipment: Equipment;
  readonly sensors: FittedSensors;
  readonly units: Units;
  readonly store: Store;
};

async function runAtRig(given: AtRig, terminal: Terminal): Promise<number> {
  const { values, path, port, named, equipment, sensors, units, store } = given;
  const { time, rig } = joinRig(sensors, port);
  const quiet: Terminal = values.has('json') ? { ...terminal, out: terminal.err } : terminal;
  const desk = new JobDesk(quiet, units);
  const origin = { kind: 'rig', port, file: values.get('file') ?? '' } as const;
  const kept = { ...named, machine: `rig '${equipment.name}'`, equipment, origin };
  const recorder = new JobRecorder({ store, calendar: Date.now, kept, tell: desk.tell });
  let running: ScanLoop | undefined;
  const stopListening = terminal.onInterrupt?.(() => desk.abort());
  let watch: Watch | undefined;
  try {
    const watching = await Watch.open(values, path, desk.tell);
    watch = watching;
    void desk.listen();
    const { facts, lastedMs } = await runRigJob(
      { ...named, equipment, rig, time },
      {
        operator: { respond: () => [] },
        observers: [desk.look, ...watching.observers],
        tell: desk.tell,
        hurries: desk.hurries,
        recorder,
        started: (loop, watch) => {
          running = loop;
          desk.begin(loop, watch);
          watching.begin(loop, { name: named.name, rig: `rig at ${port}` });
        },
      },
    );
    desk.close();
    if (running !== undefined) recorder.finish(running.state, facts);
    if (values.has('json')) terminal.out(`${JSON.stringify(jobDocument(facts), undefined, 2)}\n`);
    else {
      const machine = `rig at ${port}, equipment '${equipment.name}'`;
      terminal.out(printedJob({ ...named, machine }, facts, lastedMs, equipment, units));
    }
    return facts.outcome === 'completed' ? EXIT.completed : EXIT.stopped;
  } finally {
    stopListening?.();
    desk.close();
    rig.connection.close();
    await watch?.close();
  }
}

export const job: CliCommand = {
  name: 'job',
  summary: 'run one job on a real rig behind a serial line',
  help: HELP,
  run: runJob,
};
