// What the commands that run jobs need of the records: the file opened, and a recorder for one job.
import { existsSync } from 'node:fs';
import type { Session } from '../run/prepare.ts';
import { packWorld } from './packed.ts';
import { usualPlace } from './place.ts';
import { JobRecorder, type RecorderParts } from './recorder.ts';
import { Store } from './store.ts';
import { StoreProblem } from './store-problem.ts';

export const openStore = (file: string | undefined): Store => new Store(file ?? usualPlace());

/** @throws StoreProblem also when there is no such file: where something is looked for, an empty one would say that there is nothing. */
export function openKept(file: string | undefined): Store {
  if (file !== undefined && !existsSync(file))
    throw new StoreProblem(`${file}: there is no such file of records; give the one that was written`);
  return openStore(file);
}

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
