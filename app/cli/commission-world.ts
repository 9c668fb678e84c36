// What commissioning needs of the world besides the terminal: clocks, time that passes, and the port. Tests have their own.
import type { Figures } from '../../hardware/commissioning/record.ts';
import { Connection } from '../../hardware/connection.ts';
import { openSerial } from '../../hardware/serial.ts';
import { boardOn, type CommissionedBoard } from '../rig/commissioned-board.ts';
import { type RealTime, realTime } from '../rig/paced.ts';

/** The port of the rig, open for as long as commissioning lasts. */
export interface JoinedPort {
  boardWith(facts: Figures): CommissionedBoard;
  /** To be called at least every 50 ms. */
  tick(nowMs: number): void;
  /** Whether a board answers there. */
  linked(): boolean;
  /** Why no board answers, or undefined. */
  problem(): string | undefined;
  close(): void;
}

export type CommissioningWorld = RealTime & {
  /** Since 1970. */
  readonly calendarMs: () => number;
  readonly join: (port: string) => JoinedPort;
};

export function realWorld(): CommissioningWorld {
  const time = realTime();
  const { nowMs } = time;
  return {
    ...time,
    calendarMs: () => Date.now(),
    join: (port) => {
      const connection = new Connection({ open: openSerial(port), nowMs });
      return {
        boardWith: (facts) => boardOn(connection, facts, nowMs),
        tick: (atMs) => connection.tick(atMs),
        linked: () => connection.link.state === 'ready',
        problem: () => connection.problem,
        close: () => connection.close(),
      };
    },
  };
}
