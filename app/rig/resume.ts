// A job that was left open on a rig behind a line, taken up again in real time: the board is read, the tank weighed, and the
// job opened as it was left, with every path shut until somebody says 'go on'.
import { NEXT_TEXTS } from '../../controller/after-cut.ts';
import type { LeftOpen } from '../records/left-open.ts';
import { stageOf } from '../records/recall.ts';
import {
  LISTEN_MS,
  type Looked,
  lookedAt,
  type ResumeParts,
  type Settled,
  settle,
  takenUp,
} from '../records/resume.ts';
import { ScanLoop } from '../run/loop.ts';
import type { Operator } from '../run/operator.ts';
import { type DriveOnlookers, driveToEnd, type OnRig, weighOnRig } from './drive.ts';
import { runPaced } from './paced.ts';

/**
 * What the rig's clock shows when it begins: later than the job's last words, by no more than it has lain since. A calendar that
 * was set meanwhile vouches for no more than the time since this computer was started.
 */
export function clockAfter({ state, lastWords }: LeftOpen, calendarMs: number, uptimeMs: number): number {
  const lainMs = Math.max(0, Math.min(calendarMs - Date.parse(lastWords.at), uptimeMs));
  return Math.max(state.memory.lastScanMs, lastWords.atMs) + lainMs + 1;
}

/** Weighs the tank on a rig that is only read. */
export async function lookOnRig(left: LeftOpen, on: OnRig): Promise<Looked> {
  return lookedAt(left, await weighOnRig(left.state, on));
}

export type ResumeOnlookers = DriveOnlookers & {
  /** Called before the first scan. */
  readonly takenUp?: (loop: ScanLoop) => void;
};

/**
 * Goes on with the job until it ends. Nothing is driven before the operator's 'go on': the board is only read until then.
 * @throws StoreProblem when the choice cannot be written down; nothing has moved then.
 */
export async function goOnOnRig(
  parts: ResumeParts,
  { rig, time }: OnRig,
  operator: Operator,
  onlookers: ResumeOnlookers,
): Promise<Settled> {
  const { ticket } = parts.left.record;
  const { afterCut } = parts.looked;
  let loop: ScanLoop | undefined;
  const { state, journal } = takenUp(parts, time.nowMs(), () => loop);
  const observers = [...onlookers.observers];
  const begun = new ScanLoop({ rig, state, operator, observers, journal });
  loop = begun;
  onlookers.takenUp?.(begun);
  const untilMs = time.nowMs() + LISTEN_MS;
  await runPaced(begun, rig, time, () => time.nowMs() < untilMs);
  const stage = stageOf(parts.left.state) ?? 'nothing';
  const engine = afterCut.engineMayRun ? ', and that the engine stands' : '';
  if (!begun.ended)
    onlookers.tell(
      `The job stands where it was left, in ${stage}, with everything shut. ${NEXT_TEXTS[afterCut.next]} See that the hoses are as they were${engine}.`,
    );
  const facts = await driveToEnd({ rig, time, loop: begun, observers, ticket }, onlookers);
  return settle(parts, journal, begun.state, { ...facts, afterCut });
}
