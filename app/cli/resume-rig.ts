// `coldbench resume` for a job on a real rig: looked at and closed from afar, or taken up again at the rig by a person.
import { uptime } from 'node:os';
import { isDeepStrictEqual } from 'node:util';
import type { Equipment } from '../../controller/equipment.ts';
import { leftOff } from '../records/left-open.ts';
import { cannotBeWritten } from '../records/recorder.ts';
import { closeLeft, lookedAt, type ResumeParts } from '../records/resume.ts';
import { boardReady } from '../rig/paced.ts';
import { clockAfter, goOnOnRig, lookOnRig } from '../rig/resume.ts';
import { InputError, RunBroken, type Terminal } from './command.ts';
import { commissioned, type JoinedRig, joinRig } from './commissioned.ts';
import { EXIT } from './exit.ts';
import { JobDesk } from './job-desk.ts';
import { obeyed, report, type Work } from './resume-shown.ts';
import { Watch } from './watch.ts';

export type AtRig = { readonly port: string; readonly equipmentFile: string | undefined };

const throwing = (problem: Error): never => {
  throw problem;
};

const closed = (work: Work, parts: ResumeParts): number => report(work, closeLeft(parts));

/** Without its rig a job can be looked at and closed: what has moved, the next job's first weighing books. */
export function lookFromAfar(work: Work): number {
  const { store, left, calendar, choice } = work;
  const { origin } = left.record;
  if (choice === 'go-on' && origin.kind === 'rig')
    throw new InputError(
      `a job on a rig is gone on with at the rig: give --port and --file (it was begun at ${origin.port}, with ${origin.file})`,
    );
  const seen = lookedAt(left, undefined);
  const chosen = obeyed(work, seen);
  if (chosen === undefined) return EXIT.completed;
  return closed(work, { store, calendar, left, looked: seen, failed: throwing });
}

/** @throws InputError where the rig is not as it was when the job began: its counts would mean something else. */
function sameEquipment(before: Equipment, now: Equipment, file: string | undefined): void {
  if (isDeepStrictEqual(JSON.parse(JSON.stringify(now)), before)) return;
  throw new InputError(
    `${file}: the rig is not as it was when the job began: it was commissioned anew, or is another one. ` +
      "Close the job without --port; the next job's first weighing books what has moved",
  );
}

/** The tank is weighed and shown; a choice that is offered is obeyed, with a person at the machine. */
export async function resumeOnRig(work: Work, { port, equipmentFile }: AtRig): Promise<number> {
  const { left, terminal } = work;
  const { equipment, sensors } = commissioned(equipmentFile, port);
  sameEquipment(left.record.equipment, equipment, equipmentFile);
  const on = joinRig(sensors, port, clockAfter(left, work.calendar(), 1000 * uptime()));
  try {
    const problem = await boardReady(on.rig, on.time);
    if (problem !== undefined) throw new RunBroken(problem);
    terminal.err('The tank is being weighed, for about a minute: leave the platform alone.\n');
    return await resumeWeighed(work, on, port);
  } finally {
    on.rig.connection.close();
  }
}

async function resumeWeighed(work: Work, on: JoinedRig, port: string): Promise<number> {
  const { store, left, calendar, terminal, json } = work;
  const looked = await lookOnRig(left, on);
  const choice = obeyed(work, looked);
  if (choice === undefined) return EXIT.completed;
  if (choice === 'close') return closed(work, { store, calendar, left, looked, failed: throwing });
  const quiet: Terminal = json ? { ...terminal, out: terminal.err } : terminal;
  const desk = new JobDesk(quiet, work.units);
  const stopListening = terminal.onInterrupt?.(() => desk.abort());
  const parts: ResumeParts = {
    store,
    calendar,
    left,
    looked,
    failed: (problem) => desk.tell(cannotBeWritten(problem)),
  };
  let watching: Watch | undefined;
  try {
    const opened = await Watch.open(work.watch, undefined, desk.tell);
    watching = opened;
    const called = { name: left.record.line.name, rig: `rig at ${port}`, left: leftOff(left) };
    void desk.listen();
    const { facts, closed: ended } = await goOnOnRig(
      parts,
      on,
      { respond: () => [] },
      {
        observers: [desk.look, ...opened.observers],
        tell: desk.tell,
        hurries: desk.hurries,
        takenUp: (loop) => opened.begin(loop, called),
        started: (loop, watch) => desk.begin(loop, watch),
      },
    );
    desk.close();
    if (!ended) throw new RunBroken(`job ${left.record.line.id} is left open: it has not ended`);
    return report(work, facts);
  } finally {
    stopListening?.();
    desk.close();
    await watching?.close();
  }
}
