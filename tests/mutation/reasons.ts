// Mutants that change nothing anybody could see, and why. Found by file, line of code, and what it was changed to.

type Reason = {
  readonly file: string;
  readonly line: RegExp;
  readonly to: RegExp;
  readonly why: string;
};

const REASONS: readonly Reason[] = [
  {
    file: 'reason.ts',
    line: /hazard\[0\]\?/,
    to: /hazard\[0\]\.toLowerCase/,
    why: 'every hazard has a first letter: a test holds the table to that',
  },
  {
    file: 'pour-watch.ts',
    line: /^means: \[\],$/,
    to: /Stryker was here/,
    why: 'the first block cannot fall from what is no block',
  },
  {
    file: 'seat-watch.ts',
    line: /NOT_SHUT: SeatWatch = \{/,
    to: /^\{\}$/,
    why: 'what is missing is as absent as what is undefined, and a rise that begins sets all its figures',
  },
  {
    file: 'vent-watch.ts',
    line: /NOT_VENTING: VentWatch = \{/,
    to: /^\{\}$/,
    why: 'what is missing is as absent as what is undefined and as little open as what is not, and who comes to the room sets both figures',
  },
];

export function reasonFor(path: string, line: string, replacement: string): string | undefined {
  const found = REASONS.find(
    (reason) => path.endsWith(reason.file) && reason.line.test(line) && reason.to.test(replacement),
  );
  return found?.why;
}
