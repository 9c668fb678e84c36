// What a large set of random runs comes to: how often each harm was found, and what each exception was asked for.

import { HARMS, type Harm } from '../../app/bench/harm.ts';
import type { ProfileName } from '../../sim/profiles.ts';
import { EXCEPTIONS } from './exceptions.ts';
import type { Row } from './worker.ts';

type Excepted = { readonly runs: number; readonly worst: { readonly [H in Harm]?: number } };

export type RunSet = {
  readonly runs: number;
  readonly simulatedHours: number;
  /** Runs in which no exception applied. */
  readonly unexcepted: number;
  /** Runs with this harm, and those in which no exception covers it. */
  readonly harms: { readonly [H in Harm]: { readonly found: number; readonly harm: number } };
  readonly exceptions: { readonly [name: string]: Excepted };
};

export type Summary = {
  readonly command: string;
  readonly profiles: { readonly [P in ProfileName]: RunSet };
};

const rounded = (value: number): number => Number(value.toPrecision(3));

/** The worst of each harm that an exception names, over the runs in which it is the only one that names it. */
function exceptedOf(rows: readonly Row[], name: string): Excepted {
  const struck = rows.filter(({ excepted }) => excepted.includes(name));
  const { harms } = EXCEPTIONS.find((exception) => exception.name === name)!;
  const worst: { [H in Harm]?: number } = {};
  for (const harm of Object.keys(harms) as Harm[]) {
    const alone = struck.filter(
      ({ excepted }) =>
        EXCEPTIONS.filter((one) => excepted.includes(one.name) && one.harms[harm] !== undefined).length === 1,
    );
    const values = alone.flatMap(({ found }) =>
      found.filter((one) => one.harm === harm).map((one) => one.worst),
    );
    if (values.length > 0) worst[harm] = rounded(Math.max(...values));
  }
  return { runs: struck.length, worst };
}

export function setOf(rows: readonly Row[]): RunSet {
  const count = (harm: Harm) => ({
    found: rows.filter(({ found }) => found.some((one) => one.harm === harm)).length,
    harm: rows.filter((row) => row.harm?.found.some((one) => one.harm === harm)).length,
  });
  return {
    runs: rows.length,
    simulatedHours: Number((rows.reduce((sum, { simulatedS }) => sum + simulatedS, 0) / 3600).toFixed(1)),
    unexcepted: rows.filter(({ excepted }) => excepted.length === 0).length,
    harms: Object.fromEntries(
      (Object.keys(HARMS) as Harm[]).map((harm) => [harm, count(harm)]),
    ) as RunSet['harms'],
    exceptions: Object.fromEntries(EXCEPTIONS.map(({ name }) => [name, exceptedOf(rows, name)])),
  };
}
