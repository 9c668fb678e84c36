// What recovery cycles say about what is left: a constant yield is heat-limited liquid, a falling one desorption.

/** Below this ratio of successive yields the rest converges: oil giving up its refrigerant (estimate). */
const FALLING = 0.7;

export type Residue =
  | { readonly kind: 'unknown' }
  /** Yields do not fall: liquid is left and only heat decides how fast it comes. */
  | { readonly kind: 'liquid' }
  /** Yields fall geometrically; the sum of what is still to come. */
  | { readonly kind: 'falling'; readonly leftKg: number };

/** Geometric estimate from the last two yields: left = m_k · q / (1 − q), q = m_k / m_(k−1). */
export function residueOf(yieldsKg: readonly number[]): Residue {
  const last = yieldsKg.at(-1);
  const before = yieldsKg.at(-2);
  if (last === undefined || before === undefined || !(before > 0)) return { kind: 'unknown' };
  const ratio = Math.max(last, 0) / before;
  return ratio < FALLING
    ? { kind: 'falling', leftKg: (Math.max(last, 0) * ratio) / (1 - ratio) }
    : { kind: 'liquid' };
}
