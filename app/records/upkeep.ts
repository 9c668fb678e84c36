// What a machine needs now and then: when it was last done, when it is due, and what is locked until it has been.
import type { Blocker } from '../../controller/notice.ts';
import type { Service } from '../../controller/ticket.ts';
import { seal } from './chain.ts';
import { UPKEEP_ITEMS, type UpkeepItem, type UpkeepState } from './lines.ts';
import { numberIn, type Store, textIn } from './store.ts';

const DAY_MS = 86_400_000;

type Rule = {
  readonly title: string;
  readonly how: string;
  /** Intervals are common practice and estimates; the maker's come first. */
  readonly everyDays?: number;
  readonly everyPumpH?: number;
  readonly everyKg?: number;
  /** Jobs that found water make it due at once. */
  readonly afterWet?: true;
};

/** Intervals: common practice of the trade, unless the maker of the part says otherwise. */
const RULES: { readonly [I in UpkeepItem]: Rule } = {
  'pump-oil': {
    title: 'Vacuum pump: oil',
    how: 'Change the oil with the pump warm; then, with its valve shut, the pump must come below 100 Pa in 3 minutes.',
    everyPumpH: 15,
    afterWet: true,
  },
  'filter-drier': {
    title: 'Filter-drier',
    how: 'Change it when so much has gone through it, when it is a year old, or when the moisture indicator says so.',
    everyKg: 75,
    everyDays: 365,
  },
  'scale-weights': {
    title: 'Scale: check weights',
    how: 'One weight of 5 to 10 kg within 0.1 %, and a step of 500 g within 2 g.',
    everyDays: 7,
  },
  'sensor-zero': {
    title: 'Pressure sensors: zero',
    how: 'With the hoses open to the air every sensor shows the barometer; correct no more than 2 % of the span.',
    everyDays: 30,
  },
  'machine-leak-test': {
    title: 'Machine: leak test',
    how: 'With the hoses capped, hold a vacuum for 10 minutes.',
    everyDays: 7,
  },
  'hose-leak-test': {
    title: 'Hoses and couplers: leak test',
    how: 'Look at the washers of hoses and couplers, and search them under pressure with a detector.',
    everyDays: 30,
  },
  'lay-up': {
    title: 'Lay-up for the season',
    how: 'Recover the hoses; shut the tank; run the pump 15 to 30 minutes on ballast; change its oil; cap the ports; isolate the mains.',
  },
  'put-back': {
    title: 'Put back into service',
    how: 'After a rest of 12 hours or more: air check of the tank, zero of the sensors, scale with its weights, leak test.',
  },
};

/** What locks a job out, and what only gets a word. The drier may go on for the job after it was used up. */
const SCALE_LOCK_DAYS = 60;
/** By what the scale shows a vehicle is charged, and a tank is not overfilled. */
const BY_SCALE: readonly Service[] = ['whole', 'evacuate-and-charge', 'fill-tank'];

type Last = { readonly at: string; readonly id: number; readonly verdict: string };

const lastOf = (store: Store, machine: string, item: UpkeepItem, good: boolean): Last | undefined => {
  const row = store.one(
    `SELECT id, at, verdict FROM upkeep WHERE machine = ? AND item = ? ${good ? "AND verdict <> 'failed'" : ''} ORDER BY id DESC LIMIT 1`,
    machine,
    item,
  );
  return row === undefined
    ? undefined
    : { id: numberIn(row, 'id'), at: textIn(row, 'at'), verdict: textIn(row, 'verdict') };
};

type WornSince = {
  readonly pumpH: number;
  readonly drawnKg: number;
  readonly wetJobs: number;
  readonly jobs: number;
};

function wornSince(store: Store, machine: string, at: string): WornSince {
  const row = store.one(
    'SELECT sum(pump_s) AS pump, sum(drawn_kg) AS kg, sum(wet) AS wet, count(*) AS jobs FROM wear WHERE machine = ? AND at > ?',
    machine,
    at,
  );
  return {
    pumpH: numberIn(row, 'pump') / 3600,
    drawnKg: numberIn(row, 'kg'),
    wetJobs: numberIn(row, 'wet'),
    jobs: numberIn(row, 'jobs'),
  };
}

const SOON = 0.8;

function shareOf(rule: Rule, days: number, worn: WornSince): number {
  return Math.max(
    rule.everyDays === undefined ? 0 : days / rule.everyDays,
    rule.everyPumpH === undefined ? 0 : worn.pumpH / rule.everyPumpH,
    rule.everyKg === undefined ? 0 : worn.drawnKg / rule.everyKg,
    rule.afterWet === true && worn.wetJobs > 0 ? 1 : 0,
  );
}

function sinceText(rule: Rule, days: number, worn: WornSince): string {
  const parts = [
    ...(rule.everyPumpH === undefined ? [] : [`${worn.pumpH.toFixed(1)} of ${rule.everyPumpH} h of pumping`]),
    ...(rule.afterWet === true && worn.wetJobs > 0 ? [`${worn.wetJobs} wet job(s)`] : []),
    ...(rule.everyKg === undefined ? [] : [`${worn.drawnKg.toFixed(1)} of ${rule.everyKg} kg through it`]),
    ...(rule.everyDays === undefined ? [] : [`${Math.floor(days)} of ${rule.everyDays} days`]),
  ];
  return parts.join(', ');
}

const firstSeen = (store: Store, machine: string): string | undefined => {
  const row = store.one('SELECT first_seen FROM machines WHERE name = ?', machine);
  return row === undefined ? undefined : textIn(row, 'first_seen');
};

/** Without an entry an interval counts from when the machine was first seen. */
function stateOf(store: Store, machine: string, item: UpkeepItem, nowMs: number, seen: string): UpkeepState {
  const rule = RULES[item];
  const last = lastOf(store, machine, item, false);
  const from = lastOf(store, machine, item, true)?.at ?? seen;
  const days = (nowMs - Date.parse(from)) / DAY_MS;
  const worn = wornSince(store, machine, from);
  const share = shareOf(rule, days, worn);
  const periodic = rule.everyDays !== undefined || rule.everyPumpH !== undefined;
  const due = share >= 1 ? 'due' : share >= SOON ? 'due soon' : 'in order';
  return {
    item,
    title: rule.title,
    how: rule.how,
    standing: last?.verdict === 'failed' ? 'failed' : periodic ? due : 'when needed',
    since: sinceText(rule, days, worn),
    ...(last === undefined ? {} : { lastAt: last.at, lastVerdict: last.verdict }),
  };
}

export function upkeepOf(store: Store, machine: string, nowMs: number): readonly UpkeepState[] {
  const seen = firstSeen(store, machine);
  if (seen === undefined) return [];
  return UPKEEP_ITEMS.map((item) => stateOf(store, machine, item, nowMs, seen));
}

const doIt = (item: UpkeepItem, machine: string): string =>
  `${RULES[item].how} Then: coldbench records upkeep --machine '${machine}' --done ${item}${item === 'scale-weights' ? ' --weight-kg W --read-kg R --step-g S' : ''}`;

/** How many jobs have been done since the drier had taken all that it can. */
function jobsPastDrier(store: Store, machine: string, seen: string, nowMs: number): number {
  const { everyKg = Number.POSITIVE_INFINITY, everyDays = Number.POSITIVE_INFINITY } = RULES['filter-drier'];
  const from = lastOf(store, machine, 'filter-drier', true)?.at ?? seen;
  const rows = store.all(
    'SELECT at, drawn_kg FROM wear WHERE machine = ? AND at > ? ORDER BY at',
    machine,
    from,
  );
  const oldFrom = Date.parse(from) + everyDays * DAY_MS;
  let drawnKg = 0;
  let past = 0;
  for (const row of rows) {
    if (drawnKg >= everyKg || Date.parse(textIn(row, 'at')) > oldFrom) past += 1;
    drawnKg += numberIn(row, 'drawn_kg');
  }
  return drawnKg >= everyKg || nowMs > oldFrom ? past : 0;
}

/** What must be done before another job; everything else that is due is only told. */
export function upkeepBlockers(
  store: Store,
  machine: string,
  service: Service,
  nowMs: number,
): readonly Blocker[] {
  const seen = firstSeen(store, machine);
  if (seen === undefined) return [];
  const lastScale = lastOf(store, machine, 'scale-weights', false);
  const scaleFrom = lastOf(store, machine, 'scale-weights', true)?.at ?? seen;
  const scaleLate =
    nowMs - Date.parse(scaleFrom) > SCALE_LOCK_DAYS * DAY_MS || lastScale?.verdict === 'failed';
  const laidUp =
    (lastOf(store, machine, 'lay-up', true)?.id ?? 0) > (lastOf(store, machine, 'put-back', true)?.id ?? 0);
  const draws = service !== 'evacuate-and-charge';
  return [
    ...(scaleLate && BY_SCALE.includes(service)
      ? [
          {
            code: 'scale-unchecked',
            text:
              lastScale?.verdict === 'failed'
                ? 'The scale was last found wrong with its weights: nothing is charged or filled by it.'
                : `The scale has not been checked with its weights for more than ${SCALE_LOCK_DAYS} days: nothing is charged or filled by it.`,
            remedy: doIt('scale-weights', machine),
          },
        ]
      : []),
    ...(draws && jobsPastDrier(store, machine, seen, nowMs) >= 1
      ? [
          {
            code: 'filter-drier-spent',
            text: 'The filter-drier is used up, and one more job has been done with it since.',
            remedy: doIt('filter-drier', machine),
          },
        ]
      : []),
    ...(laidUp
      ? [
          {
            code: 'laid-up',
            text: 'The machine is laid up for the season.',
            remedy: doIt('put-back', machine),
          },
        ]
      : []),
  ];
}

export type UpkeepEntry = {
  readonly machine: string;
  readonly at: string;
  readonly item: UpkeepItem;
  readonly verdict: 'done' | 'passed' | 'failed';
  readonly figures: { readonly [name: string]: number };
  readonly note?: string | undefined;
};

/** Writes down and seals what was done. */
export function enterUpkeep(store: Store, entry: UpkeepEntry): number {
  return store.write(() => {
    const id = store.run(
      'INSERT INTO upkeep (machine, at, item, verdict, figures, note) VALUES (?, ?, ?, ?, ?, ?)',
      entry.machine,
      entry.at,
      entry.item,
      entry.verdict,
      JSON.stringify(entry.figures),
      entry.note ?? null,
    );
    seal(store, 'upkeep', id);
    return id;
  });
}

/** A check weight within 0.1 %, and a step of 500 g within 2 g (common practice). */
export function scaleVerdict(weightKg: number, readKg: number, stepG: number): 'passed' | 'failed' {
  return Math.abs(readKg - weightKg) <= 0.001 * weightKg && Math.abs(stepG - 500) <= 2 ? 'passed' : 'failed';
}
