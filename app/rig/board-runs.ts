// Jobs of the simulated bench with a board in the loop, emulated or real, and an operator who goes on when it is back.
import { Connection, type OpenLine } from '../../hardware/connection.ts';
import { BoardRig, SERIAL_CAPABILITIES } from '../../hardware/rig.ts';
import type { LiveBench } from '../../sim/bench.ts';
import { RunBroken } from '../cli/command.ts';
import type { RunFacts } from '../run/document.ts';
import type { Observer } from '../run/loop.ts';
import type { JobSession, Session } from '../run/prepare.ts';
import { type Onlookers, runSession } from '../run/session.ts';
import { BenchWithBoard } from './board-outputs.ts';
import { ControlWatch, type Driven } from './control-watch.ts';
import { emulatedParts } from './emulated.ts';
import { JoinedBench } from './joined.ts';
import { beats, boardReady, type RealTime } from './paced.ts';

/** Takes what an operator is told of the board. */
export type Tell = (text: string) => void;

type Behind = JobSession & { readonly bench: LiveBench & Driven };

/** A job whose operator takes control again some time after the board is there to be driven. */
function runKept(session: Behind, onlookers: Onlookers, tell: Tell): Promise<RunFacts> {
  const { bench, scenario } = session;
  let watch: ControlWatch | undefined;
  let since: number | undefined;
  const observers: Observer[] = [
    ...onlookers.observers,
    ({ nowMs }) => {
      watch?.look();
      since = watch?.undriven === undefined ? undefined : (since ?? nowMs);
      if (since !== undefined && nowMs - since >= scenario.operatorDelayMs) watch?.goOn();
    },
  ];
  return runSession(session, {
    ...onlookers,
    observers,
    started: (loop) => {
      watch = new ControlWatch(bench, (event) => loop.send(event), tell);
      onlookers.started?.(loop);
    },
  });
}

/** The real firmware on an emulated board between controller and bench, some 45 times real time. */
export const runWithFirmware = (session: Session, onlookers: Onlookers, tell: Tell): Promise<RunFacts> =>
  runKept({ ...session, bench: new JoinedBench(emulatedParts(session)) }, onlookers, tell);

/**
 * The sensors of the bench, the outputs of the board behind a line, in real time.
 * @throws RunBroken when no board answers.
 */
export async function runOnBoard(
  session: Session,
  open: OpenLine,
  time: RealTime,
  onlookers: Onlookers,
  tell: Tell,
): Promise<RunFacts> {
  const { sensors } = emulatedParts(session);
  const connection = new Connection({ open, nowMs: time.nowMs });
  try {
    const rig = new BoardRig({ connection, sensors, capabilities: SERIAL_CAPABILITIES, nowMs: time.nowMs });
    const problem = await boardReady(rig, time);
    if (problem !== undefined) throw new RunBroken(problem);
    const bench = new BenchWithBoard(session.bench, rig);
    bench.takeControl();
    const drive: Onlookers['drive'] = async (loop) => {
      const aheadMs = time.nowMs() - bench.nowMs();
      const startedMs = bench.nowMs();
      await beats(
        time,
        () => !loop.ended,
        (nowMs, scans) => {
          bench.advanceTo(nowMs - aheadMs);
          if (scans) loop.turn(bench.nowMs());
          void onlookers.pacing.breathe();
        },
      );
      const lastedMs = bench.nowMs() - startedMs;
      return { simulatedMs: lastedMs, wallMs: lastedMs };
    };
    return await runKept({ ...session, bench }, { ...onlookers, drive }, tell);
  } finally {
    connection.close();
  }
}
