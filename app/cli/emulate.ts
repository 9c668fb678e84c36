// `coldbench emulate`: an emulated board behind a pseudo-terminal, so that the whole way to a machine can be rehearsed.
import { existsSync } from 'node:fs';
import type { Equipment } from '../../controller/equipment.ts';
import { OUTPUT_BITS } from '../../hardware/protocol.ts';
import { STANDARD_ATMOSPHERE_PA } from '../../sim/fluids/air.ts';
import { StateOutOfRange } from '../../sim/network/equilibrium.ts';
import { emulatedParts } from '../rig/emulated.ts';
import { openPseudoTerminal } from '../rig/pseudo-terminal.ts';
import { quickManifold } from '../rig/quick-manifold.ts';
import { WiredBoard } from '../rig/wired-board.ts';
import { Pace } from '../run/by-hand.ts';
import { fluidData, prepare } from '../run/prepare.ts';
import { truthLines } from '../run/printed-truth.ts';
import { clock, type Units, unitsFor } from '../units.ts';
import { splitArguments } from './arguments.ts';
import { broken, scenarioFor, seedFrom, unitSystemFrom } from './bench-arguments.ts';
import { type CliCommand, InputError, type Terminal } from './command.ts';
import {
  EMULATE_LINES_HELP,
  type EmulateLine,
  emulateLine,
  measuredOf,
  type SetSensor,
} from './emulate-lines.ts';
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
/** A computer that was busy makes the board late, not deaf: what was said to it meanwhile comes at once. */
const LONGEST_GAP_MS = 60;
const SHOWN_EVERY_MS = 250;
/** socat is looked for so often while it starts. */
const STARTS_MS = 20;
const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));
const wallClockMs = (): number => performance.now();

const wordText = (word: number): string =>
  OUTPUT_BITS.filter((_, bit) => (word >> bit) & 1).join(', ') || 'nothing';

/** The emulated machine, and the person at it. */
class Emulation {
  readonly machine: WiredBoard;
  readonly #scale: Equipment['scale'];
  readonly #pace = new Pace(wallClockMs, 1, 1, LONGEST_GAP_MS);
  readonly #print: (text: string) => void;
  #word = 0;

  constructor(machine: WiredBoard, scale: Equipment['scale'], print: (text: string) => void) {
    this.machine = machine;
    this.#scale = scale;
    this.#print = print;
  }

  #set(name: SetSensor, value: number | undefined): void {
    this.machine.hold(measuredOf(name), value === undefined ? undefined : this.#onWire(name, value));
    this.tell(value === undefined ? `${name}: the bench's own again` : `${name} is held`);
  }

  /** As the bench's sensors say it: absolute pressure, counts of the scale. */
  #onWire(name: SetSensor, value: number): number {
    if (name === 'scale') return Math.round(this.#scale.zeroCounts + value * this.#scale.countsPerKg);
    if (name !== 'high' && name !== 'low' && name !== 'tank') return value;
    const { barometerPa } = this.machine.bench.readings();
    return value + (barometerPa.ok ? barometerPa.value : STANDARD_ATMOSPHERE_PA);
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
      case 'set':
        this.#set(line.sensor, line.value);
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

/** Ends once, and says why if it was not asked to. */
class Ending {
  over = false;
  failed: Error | undefined;
  readonly #heard: () => void;

  constructor(heard: () => void) {
    this.#heard = heard;
  }

  readonly end = (failed?: Error): void => {
    this.over = true;
    this.failed ??= failed;
    this.#heard();
  };
}

/** Obeys the person until there is nothing more to obey; time goes on by itself meanwhile. */
async function attend(
  emulation: Emulation,
  lines: AsyncIterable<string | undefined>,
  ending: Ending,
  { print, units }: { readonly print: (text: string) => void; readonly units: Units },
  shown: (status: string) => void,
): Promise<void> {
  const truth = () => truthLines(emulation.machine.bench.truth(), units);
  for await (const text of lines) {
    if (ending.over) return;
    try {
      const line = text === undefined ? undefined : emulateLine(text);
      if (line?.kind === 'quit') {
        ending.end();
        return;
      }
      if (line !== undefined) emulation.obey(line, truth);
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      print(`          ${error.message}\n`);
    }
    shown(emulation.status());
  }
}

/** @throws InputError where something stands there already. */
function freePath(given: string | undefined): string {
  const path = given ?? './coldbench-board';
  if (!existsSync(path)) return path;
  throw new InputError(
    `${path} is there already; end what stands behind it, remove it, or give --link another path`,
  );
}

async function emulateBoard(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = splitArguments(args, OPTIONS, 1);
  const path = freePath(values.get('link'));
  const { scenario, source } = scenarioFor({ path: positionals[0], seed: seedFrom(values.get('seed')) });
  const units = unitsFor(unitSystemFrom(values.get('units')), scenario.weather.barometerPa);
  const session = prepare(scenario, source, fluidData, wallClockMs);
  const conversation = terminal.converse?.(SHOWN_EVERY_MS);
  const print = (text: string): void =>
    conversation === undefined ? terminal.out(text) : conversation.print(text);
  const typed = (conversation ?? terminal.lines())[Symbol.asyncIterator]();
  // A pipe that stays open keeps nobody waiting for its next line.
  const ending = new Ending(() => {
    conversation?.close();
    void typed.return?.();
  });
  const port = openPseudoTerminal(path, (bytes) => machine.receive(bytes), ending.end);
  const machine = new WiredBoard(
    { ...emulatedParts(session), bench: quickManifold(() => session.bench) },
    (byte) => port.send(Uint8Array.from(byte)),
  );
  const emulation = new Emulation(machine, session.equipment.scale, print);
  const beat = setInterval(() => {
    try {
      if (!ending.over) emulation.pass();
    } catch (error) {
      ending.end(error instanceof StateOutOfRange ? broken(error, scenario, source) : (error as Error));
    }
  }, BEAT_MS);
  const stopListening = terminal.onInterrupt?.(() => ending.end());
  try {
    while (!existsSync(path) && !ending.over) await pause(STARTS_MS);
    if (!ending.over)
      print(`The board stands at ${path}: coldbench commission, job or run --board find it there.\n`);
    await attend(emulation, { [Symbol.asyncIterator]: () => typed }, ending, { print, units }, (status) =>
      conversation?.show([status]),
    );
    // A pipe that has ended leaves the board there until Ctrl-C.
    while (conversation === undefined && !ending.over) await pause(SHOWN_EVERY_MS);
  } finally {
    clearInterval(beat);
    stopListening?.();
    conversation?.close();
    port.close();
  }
  if (ending.failed !== undefined) throw ending.failed;
  return EXIT.completed;
}

export const emulate: CliCommand = {
  name: 'emulate',
  summary: 'an emulated board behind a pseudo-terminal, to rehearse a machine with no hardware',
  help: HELP,
  run: emulateBoard,
};
