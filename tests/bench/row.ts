// What every topic of the benchmarks answers: rows with a unit and, where the project promises one, a limit.

export type Limit = { readonly atMost: number } | { readonly atLeast: number };

export type Row = {
  readonly what: string;
  readonly value: number;
  readonly unit: string;
  /** Simulated over wall-clock time. */
  readonly timesRealTime?: number;
  readonly limit?: Limit;
};

/** A row that is set in belongs to the one above: only with that one's name is its own found again. */
export function fullyNamed(rows: readonly Row[]): readonly Row[] {
  let above = '';
  return rows.map((row) => {
    if (row.what.startsWith(' ')) return { ...row, what: `${above}:${row.what}` };
    above = row.what;
    return row;
  });
}

export type Topic = {
  readonly name: string;
  readonly title: string;
  measure(): Promise<readonly Row[]>;
};

export const meets = (value: number, limit: Limit): boolean =>
  'atMost' in limit ? value <= limit.atMost : value >= limit.atLeast;

export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const upper = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[upper]! : (sorted[upper - 1]! + sorted[upper]!) / 2;
}

/** What `measure` answers so many times, one after the other. */
export async function repeated<T>(times: number, measure: () => Promise<T>): Promise<readonly T[]> {
  const all: T[] = [];
  for (let i = 0; i < times; i++) all.push(await measure());
  return all;
}
