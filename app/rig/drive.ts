// A job that has been opened on a rig behind a line, driven in real time to its end, and the tank weighed with every path shut.
import { isLeftOpen, standAfterCut } from '../../controller/after-cut.ts';
import type { Weighing } from '../../controller/estimates/masses.ts';
import type { ControllerState } from '../../controller/state.ts';
import type { Ticket } from '../../controller/ticket.ts';
import type { BoardRig } from '../../hardware/rig.ts';
import { TankLook } from '../run/after-cut.ts';
import type { JobFacts } from '../run/document.ts';
import { factsOf } from '../run/ended.ts';
import type { Observer, ScanLoop } from '../run/loop.ts';
import { ControlWatch } from './control-watch.ts';
import { beats, type RealTime, runPaced } from './paced.ts';

export type OnRig = { readonly rig: BoardRig; readonly time: RealTime };

export type Driving = OnRig & {
  readonly loop: ScanLoop;
  /** Those of the loop: whoever watches the control joins them. */
  readonly observers: Observer[];
  readonly ticket: Ticket;
};

export type DriveOnlookers = {
  readonly observers: readonly Observer[];
  /** Takes one sentence for the operator. */
  readonly tell: (text: string) => void;
  /** Called before the job is driven, for whoever sends events and goes on after a pause. */
  readonly started?: (loop: ScanLoop, watch: ControlWatch) => void;
  /** Whether the operator no longer waits for what comes after the job's end. */
  readonly hurries?: () => boolean;
};

/** What is said while what a stopped job has left off is weighed. */
export const WEIGHED_ONCE_MORE =
  'The tank is weighed once more, for about a minute: leave the platform alone.';

/** The tank, weighed in real time with every path shut; absent where it does not come to rest or the line goes down. */
export async function weighOnRig(
  journal: ControllerState,
  { rig, time }: OnRig,
  hurries: () => boolean = () => false,
): Promise<Weighing | undefined> {
  const look = new TankLook(journal, rig, time.nowMs());
  await beats(
    time,
    () => !look.done && !hurries() && rig.connection.link.state === 'ready',
    (nowMs, scans) => {
      rig.tick();
      if (scans) look.turn(nowMs);
    },
  );
  return look.weighed;
}

/** Scans until the job has ended; what a job that stopped on its way has moved since its last weighing is weighed then. */
export async function driveToEnd(
  driving: Driving,
  { tell, started, hurries }: DriveOnlookers,
): Promise<JobFacts> {
  const { rig, time, loop, observers, ticket } = driving;
  const watch = new ControlWatch(rig, (event) => loop.send(event), tell);
  observers.push(() => watch.look());
  started?.(loop, watch);
  await runPaced(loop, rig, time);
  const { state } = loop;
  let afterStop: JobFacts['afterStop'];
  if (isLeftOpen(state)) {
    if (rig.connection.link.state === 'ready') tell(WEIGHED_ONCE_MORE);
    afterStop = standAfterCut(state, await weighOnRig(state, driving, hurries));
  }
  return {
    ...factsOf(state, ticket),
    ...(afterStop === undefined ? {} : { afterStop }),
    line: { opened: rig.connection.opened, losses: rig.connection.losses },
  };
}
