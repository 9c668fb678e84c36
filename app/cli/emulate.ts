// `coldbench emulate`: an emulated board behind a pseudo-terminal, so that the whole way to a machine can be rehearsed.
import { existsSync } from 'node:fs';
import { OUTPUT_BITS } from '../../hardware/protocol.ts';
import { StateOutOfRange } from '../../sim/network/equilibrium.ts';
import { emulatedParts } from '../rig/emulated.ts';
import { openPseudoTerminal } from '../rig/pseudo-terminal.ts';
import { WiredBoard } from '../rig/wired-board.ts';
import { Pace } from '../run/by-hand.ts';
import { fluidData, prepare } from '../run/prepare.ts';
import { truthLines } from '../run/printed-truth.ts';
import { clock, unitsFor } from '../units.ts';
import { splitArguments } from './arguments.ts';
import { broken, scenarioFor, seedFrom, unitSystemFrom } from './bench-arguments.ts';
import { type CliCommand, type Conversation, InputError, type RunBroken, type Terminal } from './command.ts';
import { EMULATE_LINES_HELP, type EmulateLine, emulateLine } from './emulate-lines.ts';
import { EXIT } from './exit.ts';

const HELP = `Usage: coldbench emulate [SCENARIO.json] [--link PATH] [--seed N] [--units us|si]

A machine with no hardware: the real firmware on an emulated board, wired to the simulated bench, behind a
pseudo-terminal in real time. Whatever speaks to a board can speak to it: 'coldbench commission', 'coldbench job', a
serial terminal at 250000 baud. Without a scenario it is the machine and vehicle of the demo. Needs socat.

  --link PATH    where the pseudo-terminal shall stand (default ./coldbench-board)
  --seed N       draw the machine and its noise from this seed instead of the scenario's (0 to 4294967295)
  --units us|si  units of what is shown (default si)

Here you are the person at the plant:
${EMULATE_LINES_HELP}
Exit status: 0 ended by quit or Ctrl-C, 1 broken off, 2 bad input.
`;

const OPTIONS = {
  link: { type: 'string' },
  seed: { type: 'string' },
  units: { type: 'string' },
} as const;

/** Bytes wait so long at most on their way through this process. */
const BEAT_MS = 10;
const SHOWN_EVERY_MS = 250;
const wallClockMs = (): number => performance.now();

const wordText = (word: number): string =>
  OUTPUT_BITS.filter((_, bit) => (word >> bit) & 1).join(', ') || 'nothing';

/** The emulated machine, and the person at it. */
class Emulation {
  readonly machine: WiredBoard;
  readonly #pace = new Pace(wallClockMs, 1, 1);
  readonly #print: (text: string) => void;
  #word = 0;

  constructor(machine: WiredBoard, print: (text: string) => void) {
    this.machine = machine;
    this.#print = print;
  }

  /** Lets the time pass that has passed on the wall. */
  pass(): void {
    const untilMs = this.machine.bench.nowMs() + this.#pace.dueMs();
    while (this.machine.bench.nowMs() < untilMs) {
      this.machine.turn(untilMs);
      const { word } = this.machine;
      if (word === this.#word) continue;
      this.#word = word;
      this.tell(`the board drives ${wordText(word)}`);
    }
  }

  status(): string {
    return `${clock(this.machine.bench.nowMs())}  drives ${wordText(this.#word)}`;
  }

  tell(text: string): void {
    this.#print(`${clock(this.machine.bench.nowMs()).padStart(8)}  ${text}\n`);
  }

  obey(line: EmulateLine, truth: () => readonly string[]): void {
    switch (line.kind) {
      case 'operate':
        this.machine.bench.operate(line.action);
        this.tell(`done: ${line.action.replaceAll('-', ' ')}`);
        return;
      case 'fault':
        this.machine.switchFault(line.fault, line.on);
        this.tell(`${line.fault.fault} ${line.on ? 'begins' : 'is over'}`);
        return;
      case 'status':
        this.tell(`drives ${wordText(this.#word)}`);
        this.#print(`${truth().join('\n')}\n`);
        return;
      case 'help':
        this.#print(EMULATE_LINES_HELP);
        return;
      case 'quit':
    }
  }
}

/** Lines from a person or a pipe; time goes on by itself. */
async function* typed(
  conversation: Conversation | undefined,
  terminal: Terminal,
): AsyncGenerator<string | undefined> {
  if (conversation !== undefined) yield* conversation;
  else yield* terminal.lines();
}

async function emulateBoard(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = splitArguments(args, OPTIONS, 1);
  const path = values.get('link') ?? './coldbench-board';
  if (existsSync(path))
    throw new InputError(
      `${path} is there already; end what stands behind it, remove it, or give --link another path`,
    );
  const { scenario, source } = scenarioFor({ path: positionals[0], seed: seedFrom(values.get('seed')) });
  const units = unitsFor(unitSystemFrom(values.get('units')), scenario.weather.barometerPa);
  const session = prepare(scenario, source, fluidData, wallClockMs);
  const conversation = terminal.converse?.(SHOWN_EVERY_MS);
  const print = (text: string): void =>
    conversation === undefined ? terminal.out(text) : conversation.print(text);
  let failed: RunBroken | undefined;
  let ended = false;
  const port = openPseudoTerminal(
    path,
    (bytes) => emulation.machine.receive(bytes),
    (error) => {
      failed = error;
      ended = true;
      conversation?.close();
    },
  );
  const machine = new WiredBoard(emulatedParts(session), (byte) => port.send(Uint8Array.from(byte)));
  const emulation = new Emulation(machine, print);
  const beat = setInterval(() => {
    try {
      emulation.pass();
    } catch (error) {
      failed = error instanceof StateOutOfRange ? broken(error, scenario, source) : (error as RunBroken);
      ended = true;
      clearInterval(beat);
      conversation?.close();
    }
  }, BEAT_MS);
  const stopListening = terminal.onInterrupt?.(() => {
    ended = true;
  });
  print(
    `The board stands at ${path}: coldbench commission --port ${path}, or coldbench job … --port ${path}.\n`,
  );
  try {
    for await (const text of typed(conversation, terminal)) {
      if (ended) break;
      try {
        const line = text === undefined ? undefined : emulateLine(text);
        if (line?.kind === 'quit') break;
        if (line !== undefined) emulation.obey(line, () => truthLines(machine.bench.truth(), units));
      } catch (error) {
        if (!(error instanceof InputError)) throw error;
        print(`          ${error.message}\n`);
      }
      conversation?.show([emulation.status()]);
    }
    // A pipe that has ended leaves the board there until Ctrl-C.
    while (conversation === undefined && !ended)
      await new Promise((resolve) => setTimeout(resolve, SHOWN_EVERY_MS));
  } finally {
    clearInterval(beat);
    stopListening?.();
    conversation?.close();
    port.close();
  }
  if (failed !== undefined) throw failed;
  return EXIT.completed;
}

export const emulate: CliCommand = {
  name: 'emulate',
  summary: 'an emulated board behind a pseudo-terminal, to rehearse a machine with no hardware',
  help: HELP,
  run: emulateBoard,
};
