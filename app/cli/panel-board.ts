// `coldbench panel --board`: the operator's page on a real rig, from its commissioning to its jobs.
import { Connection, type OpenLine } from '../../hardware/connection.ts';
import { openSerial } from '../../hardware/serial.ts';
import { BoardPanel } from '../page/server/board-panel.ts';
import type { RigParts } from '../page/server/panel-rig.ts';
import type { Recordings } from '../page/server/recordings.ts';
import { RecordsDesk } from '../page/server/records-desk.ts';
import type { ServedPanel } from '../page/server/served-panel.ts';
import { openStore } from '../records/keep.ts';
import { JobRecorder } from '../records/recorder.ts';
import { realTime } from '../rig/paced.ts';
import type { FluidData } from '../run/prepare.ts';

/** What is served, and how it ends. */
export type Kept = {
  readonly panel: ServedPanel;
  readonly records: RecordsDesk;
  /** Everything off; a job is ended in order. */
  readonly close: () => Promise<void>;
};

/** Ending a job in order takes a board so long at most. */
const LONGEST_END_MS = 120_000;
const LOOKED_MS = 20;
/** Until a last word has left the port. */
const LEAVES_MS = 100;

export type BoardArguments = {
  readonly port: string;
  readonly file: string;
  /** Of the records; absent for the usual place. A real machine always records. */
  readonly records: string | undefined;
  readonly fluids: (refrigerant: string) => FluidData;
  readonly recordings?: Recordings | undefined;
  /** Tests have a line of their own. */
  readonly open?: OpenLine;
};

/** @throws InputError for a file that is no equipment file, or records that cannot be opened. */
export function panelOnBoard({ port, file, records, fluids, recordings, open }: BoardArguments): Kept {
  const store = openStore(records);
  const { nowMs, sleep } = realTime();
  const connection = new Connection({ open: open ?? openSerial(port), nowMs });
  const origin = { kind: 'rig', port, file } as const;
  const recorderOf: RigParts['recorderOf'] = (named, equipment, tell) =>
    new JobRecorder({
      store,
      calendar: Date.now,
      kept: { ...named, machine: `rig '${equipment.name}'`, equipment, origin },
      tell,
    });
  const panel = joined();
  function joined(): BoardPanel {
    try {
      return new BoardPanel({
        connection,
        file,
        nowMs,
        calendarMs: Date.now,
        fluids,
        recorderOf,
        recordings,
      });
    } catch (error) {
      connection.close();
      store.close();
      throw error;
    }
  }
  const desk = new RecordsDesk(store.path);
  return {
    panel,
    records: desk,
    close: async () => {
      panel.end();
      const untilMs = nowMs() + LONGEST_END_MS;
      while (!panel.isIdle && nowMs() < untilMs) await sleep(Math.min(panel.beat(), LOOKED_MS));
      for (const outMs = nowMs() + LEAVES_MS; nowMs() < outMs; )
        await sleep(Math.min(panel.beat(), LOOKED_MS));
      connection.close();
      await recordings?.close();
      await desk.close();
      store.close();
    },
  };
}
