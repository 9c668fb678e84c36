// Jobs put into a store without running any: for listing, sealing and exporting.

import { clockMs, fluidOnce } from '../../../app/bench/whole-jobs.ts';
import { closeJobRecord, openJobRecord } from '../../../app/records/jobs.ts';
import { bookWeighed } from '../../../app/records/ledger.ts';
import type { Store } from '../../../app/records/store.ts';
import { prepare } from '../../../app/run/prepare.ts';
import { toScenario } from '../../../app/scenario/scenario.ts';
import { planJob } from '../../../controller/plan.ts';
import { CAR } from './jobs.ts';

const session = prepare(toScenario(CAR, 'the test'), 'the test', fluidOnce, clockMs);
const planned = planJob(session.scenario.ticket, session.equipment, session.curve);
if (!planned.ok) throw new Error('the test ticket is refused');
const { plan } = planned;

export const MACHINE = 'the test machine';

export type Made = {
  readonly name?: string;
  readonly at?: string;
  readonly recoveredKg?: number;
  readonly chargedKg?: number;
};

/** A closed job with two entries in the ledger. */
export function madeJob(store: Store, made: Made = {}): number {
  const { name = 'a car', at = '2026-03-01T10:00:00.000Z', recoveredKg = 0.3, chargedKg = 0.4 } = made;
  const { scenario, equipment } = session;
  const origin = { kind: 'simulated', scenario: {}, source: 'the test' } as const;
  const opening = { name, machine: MACHINE, ticket: scenario.ticket, equipment, plan, origin };
  const { id, tank, calibration } = openJobRecord(store, opening, at);
  const booking = { job: id, tank, calibration, at, refrigerant: 'R-134a' };
  const entry = { sdKg: 0.001, countsBefore: 0, countsAfter: 0, atMs: 1000 };
  bookWeighed(store, booking, { ...entry, movement: 'vehicle-to-tank', massKg: recoveredKg });
  bookWeighed(store, booking, { ...entry, movement: 'tank-to-vehicle', massKg: chargedKg });
  closeJobRecord(
    store,
    id,
    {
      outcome: 'completed',
      recoveredKg,
      chargedKg,
      document: { name },
      wear: { pumpS: 1200, drawnKg: recoveredKg, wet: false },
    },
    at,
  );
  return id;
}
