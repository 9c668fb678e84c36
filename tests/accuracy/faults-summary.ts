// What the campaign of faults comes to: for each fault how its jobs ended in each stage, what was told first, and the worst.
import { STAGES } from '../../controller/stages.ts';
import type { FaultRow } from './faults-job.ts';

type Ran = NonNullable<FaultRow['ran']>;

/** Beyond five grams and beyond what is stated for it. */
const LEDGER_G = 5;
export const beyondIn = ({ ledger }: Ran): Ran['ledger'] =>
  ledger.filter(({ errorG, saidG }) => Math.abs(errorG) > Math.max(LEDGER_G, saidG));

/** A way out that the fault itself opens is not opened by command: what goes there is counted, and stands apart. */
const OPENS: { readonly [fault: string]: readonly string[] } = {
  'hose-off': ['spilled', 'air into the tank'],
  'high-hose-off': ['spilled', 'air into the tank'],
  'cabinet-leaks': ['spilled'],
  'drain-float-stuck': ['vented'],
  'vacuum-valve-stuck-open': ['exhausted', 'air into the tank', 'flows out after the end'],
  'relay-welded vacuumValve': ['exhausted', 'air into the tank', 'flows out after the end'],
  'relay-welded oilValve': ['vented', 'air into the tank', 'flows out after the end'],
  'relay-welded dyeValve': ['vented', 'air into the tank', 'flows out after the end'],
  'relay-welded separatorDrainValve': ['vented', 'air into the tank', 'flows out after the end'],
  'relay-welded airPurgeValve': ['purged', 'flows out after the end'],
};

export const unsafeIn = (fault: string, { unsafe }: Ran): readonly string[] =>
  unsafe.filter((what) => !(OPENS[fault] ?? []).includes(what));

/** As it was without the fault; completed otherwise; stopped or refused, each with a fitting word or without; unsafe. */
type Mark = '·' | 'c' | 's' | '?' | '!';

function markOf(fault: string, ran: Ran): Mark {
  if (unsafeIn(fault, ran).length > 0) return '!';
  if (!ran.changed) return '·';
  if (!ran.fits) return '?';
  return ran.outcome === 'completed' ? 'c' : 's';
}

const ORDER: readonly Mark[] = ['·', 'c', 's', '?', '!'];

export type Worst = {
  readonly fault: string;
  readonly stage: string;
  readonly share: number;
  readonly seed: number;
  readonly what: string;
};

export type FaultFigures = {
  readonly jobs: number;
  /** Worst mark of each stage, one letter a stage in their order; a blank where the fault did not come. */
  readonly marks: string;
  /** Told first in most jobs that changed, and in how many. */
  readonly first?: string;
  /** Worst ledger error beyond what is said for it. */
  readonly ledger?: { readonly of: string; readonly errorG: number; readonly saidG: number };
  readonly ledgerBeyond: number;
  readonly mostLostG: number;
  readonly mostAirG: number;
  readonly mostOverG: number;
};

export type FaultsFigures = {
  readonly jobs: number;
  readonly notCome: number;
  readonly faults: { readonly [fault: string]: FaultFigures };
  readonly unsafe: readonly Worst[];
  readonly unexplained: readonly Worst[];
  readonly beyond: readonly Worst[];
};

const most = (values: readonly number[]): number => Math.max(0, ...values);

function firstOf(rans: readonly Ran[]): string | undefined {
  const first = rans.flatMap(({ changed, told }) => (changed && told[0] !== undefined ? [told[0]] : []));
  const counts = [...Map.groupBy(first, (label) => label)].map(
    ([label, all]) => [label, all.length] as const,
  );
  const [top] = counts.sort(([a, x], [b, y]) => y - x || a.localeCompare(b));
  return top === undefined ? undefined : `${top[0]} (${top[1]})`;
}

function figuresOf(fault: string, rows: readonly FaultRow[]): FaultFigures {
  const came = rows.flatMap(({ stage, ran }) => (ran === undefined ? [] : [{ stage, ran }]));
  const rans = came.map(({ ran }) => ran);
  const beyond = rans.flatMap(beyondIn);
  const [ledger] = [...beyond].sort((a, b) => Math.abs(b.errorG) - Math.abs(a.errorG));
  const marks = STAGES.map((stage) => {
    const found = came
      .filter((one) => one.stage === stage)
      .map(({ ran }) => ORDER.indexOf(markOf(fault, ran)));
    return ORDER[Math.max(...found)] ?? ' ';
  });
  const first = firstOf(rans);
  return {
    jobs: rans.length,
    marks: marks.join(''),
    ...(first === undefined ? {} : { first }),
    ...(ledger === undefined ? {} : { ledger }),
    ledgerBeyond: beyond.length,
    mostLostG: most(rans.map(({ lostG }) => lostG)),
    mostAirG: most(rans.map(({ airG }) => airG)),
    mostOverG: most(rans.map(({ overG }) => overG)),
  };
}

const listed = (rows: readonly FaultRow[], whatOf: (fault: string, ran: Ran) => string): readonly Worst[] =>
  rows.flatMap(({ fault, stage, share, seed, ran }) => {
    const what = ran === undefined ? '' : whatOf(fault, ran);
    return what === '' ? [] : [{ fault, stage, share, seed, what }];
  });

export const faultsFigures = (rows: readonly FaultRow[]): FaultsFigures => ({
  jobs: rows.length,
  notCome: rows.filter(({ ran }) => ran === undefined).length,
  faults: Object.fromEntries(
    [...Map.groupBy(rows, ({ fault }) => fault)].map(([fault, of]) => [fault, figuresOf(fault, of)]),
  ),
  unsafe: listed(rows, (fault, ran) => unsafeIn(fault, ran).join(', ')),
  unexplained: listed(rows, (_, ran) =>
    ran.changed && !ran.fits ? `${ran.outcome} in ${ran.end}; told: ${ran.told.join(', ') || 'nothing'}` : '',
  ),
  beyond: listed(rows, (_, ran) =>
    beyondIn(ran)
      .map(({ of, errorG, saidG }) => `${of} ${errorG} g, said ± ${saidG} g`)
      .join(', '),
  ),
});
