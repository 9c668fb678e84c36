// What the commands that run jobs need of the records: the file opened, and a recorder for one job.
import type { Session } from '../run/prepare.ts';
import { packWorld } from './packed.ts';
import { usualPlace } from './place.ts';
import { JobRecorder, type RecorderParts } from './recorder.ts';
import { Store } from './store.ts';

export const openStore = (file: string | undefined): Store => new Store(file ?? usualPlace());

const benchMachine = ({ equipment }: Pick<Session, 'equipment'>): string =>
  `simulated bench '${equipment.name}', ${equipment.tank.refrigerant}`;

/** A recorder for a job on the simulated bench. */
export function benchRecorder(
  store: Store,
  session: Session,
  source: string,
  hooks: Pick<RecorderParts, 'tell' | 'failed'>,
): JobRecorder {
  const { scenario, equipment, bench } = session;
  return new JobRecorder({
    store,
    calendar: Date.now,
    kept: {
      name: scenario.name,
      machine: benchMachine(session),
      ticket: scenario.ticket,
      equipment,
      origin: { kind: 'simulated', scenario, source },
    },
    world: () => packWorld(bench.save()),
    ...hooks,
  });
}
