// Every row over everything it declares: each of them can act, can permit, and never takes the unknown for permission.
import { describe, expect, test } from 'vitest';
import { BANDS, type BandName } from '../../../controller/interlocks/bands.ts';
import type { Interlock } from '../../../controller/interlocks/interlock.ts';
import { MEMORY } from '../../../controller/interlocks/remembered.ts';
import { INTERLOCKS } from '../../../controller/interlocks/table.ts';
import { OUTPUTS, type Output } from '../../../controller/signals.ts';

type Choice = {
  readonly kind: 'on' | 'bands' | 'memory' | 'fitting';
  readonly name: string;
  readonly of: readonly (string | boolean)[];
};
type View = Parameters<Interlock['judge']>[0];
type Loose = { readonly [K in keyof View]: { readonly [name: string]: string | boolean } };

const choicesOf = ({ reads }: Interlock): readonly Choice[] => [
  ...reads.bands.map((name) => ({ kind: 'bands', name, of: BANDS[name] }) as const),
  ...reads.memory.map((name) => ({ kind: 'memory', name, of: MEMORY[name] }) as const),
  ...reads.fitting.map((name) => ({ kind: 'fitting', name, of: ['fitted', 'not-fitted'] }) as const),
];

function* combinations(choices: readonly Choice[], view: Loose): Generator<Loose> {
  const [choice, ...others] = choices;
  if (choice === undefined) {
    yield view;
    return;
  }
  const { kind, name, of } = choice;
  for (const value of of) yield* combinations(others, { ...view, [kind]: { ...view[kind], [name]: value } });
}

/** Over everything that the row declares; the outputs that it only takes away are wanted. */
function* viewsOf(row: Interlock): Generator<View> {
  const wanted = Object.fromEntries(row.acts.map((output) => [output, true]));
  const words = row.reads.outputs.map((name) => ({ kind: 'on', name, of: [false, true] }) as const);
  const choices = [...words, ...choicesOf(row)];
  yield* combinations(choices, { on: wanted, bands: {}, memory: {}, fitting: {} }) as Generator<View>;
}

/** What a row takes from a word: all of it when it trips. */
const taken = (row: Interlock, view: View): readonly Output[] => {
  const { forbids, trip } = row.judge(view);
  return (trip === undefined ? forbids : row.acts).filter((output) => view.on[output]);
};

/**
 * Where a missing reading counts for less than the worst one, and why. A leak of an A1 refrigerant is no fire; a hose that
 * shows pressure stands for the absolute sensor, which ends at 160 kPa. A discharge pressure that cannot be read forbids all
 * that could raise it; only one that is read trips.
 */
const LESS_THAN_WORST: readonly string[] = [
  'IL-05 highPressureSwitch',
  'IL-06 tankPressure',
  'IL-18 manifold',
  'IL-24 gasAlarm',
];

describe.each(INTERLOCKS.map((row) => [row.id, row] as const))('%s', (id, row) => {
  test('acts on every output that it ever forbids, and permits each of them somewhere', () => {
    const forbidden = new Set<Output>();
    const permitted = new Set<Output>();
    for (const view of viewsOf(row)) {
      const from = new Set(taken(row, view));
      for (const output of row.acts)
        if (view.on[output]) (from.has(output) ? forbidden : permitted).add(output);
    }
    expect(forbidden.size).toBeGreaterThan(0);
    const never = [...forbidden].filter((output) => !permitted.has(output));
    expect(never).toEqual([]);
  });

  test('takes away nothing but what it says it acts on', () => {
    for (const view of viewsOf(row)) {
      const { forbids, trip } = row.judge(view);
      if (trip === undefined) expect(row.acts).toEqual(expect.arrayContaining([...forbids]));
      else expect(row.acts).toEqual(OUTPUTS);
    }
  });

  test('forbids at an unknown reading whatever some reading makes it forbid', () => {
    const weaker = new Set<string>();
    const blind = (band: BandName) => (BANDS[band] as readonly string[]).includes('unknown');
    for (const view of viewsOf(row))
      for (const band of row.reads.bands.filter(blind)) {
        const unknown = { ...view, bands: { ...view.bands, [band]: 'unknown' } };
        const still = taken(row, unknown);
        if (taken(row, view).some((output) => !still.includes(output))) weaker.add(`${id} ${band}`);
      }
    expect([...weaker]).toEqual(LESS_THAN_WORST.filter((one) => one.startsWith(`${id} `)));
  });
});
