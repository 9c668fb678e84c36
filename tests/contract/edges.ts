// What can be seen of a board from outside: every change of its outputs, and when.

/** The word that the outputs changed to, in the bits of the protocol. */
export type Edge = { readonly atMs: number; readonly word: number };

/** Whether two rigs changed the same outputs in the same order, within `withinMs` of each other. */
export const alikeWithin =
  (withinMs: number) =>
  (one: readonly Edge[], other: readonly Edge[]): boolean =>
    one.length === other.length &&
    one.every(
      ({ atMs, word }, at) => word === other[at]!.word && Math.abs(atMs - other[at]!.atMs) <= withinMs,
    );
