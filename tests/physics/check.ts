// One check of the physics against the outside: a number to be met, where it comes from, and how close is close enough.

export type Tolerance = { readonly relative: number } | { readonly absolute: number };

export type Check = {
  /** Stands in the table and in test titles; never reused for something else. */
  readonly id: string;
  /** A statement an expert can judge without knowing this program. */
  readonly title: string;
  /** Publication, standard or closed form; says so when a figure is from memory or common practice. */
  readonly source: string;
  readonly unit: string;
  /** Published, or worked out in the record without the simulator. */
  readonly expected: number;
  readonly tolerance: Tolerance;
  /** The simulator's own number. */
  readonly obtain: () => number;
};

export type Topic = { readonly heading: string; readonly checks: readonly Check[] };

/** The largest difference that passes, in the unit of the check. */
export const allowance = ({ expected, tolerance }: Check): number =>
  'absolute' in tolerance ? tolerance.absolute : tolerance.relative * Math.abs(expected);

/** Whether a number meets a check; what is no number never does. */
export const meets = (check: Check, obtained: number): boolean =>
  Math.abs(obtained - check.expected) <= allowance(check);

/** Works a value out when it is first asked for, and only then: several checks may look at one run. */
export function once<T>(work: () => T): () => T {
  let done: { readonly value: T } | undefined;
  return () => {
    done ??= { value: work() };
    return done.value;
  };
}
