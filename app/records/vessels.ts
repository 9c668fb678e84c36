// Tanks and cylinders: what they are, and that each keeps its refrigerant for good.
import type { Equipment } from '../../controller/equipment.ts';
import type { Blocker } from '../../controller/notice.ts';
import type { Ticket } from '../../controller/ticket.ts';
import { isEmpty, numberIn, type Row, type Store, textIn } from './store.ts';

export type Vessel = {
  readonly id: number;
  readonly kind: 'tank' | 'cylinder';
  readonly name: string;
  readonly refrigerant: string;
  readonly machine?: string;
  readonly waterCapacityM3?: number;
  readonly refillable: boolean;
  readonly retestDue?: string;
  readonly firstSeen: string;
};

export const vesselOf = (row: Row): Vessel => ({
  id: numberIn(row, 'id'),
  kind: textIn(row, 'kind') === 'tank' ? 'tank' : 'cylinder',
  name: textIn(row, 'name'),
  refrigerant: textIn(row, 'refrigerant'),
  ...(isEmpty(row, 'machine') ? {} : { machine: textIn(row, 'machine') }),
  ...(isEmpty(row, 'water_capacity_m3') ? {} : { waterCapacityM3: numberIn(row, 'water_capacity_m3') }),
  refillable: numberIn(row, 'refillable') === 1,
  ...(isEmpty(row, 'retest_due') ? {} : { retestDue: textIn(row, 'retest_due') }),
  firstSeen: textIn(row, 'first_seen'),
});

export const vessels = (store: Store): readonly Vessel[] =>
  store.all('SELECT * FROM vessels ORDER BY id').map(vesselOf);

export function vesselNamed(store: Store, name: string): Vessel | undefined {
  const row = store.one('SELECT * FROM vessels WHERE name = ?', name);
  return row === undefined ? undefined : vesselOf(row);
}

export function tankOf(store: Store, machine: string): Vessel | undefined {
  const row = store.one('SELECT * FROM vessels WHERE machine = ?', machine);
  return row === undefined ? undefined : vesselOf(row);
}

type OnScale = Pick<Equipment['tank'], 'refrigerant' | 'waterCapacityM3' | 'contaminated'>;

/** What stands on a machine's scale, noted where it is new: its own tank, or the cylinder for what no tank may take. */
export function onScaleOf(store: Store, machine: string, tank: OnScale, at: string): number {
  const { refrigerant, waterCapacityM3 } = tank;
  if (tank.contaminated !== true)
    return (
      tankOf(store, machine)?.id ??
      addVessel(
        store,
        { kind: 'tank', name: `tank of ${machine}`, refrigerant, machine, waterCapacityM3 },
        at,
      )
    );
  const name = `contaminated ${refrigerant}, cylinder of ${machine}`;
  return (
    vesselNamed(store, name)?.id ??
    addVessel(store, { kind: 'cylinder', name, refrigerant, waterCapacityM3 }, at)
  );
}

export type NewVessel = Pick<Vessel, 'kind' | 'name' | 'refrigerant'> &
  Partial<Pick<Vessel, 'machine' | 'waterCapacityM3' | 'refillable' | 'retestDue'>>;

export const addVessel = (store: Store, vessel: NewVessel, at: string): number =>
  store.run(
    `INSERT INTO vessels (kind, name, refrigerant, machine, water_capacity_m3, refillable, retest_due, first_seen)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
    vessel.kind,
    vessel.name,
    vessel.refrigerant,
    vessel.machine ?? null,
    vessel.waterCapacityM3 ?? null,
    vessel.refillable === false ? 0 : 1,
    vessel.retestDue ?? null,
    at,
  );

export function setRetest(store: Store, id: number, due: string): void {
  store.run('UPDATE vessels SET retest_due = ? WHERE id = ?', due, id);
}

/** The cylinder that a ticket names, where the records have one. */
export function supplyOf(store: Store, { cylinderName }: Ticket): Vessel | undefined {
  const vessel = cylinderName === undefined ? undefined : vesselNamed(store, cylinderName);
  return vessel?.kind === 'cylinder' ? vessel : undefined;
}

/** Why nothing may be filled out of the cylinder that a ticket names. */
export function supplyBlockers(store: Store, ticket: Ticket): readonly Blocker[] {
  const { cylinderName, refrigerant } = ticket;
  if (cylinderName === undefined) return [];
  const supply = supplyOf(store, ticket);
  if (supply === undefined)
    return [
      {
        code: 'supply-unknown',
        text: `The records have no cylinder '${cylinderName}'.`,
        remedy: `See how its name is written, 'coldbench records ledger', or note it: 'coldbench records ledger --add-cylinder NAME --refrigerant ${refrigerant}'.`,
      },
    ];
  if (supply.refrigerant === refrigerant) return [];
  return [
    {
      code: 'supply-of-another-refrigerant',
      text: `By its record the cylinder '${cylinderName}' is for ${supply.refrigerant} for good, and the ticket asks for ${refrigerant}.`,
      remedy: 'Connect the right cylinder, or mend the ticket.',
    },
  ];
}

/** Why a machine's own tank may not be used for a refrigerant, or past its retest; nothing while another cylinder stands there. */
export function tankBlockers(
  tank: Vessel | undefined,
  { refrigerant, contaminated }: OnScale,
  nowMs: number,
): readonly Blocker[] {
  if (tank === undefined || contaminated === true) return [];
  const other: Blocker = {
    code: 'tank-of-another-refrigerant',
    text: `By its record the tank '${tank.name}' is for ${tank.refrigerant} for good, and the equipment now names ${refrigerant}.`,
    remedy: 'Put the right tank on the scale; a machine with another tank gets a name of its own.',
  };
  const late: Blocker = {
    code: 'tank-retest-overdue',
    text: `The tank '${tank.name}' was to be tested again by ${tank.retestDue}.`,
    remedy: "Have it tested, then write it down: 'coldbench records ledger --retest DATE --vessel NAME'.",
  };
  return [
    ...(tank.refrigerant === refrigerant ? [] : [other]),
    ...(tank.retestDue !== undefined && Date.parse(tank.retestDue) < nowMs ? [late] : []),
  ];
}
