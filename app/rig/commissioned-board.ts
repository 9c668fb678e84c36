// The board that is being commissioned: read by its data sheets, driven by the engine's commands, silent when told to be.
import type { Commands } from '../../controller/signals.ts';
import type { BoardSeen, Seen } from '../../hardware/commissioning/line.ts';
import type { Figures } from '../../hardware/commissioning/record.ts';
import { dataSheetSensors } from '../../hardware/commissioning/sensors.ts';
import type { Connection } from '../../hardware/connection.ts';
import { NOTHING_SEEN } from '../../hardware/fitted.ts';
import { BoardRig, SERIAL_CAPABILITIES } from '../../hardware/rig.ts';

/** What commissioning needs of a rig; tests have their own. */
export interface CommissionedBoard {
  seen(): Seen;
  takeControl(): void;
  apply(commands: Commands): void;
}

const NO_BOARD: BoardSeen = { linked: false, state: 'idle', trip: 'none', word: 0, obeyed: 0, timeMs: 0 };
export const NO_BOARD_SEEN: Seen = { readings: NOTHING_SEEN, board: NO_BOARD };

/** A board on a connection, with the sensors that the typed facts name. */
export function boardOn(connection: Connection, facts: Figures, nowMs: () => number): CommissionedBoard {
  const rig = new BoardRig({
    connection,
    sensors: dataSheetSensors(facts),
    capabilities: SERIAL_CAPABILITIES,
    nowMs,
  });
  return {
    seen: () => {
      const readings = rig.readings();
      const { seen, state } = connection.link;
      if (seen === undefined) return NO_BOARD_SEEN;
      const { state: boardState, trip, word, obeyed, timeMs } = seen;
      return {
        readings,
        board: { linked: state === 'ready', state: boardState, trip, word, obeyed, timeMs },
      };
    },
    takeControl: () => rig.takeControl(),
    apply: (commands) => rig.apply(commands),
  };
}
