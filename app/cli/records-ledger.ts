// `coldbench records ledger`: tanks and cylinders, what is in them, and what a person books.
import { isoOf } from '../records/calendar.ts';
import { type Balance, BOOKED, balances, bookByHand, bookCounted, entriesOf } from '../records/ledger.ts';
import type { Store } from '../records/store.ts';
import { addVessel, setRetest, type Vessel, vesselNamed, vessels } from '../records/vessels.ts';
import { fluidData } from '../run/prepare.ts';
import { fillLimits } from '../scenario/equipment.ts';
import type { Units } from '../units.ts';
import { InputError } from './command.ts';
import { suggestion } from './nearest.ts';
import { refrigerantNamed } from './properties.ts';
import { ledgerText, type Shown, type ViewInput } from './records-shown.ts';
import { amount, day, needed, whole } from './records-values.ts';

const BY_HAND = BOOKED.filter((movement) => movement !== 'unexplained' && movement !== 'left-off');
/** A shop scale, one standard deviation (estimate). */
const BY_HAND_SD_KG = 0.01;

function vesselFrom(store: Store, name: string, option: string): Vessel {
  const vessel = vesselNamed(store, name);
  if (vessel !== undefined) return vessel;
  const known = vessels(store).map((one) => one.name);
  throw new InputError(
    `--${option} ${name}: ${known.length === 0 ? 'no tank or cylinder is known yet' : suggestion(name, known)}`,
  );
}

function book({ store, values, nowMs }: ViewInput, wanted: string): string {
  const movement = BY_HAND.find((known) => known === wanted);
  if (movement === undefined) throw new InputError(`--book ${wanted}: ${suggestion(wanted, BY_HAND)}`);
  const vessel = vesselFrom(store, needed(values.get('vessel'), 'vessel'), 'vessel');
  const massKg = needed(amount(values, 'mass-kg'), 'mass-kg');
  const to = values.get('to-vessel');
  const other = to === undefined ? undefined : vesselFrom(store, to, 'to-vessel');
  if (movement === 'transferred' && other === undefined)
    throw new InputError('--to-vessel is missing: a transfer goes from one vessel to another');
  if (movement === 'sent-away' && !values.has('party'))
    throw new InputError('--party is missing: who took it, with the address of the facility');
  if (other !== undefined && movement !== 'transferred')
    throw new InputError(`--to-vessel belongs to transferred, not to ${movement}; leave it out`);
  if (other?.id === vessel.id)
    throw new InputError('--to-vessel is the vessel it comes from; name the other one');
  if (other !== undefined && other.refrigerant !== vessel.refrigerant)
    throw new InputError(
      `'${other.name}' is for ${other.refrigerant} for good, and '${vessel.name}' holds ${vessel.refrigerant}; take another vessel`,
    );
  if (other?.refillable === false)
    throw new InputError(`'${other.name}' is never refilled; take another vessel`);
  const [party, note] = [values.get('party'), values.get('note')];
  const entry = { vessel, other, massKg, sdKg: BY_HAND_SD_KG, party, note, at: isoOf(nowMs) };
  const id = movement === 'stock' ? bookCounted(store, entry) : bookByHand(store, { ...entry, movement });
  return `Booked as entry ${id}.`;
}

function addCylinder({ store, values, nowMs }: ViewInput, name: string): string {
  if (vesselNamed(store, name) !== undefined)
    throw new InputError(`'${name}' is there already; give another name`);
  const litres = amount(values, 'capacity-l');
  const retestDue = day(values, 'retest');
  const refrigerant = refrigerantNamed(values.get('refrigerant')).name;
  addVessel(
    store,
    {
      kind: 'cylinder',
      name,
      refrigerant,
      ...(litres === undefined ? {} : { waterCapacityM3: litres / 1000 }),
      ...(retestDue === undefined ? {} : { retestDue }),
    },
    isoOf(nowMs),
  );
  return `'${name}' is for ${refrigerant}, for good. What is in it: --book stock --vessel '${name}' --mass-kg M.`;
}

function balanceLines(balance: Balance, units: Units, nowMs: number): readonly string[] {
  const { vessel, bookedKg, sdKg, weighedKg, weighedAt, differenceKg = 0, unexplainedKg } = balance;
  const { waterCapacityM3, retestDue } = vessel;
  const limits =
    waterCapacityM3 === undefined ? [] : fillLimits(waterCapacityM3, fluidData(vessel.refrigerant).curve);
  return [
    `${vessel.kind} '${vessel.name}', ${vessel.refrigerant} for good`,
    `  booked ${units.content(bookedKg)} ± ${units.charge(2 * sdKg)}`,
    ...(weighedKg === undefined
      ? []
      : [
          `  by the scale ${units.content(weighedKg)} at ${weighedAt}; unexplained then ${units.charge(differenceKg)}`,
        ]),
    ...(unexplainedKg === 0
      ? []
      : [`  found by the scale beside what was booked, so far ${units.charge(unexplainedKg)}`]),
    ...limits.map(({ rule, kg }) => `  at most ${units.content(kg)}: ${rule}`),
    ...(retestDue === undefined
      ? []
      : [`  to be tested again by ${retestDue}${Date.parse(retestDue) < nowMs ? ': OVERDUE' : ''}`]),
  ];
}

export function ledgerView(input: ViewInput): Shown {
  const { store, values, shownIn, nowMs } = input;
  const written: string[] = [];
  const wanted = values.get('book');
  const cylinder = values.get('add-cylinder');
  const named = values.get('vessel');
  if (wanted !== undefined) written.push(book(input, wanted));
  else if (cylinder !== undefined) written.push(addCylinder(input, cylinder));
  else if (values.has('retest')) {
    const vessel = vesselFrom(store, needed(named, 'vessel'), 'vessel');
    setRetest(store, vessel.id, needed(day(values, 'retest'), 'retest'));
  }
  const all = balances(store);
  const chosen =
    named === undefined
      ? all
      : all.filter(({ vessel }) => vessel.id === vesselFrom(store, named, 'vessel').id);
  const most = whole(values.get('most'), '--most') ?? 20;
  const told = chosen.map((balance) => ({ ...balance, entries: entriesOf(store, balance.vessel.id, most) }));
  const lines = told.flatMap((one) => [
    ...balanceLines(one, shownIn, nowMs),
    ...one.entries.map((line) => `    ${ledgerText(line, shownIn)}`),
  ]);
  return {
    json: told,
    lines: [...written, ...(lines.length === 0 ? ['No tank or cylinder is known yet.'] : lines)],
  };
}
