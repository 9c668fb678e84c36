// Notices for the eye: each once, with how often it came.

type Coded = { readonly code: string; readonly remedy: string };

export type ToldOnce<N> = { readonly first: N; readonly times: number; readonly last: N };

/** Each code once, in the order in which they first came. */
export const toldOnce = <N extends Coded>(notices: readonly N[]): readonly ToldOnce<N>[] =>
  [...Map.groupBy(notices, ({ code }) => code).values()].map((same) => ({
    first: same[0]!,
    times: same.length,
    last: same.at(-1)!,
  }));

/** What a page need not say. */
const NOTHING_TO_DO = 'Nothing to do.';

/** What is to be done, where that is worth a line. */
export const worthSaying = ({ remedy }: Coded): string | undefined =>
  remedy === NOTHING_TO_DO ? undefined : remedy;
