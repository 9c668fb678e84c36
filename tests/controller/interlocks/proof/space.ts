// Everything that interlocks can look at, as one finite space, and a search that leaves no point of it out.
import { BANDS, type Bands } from '../../../../controller/interlocks/bands.ts';
import type { Asked, Fitting, Interlock, Word } from '../../../../controller/interlocks/interlock.ts';
import { MEMORY, type Remembered } from '../../../../controller/interlocks/remembered.ts';
import { OUTPUTS } from '../../../../controller/signals.ts';
import { CALM_BANDS, CALM_MEMORY } from '../../support/calm.ts';
import type { Forbidden } from './never.ts';

type Loose<T> = { -readonly [K in keyof T]: T[K] };
export type Point = {
  readonly on: Loose<Word>;
  readonly bands: Loose<Bands>;
  readonly memory: Loose<Remembered>;
  readonly fitting: Loose<Fitting>;
};

export type Variable = {
  readonly name: string;
  readonly values: readonly string[];
  /** Where a point has it. */
  readonly part: keyof Point;
  readonly key: string;
};

const ASKED = [...OUTPUTS, 'chargePulse'] as const satisfies readonly Asked[];
const KINDS = { on: 'output', bands: 'band', memory: 'memory', fitting: 'fitting' } as const;
const variable = (part: keyof Point, key: string, values: readonly string[]): Variable => ({
  name: `${KINDS[part]} ${key}`,
  values,
  part,
  key,
});

export const VARIABLES: readonly Variable[] = [
  ...ASKED.map((name) => variable('on', name, ['off', 'on'])),
  ...Object.entries(BANDS).map(([name, values]) => variable('bands', name, values)),
  ...Object.entries(MEMORY).map(([name, values]) => variable('memory', name, values)),
  ...OUTPUTS.map((output) => variable('fitting', output, ['fitted', 'not-fitted'])),
];
const byName = new Map(VARIABLES.map((each) => [each.name, each]));

const product = (variables: readonly Variable[]): bigint =>
  variables.reduce((total, { values }) => total * BigInt(values.length), 1n);

/** How many points the whole space has. */
export const WHOLE = product(VARIABLES);

/** What a row of the table or a combination declares that it depends on. */
export function variablesOf(reads: Interlock['reads']): readonly Variable[] {
  const names = [
    ...reads.outputs.map((output) => `output ${output}`),
    ...reads.bands.map((band) => `band ${band}`),
    ...reads.memory.map((name) => `memory ${name}`),
    ...reads.fitting.map((output) => `fitting ${output}`),
  ];
  return names.map((name) => byName.get(name)!);
}

type Part = Record<string, string | boolean>;

export function assign(point: Point, { part, key }: Variable, value: string): void {
  (point[part] as Part)[key] = part === 'on' ? value === 'on' : value;
}

/** Gives one thing back the value that it has there. */
export function restore(point: Point, from: Point, { part, key }: Variable): void {
  (point[part] as Part)[key] = (from[part] as Part)[key]!;
}

function unassign(point: Point, { part, key }: Variable): void {
  delete (point[part] as Part)[key];
}

/** Nothing is on, and everything else is as it permits most. */
export const calmPoint = (): Point => ({
  on: Object.fromEntries(ASKED.map((name) => [name, false])) as Point['on'],
  bands: { ...CALM_BANDS },
  memory: { ...CALM_MEMORY },
  fitting: Object.fromEntries(OUTPUTS.map((output) => [output, 'fitted'])) as Point['fitting'],
});

const emptyPoint = (): Point => ({ on: {}, bands: {}, memory: {}, fitting: {} }) as unknown as Point;

/** Every point over these variables, the last of which changes fastest; the same object each time. */
export function* points(variables: readonly Variable[], point: Point): Generator<Point> {
  const at = variables.map(() => 0);
  for (const each of variables) assign(point, each, each.values[0]!);
  for (;;) {
    yield point;
    let turning = variables.length - 1;
    for (; turning >= 0; turning -= 1) {
      const { values } = variables[turning]!;
      at[turning] = (at[turning]! + 1) % values.length;
      assign(point, variables[turning]!, values[at[turning]!]!);
      if (at[turning] !== 0) break;
    }
    if (turning < 0) return;
  }
}

/** Whether the row lets no word with these outputs through: it trips, or takes one away that is on. */
function refuses(row: Interlock, point: Point): boolean {
  const { forbids, trip } = row.judge(point);
  return trip !== undefined || forbids.some((output) => point.on[output]);
}

export type Answer = {
  /** Points of the whole space that were settled; all of them, or something was left out. */
  readonly settled: bigint;
  /** Of them those at which the combination is there and a row refuses it. */
  readonly refused: bigint;
  /** Classes that were really looked at. */
  readonly looks: number;
  /** Rows that were needed to refuse it. */
  readonly rows: ReadonlySet<string>;
  /** A point at which the combination is there and no row refuses it. */
  readonly gap?: Point;
};

/** Looked through for a refusal that holds whatever else is so; a row that would need more is waited for. */
const MOST_COMPLETIONS = 5_000;

/**
 * Goes through the whole space in classes: what the combination depends on is fixed first, then what a row depends on, row
 * by row. A class is settled as soon as the combination is not in it, or one row refuses it whatever its inputs that are not
 * fixed yet may be: all its points are then settled at once. Rows can be taken one by one because a permitted word is one
 * that no row refuses.
 */
export function search(forbidden: Forbidden, rows: readonly Interlock[]): Answer {
  const reads = new Map(rows.map((row) => [row, variablesOf(row.reads)]));
  const own = variablesOf(forbidden);
  const fixed = new Set<Variable>();
  const point = emptyPoint();
  const needed = new Set<string>();
  let settled = 0n;
  let refused = 0n;
  let looks = 0;
  let gap: Point | undefined;

  const missing = (row: Interlock): readonly Variable[] =>
    reads.get(row)!.filter((variable) => !fixed.has(variable));

  /** What the row reads and what is fixed are all that its answer can depend on. */
  function alwaysRefuses(row: Interlock): boolean {
    if (!row.acts.some((output) => point.on[output] === true)) return false;
    const open = missing(row);
    if (product(open) > MOST_COMPLETIONS) return false;
    const completed = structuredClone(point);
    for (const completion of points(open, completed)) {
      looks += 1;
      if (!refuses(row, completion)) return false;
    }
    return true;
  }

  /** The next thing to fix: of the combination itself, else of the row that comes nearest to an answer. */
  function next(): Variable | undefined {
    const ofItself = own.find((variable) => !fixed.has(variable));
    if (ofItself !== undefined) return ofItself;
    const open = rows.map(missing).filter(({ length }) => length > 0);
    return open.toSorted((a, b) => a.length - b.length)[0]?.[0];
  }

  function explore(left: bigint): void {
    if (own.every((variable) => fixed.has(variable))) {
      if (!forbidden.is(point)) {
        settled += left;
        return;
      }
      const row = rows.find(alwaysRefuses);
      if (row !== undefined) {
        needed.add(row.id);
        settled += left;
        refused += left;
        return;
      }
    }
    const variable = next();
    if (variable === undefined) {
      gap = structuredClone(point);
      return;
    }
    fixed.add(variable);
    for (const value of variable.values) {
      assign(point, variable, value);
      explore(left / BigInt(variable.values.length));
      if (gap !== undefined) return;
    }
    fixed.delete(variable);
    unassign(point, variable);
  }

  explore(WHOLE);
  return { settled, refused, looks, rows: needed, ...(gap && { gap }) };
}
