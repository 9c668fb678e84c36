// A job on a rig behind a line, in real time: the line is opened, the tank looked at, the plan made, control taken.
import { planWithTank, tankAtRest } from '../../controller/begin.ts';
import type { Equipment } from '../../controller/equipment.ts';
import type { Blocker } from '../../controller/notice.ts';
import { openJob } from '../../controller/scan.ts';
import type { Readings } from '../../controller/signals.ts';
import type { BoardRig } from '../../hardware/rig.ts';
import { RunBroken } from '../cli/command.ts';
import type { JobFacts } from '../run/document.ts';
import { SCAN_MS, ScanLoop } from '../run/loop.ts';
import type { Operator } from '../run/operator.ts';
import { fluidData } from '../run/prepare.ts';
import type { Recorder } from '../run/session.ts';
import type { NamedTicket } from '../scenario/ticket.ts';
import { type DriveOnlookers, driveToEnd } from './drive.ts';
import { beats, boardReady, type RealTime } from './paced.ts';

export type RigJob = NamedTicket & {
  readonly equipment: Equipment;
  readonly rig: BoardRig;
  readonly time: RealTime;
};

export type RigOnlookers = DriveOnlookers & {
  readonly operator: Operator;
  readonly recorder?: Recorder | undefined;
};

/** The tank is looked at for so long before the job is planned: one reading may be a spike. */
const LOOKS = 9;

/** Readings one after the other, the first of them once everything has been read. */
async function looks({ rig, time }: RigJob): Promise<readonly [Readings, ...Readings[]]> {
  const seen: Readings[] = [];
  const untilMs = time.nowMs() + 1_000 + LOOKS * SCAN_MS;
  await beats(
    time,
    () => time.nowMs() < untilMs && rig.connection.link.state === 'ready',
    (_, scans) => {
      rig.tick();
      if (scans) seen.push(rig.readings());
    },
  );
  return seen.slice(-LOOKS) as unknown as readonly [Readings, ...Readings[]];
}

const refused = ({ ticket }: RigJob, blockers: readonly Blocker[]): JobFacts => ({
  outcome: 'refused',
  ticket,
  blockers,
});

/**
 * @returns what came of it and how long it lasted.
 * @throws RunBroken when no board answers.
 */
export async function runRigJob(
  job: RigJob,
  onlookers: RigOnlookers,
): Promise<{ readonly facts: JobFacts; readonly lastedMs: number }> {
  const { ticket, equipment, rig, time } = job;
  const { recorder, operator } = onlookers;
  const problem = await boardReady(rig, time);
  if (problem !== undefined) throw new RunBroken(problem);
  const curves = {
    asked: fluidData(ticket.refrigerant).curve,
    tank: fluidData(equipment.tank.refrigerant).curve,
  };
  const tank = tankAtRest(await looks(job), equipment, curves.tank, time.nowMs());
  const planned = planWithTank(ticket, equipment, curves.asked, tank);
  const against = [...(planned.ok ? [] : planned.blockers), ...(recorder?.blockers() ?? [])];
  if (!planned.ok || against.length > 0) return { facts: refused(job, against), lastedMs: 0 };
  const startMs = time.nowMs();
  const state = openJob(planned.plan, equipment, startMs);
  const journal = recorder?.begin(state);
  rig.takeControl();
  const observers = [...onlookers.observers];
  const loop = new ScanLoop({ rig, state, operator, observers, journal });
  const facts = await driveToEnd({ rig, time, loop, observers, ticket }, onlookers);
  return { facts, lastedMs: time.nowMs() - startMs };
}
