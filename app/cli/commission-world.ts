// What commissioning needs of the world besides the terminal: clocks, time that passes, and the port. Tests have their own.
import type { Figures } from '../../hardware/commissioning/record.ts';
import { Connection } from '../../hardware/connection.ts';
import { openSerial } from '../../hardware/serial.ts';
import { boardOn, type CommissionedBoard } from '../rig/commissioned-board.ts';

/** The port of the rig, open for as long as commissioning lasts. */
export interface JoinedPort {
  boardWith(facts: Figures): CommissionedBoard;
  /** To be called at least every 50 ms. */
  tick(nowMs: number): void;
  /** Why no board answers, or undefined. */
  problem(): string | undefined;
  close(): void;
}

export type CommissioningWorld = {
  /** Never goes back. */
  readonly nowMs: () => number;
  /** Since 1970. */
  readonly calendarMs: () => number;
  readonly pause: (ms: number) => Promise<void>;
  readonly join: (port: string) => JoinedPort;
};

const nowMs = (): number => performance.now();

export const REAL_WORLD: CommissioningWorld = {
  nowMs,
  calendarMs: () => Date.now(),
  pause: (ms) => new Promise((resolve) => setTimeout(resolve, ms)),
  join: (port) => {
    const connection = new Connection({ open: openSerial(port), nowMs });
    return {
      boardWith: (facts) => boardOn(connection, facts, nowMs),
      tick: (atMs) => connection.tick(atMs),
      problem: () => connection.problem,
      close: () => connection.close(),
    };
  },
};
