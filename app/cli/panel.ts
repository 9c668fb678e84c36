// `coldbench panel`: the operator's page and the classroom, on the simulated bench or a real rig.
import { ensurePage } from '../page/build.ts';
import { isLoopback, newToken } from '../page/server/admission.ts';
import { choicesWith } from '../page/server/choices.ts';
import { domeOf } from '../page/server/dome.ts';
import { readPage } from '../page/server/files.ts';
import { Panel } from '../page/server/panel.ts';
import { Recordings } from '../page/server/recordings.ts';
import type { RecordsDesk } from '../page/server/records-desk.ts';
import { type Served, serve } from '../page/server/serve.ts';
import type { ServedPanel } from '../page/server/served-panel.ts';
import { type FluidData, fluidData, prepare, type Session } from '../run/prepare.ts';
import { splitArguments } from './arguments.ts';
import { seedFrom } from './bench-arguments.ts';
import { type CliCommand, InputError, type Terminal } from './command.ts';
import { EXIT } from './exit.ts';

const HELP = `Usage: coldbench panel [SCENARIO.json] [--port N] [--listen ADDRESS] [--seed N] [--records FILE]
                       [--recordings DIR]
       coldbench panel --board PORT --file FILE [--port N] [--listen ADDRESS] [--records FILE] [--recordings DIR]

Serves the operator's page and the classroom on the simulated bench. Without a scenario it opens on the demo job. With
--board it serves the page on a real rig: it is commissioned there, and driven once its file stands.

  --board PORT      the serial port of the board, for example /dev/ttyUSB0 ('coldbench ports' lists them)
  --file FILE       the equipment file of the rig; commissioning writes it

  --port N          where the page is (default 8137; 0 for any that is free)
  --listen ADDRESS  who can come: 127.0.0.1, this computer alone, unless another address is given; then the page
                    asks for the token that is printed, and whoever has the link has the machine
  --records FILE    keep jobs in this file of records, and show what is in it; without it simulated jobs leave none, and a
                    real machine records in your data folder
  --recordings DIR  write down every scan of each job into a file of its own in this folder, for replay and export
  --seed N          draw the machine and its noise from this seed instead of the scenario's (0 to 4294967295)

The teacher's view has a link of its own. Ctrl-C ends it.

Exit status: 0 ended by Ctrl-C, 2 bad input.
`;

const OPTIONS = {
  board: { type: 'string' },
  file: { type: 'string' },
  port: { type: 'string' },
  listen: { type: 'string' },
  seed: { type: 'string' },
  records: { type: 'string' },
  recordings: { type: 'string' },
} as const;
const DEFAULT_PORT = 8137;
const HIGHEST_PORT = 65_535;
/** What is refused may come by the thousand. */
const LOGGED_EVERY_MS = 1_000;

function portFrom(text: string | undefined): number {
  const port = Number(text ?? DEFAULT_PORT);
  if (!/^\d+$/.test(text ?? '0') || port > HIGHEST_PORT)
    throw new InputError(`--port must be a whole number from 0 to ${HIGHEST_PORT}, not '${text}'`);
  return port;
}

/** One line a second, with how many there were besides. */
function logTo(terminal: Terminal): (line: string) => void {
  let loggedAtMs = Number.NEGATIVE_INFINITY;
  let unsaid = 0;
  return (line) => {
    const nowMs = performance.now();
    if (nowMs - loggedAtMs < LOGGED_EVERY_MS) {
      unsaid += 1;
      return;
    }
    terminal.err(`${line}${unsaid === 0 ? '' : ` (and ${unsaid} more)`}\n`);
    loggedAtMs = nowMs;
    unsaid = 0;
  };
}

const wallClockMs = (): number => performance.now();

/** What listening can fail by, in words. */
function listenProblem(error: unknown, address: string, port: number): InputError | undefined {
  const { code } = error as NodeJS.ErrnoException;
  if (code === 'EADDRINUSE') return new InputError(`--port ${port} is taken already; give another one`);
  if (code === 'EACCES') return new InputError(`--port ${port} may not be used; give one above 1023`);
  if (code === 'EADDRNOTAVAIL' || code === 'ENOTFOUND' || code === 'EAI_AGAIN')
    return new InputError(`--listen ${address} is no address of this computer`);
  return undefined;
}

const interrupted = (terminal: Terminal): Promise<void> =>
  new Promise((resolve) => {
    const stop = terminal.onInterrupt?.(() => {
      stop?.();
      resolve();
    });
  });

type Shown = {
  readonly panel: ServedPanel;
  readonly records?: RecordsDesk;
  readonly close: () => Promise<void>;
};

/** SQLite is not loaded by those who keep nothing. */
async function keep(file: string) {
  const { benchRecorder, openStore } = await import('../records/keep.ts');
  const { RecordsDesk } = await import('../page/server/records-desk.ts');
  const store = openStore(file);
  const recorderOf = (session: Session, source: string, tell: (text: string) => void) =>
    benchRecorder(store, session, source, { tell });
  return { store, desk: new RecordsDesk(file), recorderOf };
}

function linksOf(
  address: string,
  { port, teacherToken }: Served,
  token: string | undefined,
  hasClass: boolean,
): string {
  const at = `http://${address.includes(':') ? `[${address}]` : address}:${port}/`;
  const open =
    token === undefined
      ? ''
      : 'The page is not encrypted: use it in a network that you trust, and nowhere else.\n';
  const teacher = hasClass
    ? `Classroom  ${at}teacher?token=${teacherToken}   (keep this link: it shows what the class is to find out)
`
    : '';
  return `Page       ${at}${token === undefined ? '' : `?token=${token}`}
${teacher}${open}`;
}

/** The simulated bench behind the page. */
async function panelOnBench(
  values: ReadonlyMap<string, string>,
  path: string | undefined,
  fluids: (refrigerant: string) => FluidData,
  recordings: Recordings | undefined,
): Promise<Shown> {
  const seed = seedFrom(values.get('seed'));
  const choices = choicesWith(path);
  const file = values.get('records');
  const keeping = file === undefined ? undefined : await keep(file);
  const panel = new Panel({
    choices,
    seed,
    prepare: (scenario, source) => prepare(scenario, source, fluids, wallClockMs),
    domeOf: (refrigerant) => domeOf(fluids(refrigerant)),
    wallClockMs,
    recordings,
    ...(keeping === undefined ? {} : { recorderOf: keeping.recorderOf }),
  });
  return {
    panel,
    ...(keeping === undefined ? {} : { records: keeping.desk }),
    close: async () => {
      panel.end();
      await recordings?.close();
      await keeping?.desk.close();
      keeping?.store.close();
    },
  };
}

/** The serial line is not loaded by those who have none. */
async function panelOnLine(
  values: ReadonlyMap<string, string>,
  port: string,
  path: string | undefined,
  fluids: (refrigerant: string) => FluidData,
  recordings: Recordings | undefined,
): Promise<Shown> {
  const file = values.get('file');
  if (file === undefined)
    throw new InputError('--file is missing: the equipment file of the rig, which commissioning writes');
  if (path !== undefined || values.has('seed'))
    throw new InputError('a scenario and --seed are for the simulated bench; leave them out with --board');
  const { panelOnBoard } = await import('./panel-board.ts');
  return panelOnBoard({ port, file, records: values.get('records'), fluids, recordings });
}

async function runPanel(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = splitArguments(args, OPTIONS, 1);
  const port = portFrom(values.get('port'));
  const address = values.get('listen') ?? '127.0.0.1';
  const board = values.get('board');
  if (board === undefined && values.has('file'))
    throw new InputError('--file belongs to --board PORT: give the port of the board as well');
  const known = new Map<string, FluidData>();
  const fluids = (refrigerant: string): FluidData => {
    const data = known.get(refrigerant) ?? fluidData(refrigerant);
    known.set(refrigerant, data);
    return data;
  };
  const directory = values.get('recordings');
  const recordings = directory === undefined ? undefined : new Recordings(directory);
  const shown =
    board === undefined
      ? await panelOnBench(values, positionals[0], fluids, recordings)
      : await panelOnLine(values, board, positionals[0], fluids, recordings);
  try {
    const files = readPage(await ensurePage((text) => terminal.out(text)));
    const token = isLoopback(address) ? undefined : newToken();
    const served = await serve({
      panel: shown.panel,
      files,
      address,
      port,
      ...(token === undefined ? {} : { token }),
      ...(shown.records === undefined ? {} : { records: shown.records }),
      log: logTo(terminal),
    }).catch((error: unknown) => {
      throw listenProblem(error, address, port) ?? error;
    });
    // Listened for before anybody reads that the page is there.
    const end = interrupted(terminal);
    terminal.out(linksOf(address, served, token, board === undefined));
    await end;
    await served.close();
    return EXIT.completed;
  } finally {
    await shown.close();
  }
}

export const panel: CliCommand = {
  name: 'panel',
  summary: "the operator's page and the classroom, on the simulated bench or a real rig",
  help: HELP,
  run: runPanel,
};
