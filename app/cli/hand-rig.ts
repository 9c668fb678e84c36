// `coldbench hand --port`: a real rig worked by hand from a terminal.
import { mixingBlockers } from '../../controller/plan-blockers.ts';
import { RigHand } from '../rig/hand.ts';
import { beats, boardReady } from '../rig/paced.ts';
import type { ScanLoop } from '../run/loop.ts';
import { readTicket } from '../scenario/ticket.ts';
import { type UnitSystem, unitsFor } from '../units.ts';
import { type Conversation, InputError, RunBroken, type Terminal } from './command.ts';
import { commissioned, joinRig } from './commissioned.ts';
import { EXIT } from './exit.ts';
import { HandDesk } from './hand-desk.ts';
import { handLine } from './hand-lines.ts';
import { Watch } from './watch.ts';

export type RigByHand = {
  readonly port: string;
  readonly file: string | undefined;
  readonly path: string | undefined;
  readonly script: string | undefined;
  readonly units: UnitSystem;
  readonly watch: ReadonlyMap<string, string>;
};

const BEAT_MS = 250;

/** Obeys what is typed until somebody leaves; a line that was not understood costs nothing. */
async function talk(desk: HandDesk, conversation: Conversation): Promise<void> {
  for await (const text of conversation) {
    try {
      const line = text === undefined ? undefined : handLine(text);
      if (line?.kind === 'wait') throw new InputError('time passes by itself at a real rig; watch it');
      if (line !== undefined && text !== undefined) desk.obey(line, text.trim());
      if (line?.kind === 'quit') return;
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      conversation.print(`          ${error.message}\n`);
    }
    conversation.show(desk.status);
  }
}

export async function workRigByHand(given: RigByHand, terminal: Terminal): Promise<number> {
  if (given.path === undefined)
    throw new InputError('the ticket is missing; coldbench hand --help shows how to give it');
  const { ticket, name } = readTicket(given.path);
  const { equipment, sensors } = commissioned(given.file, given.port);
  const [mixing] = mixingBlockers(ticket, equipment);
  if (mixing !== undefined) throw new InputError(`${given.path}: ${mixing.text} ${mixing.remedy}`);
  if (given.script !== undefined || terminal.converse === undefined)
    throw new InputError(
      'a real rig is worked by hand at a terminal, by somebody who looks at it; leave --script out',
    );
  const { time, rig } = joinRig(sensors, given.port);
  let watch: Watch | undefined;
  try {
    const watching = await Watch.open(given.watch, given.path, (text) => terminal.err(`${text}\n`));
    watch = watching;
    const problem = await boardReady(rig, time);
    if (problem !== undefined) throw new RunBroken(problem);
    const conversation = terminal.converse(BEAT_MS);
    const print = (text: string): void => conversation.print(text);
    let work: RigHand | undefined;
    const desk = new HandDesk(
      (look) => {
        const tell = (text: string): void => print(`          ${text}\n`);
        const started = (loop: ScanLoop): void => watching.begin(loop, { name, rig: `rig at ${given.port}` });
        work = new RigHand({
          rig,
          time,
          equipment,
          ticket,
          observers: [...watching.observers, look],
          tell,
          started,
        });
        return work;
      },
      unitsFor(given.units, sensors.typedBarometerPa),
      print,
    );
    let leaves = false;
    const working = beats(
      time,
      () => !leaves,
      (_, scans) => work?.beat(scans),
    );
    await talk(desk, conversation);
    leaves = true;
    await working;
    conversation.close();
    return desk.end(false).outcome === 'completed' ? EXIT.completed : EXIT.stopped;
  } finally {
    rig.connection.close();
    await watch?.close();
  }
}
