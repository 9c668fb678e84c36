// A job in real time: the board is spoken to every 50 ms, the controller scans every 100.
import type { BoardRig } from '../../hardware/rig.ts';
import { SCAN_MS, type ScanLoop } from '../run/loop.ts';

/** A rig whose own time goes on. */
export type Ticking = { tick(): void };

export type RealTime = {
  /** A clock that never runs back, in milliseconds from the start. */
  readonly nowMs: () => number;
  readonly sleep: (ms: number) => Promise<void>;
};

/** The clock of this computer, from now on. @param fromMs what it shows now. */
export function realTime(fromMs = 0): RealTime {
  const startedMs = performance.now();
  return {
    nowMs: () => Math.floor(fromMs + performance.now() - startedMs),
    sleep: (ms) => new Promise((resolve) => setTimeout(resolve, ms)),
  };
}

const BEAT_MS = SCAN_MS / 2;
/** A computer that slept, or was too busy, does not make up for what it missed. */
const LATE_MS = 1_000;

/** Two beats a scan. */
export async function beats(
  { nowMs, sleep }: RealTime,
  goesOn: () => boolean,
  beat: (nowMs: number, scans: boolean) => void,
): Promise<void> {
  let dueMs = nowMs();
  for (let count = 0; goesOn(); count++) {
    const late = nowMs() - dueMs;
    if (late > LATE_MS) dueMs += late;
    beat(nowMs(), count % 2 === 0);
    dueMs += BEAT_MS;
    await sleep(Math.max(0, dueMs - nowMs()));
  }
}

/** A boot loader takes two seconds, the handshake up to two more. */
const READY_MS = 6_000;

/** Waits for the board behind a rig; answers what is wrong where none comes. */
export async function boardReady(rig: BoardRig, time: RealTime): Promise<string | undefined> {
  const untilMs = time.nowMs() + READY_MS;
  const { connection } = rig;
  await beats(
    time,
    () => connection.link.state !== 'ready' && connection.problem === undefined && time.nowMs() < untilMs,
    () => rig.tick(),
  );
  if (connection.link.state === 'ready') return undefined;
  return connection.problem ?? 'the board does not answer; check port, cable and supply';
}

/** Scans until the job has ended, or for as long as is said. */
export const runPaced = (
  loop: ScanLoop,
  rig: Ticking,
  time: RealTime,
  goesOn: () => boolean = () => !loop.ended,
): Promise<void> =>
  beats(time, goesOn, (nowMs, scans) => {
    rig.tick();
    if (scans) loop.turn(nowMs);
  });
