// The known words nearest to a misspelt one, for 'did you mean'.

/** Changes of one letter (insert, delete, replace, swap neighbours) that turn a into b. */
function distance(a: string, b: string): number {
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, column) => column);
  for (let row = 1; row <= a.length; row++) {
    const current = [row];
    for (let column = 1; column <= b.length; column++) {
      const same = a[row - 1] === b[column - 1];
      let best = Math.min(last[column]! + 1, current[column - 1]! + 1, last[column - 1]! + (same ? 0 : 1));
      if (column > 1 && row > 1 && a[row - 1] === b[column - 2] && a[row - 2] === b[column - 1])
        best = Math.min(best, beforeLast[column - 2]! + 1);
      current.push(best);
    }
    beforeLast = last;
    last = current;
  }
  return last[b.length]!;
}

/** Up to three known words near enough to be meant, nearest first; a word that starts alike counts as near. */
export function nearest(word: string, known: readonly string[]): string[] {
  const given = word.toLowerCase();
  const limit = Math.max(2, Math.floor(given.length / 3));
  return known
    .map((candidate) => {
      const plain = candidate.toLowerCase();
      const startsAlike = given.length >= 3 && (plain.startsWith(given) || given.startsWith(plain));
      return { candidate, steps: startsAlike ? Math.min(1, distance(given, plain)) : distance(given, plain) };
    })
    .filter(({ steps }) => steps <= limit)
    .sort((a, b) => a.steps - b.steps)
    .slice(0, 3)
    .map(({ candidate }) => candidate);
}

/** ' — did you mean a or b?', or the whole list when nothing is near. */
export function suggestion(word: string, known: readonly string[]): string {
  const near = nearest(word, known);
  if (near.length > 0) return `did you mean ${near.join(' or ')}?`;
  return `known: ${known.join(', ')}`;
}
