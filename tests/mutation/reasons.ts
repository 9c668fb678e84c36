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
  {
    file: 'net-charge.ts',
    line: /^direction: offKg < 0/,
    to: /^offKg <= 0$/,
    why: 'what is off by nothing is within its limit, and was left one line above',
  },
  {
    file: 'plan-blockers.ts',
    line: /fillKg !== undefined && cylinderKg !== undefined && fillKg > cylinderKg/,
    to: /^true$/,
    why: 'what is undefined is never greater; the question is there for the types',
  },
  {
    file: 'recover-hoses.ts',
    line: /^const held = lowSinceMs !== undefined/,
    to: /^true$/,
    why: 'a time since nothing is no number, and never as long; the question is there for the types',
  },
  {
    file: 'residue.ts',
    line: /^if \(last === undefined \|\| before === undefined/,
    to: /^last === undefined && before === undefined$/,
    why: 'who has no last yield has none before it either, and what is undefined is not above zero',
  },
  {
    file: 'masses.ts',
    line: /^if \(sums\.n < 10 \|\| !\(square > 0\)\)/,
    to: /^true$/,
    why: 'where no pressure has moved the deviation is infinite or no number, and the force is not believed',
  },
];

export function reasonFor(path: string, line: string, replacement: string): string | undefined {
  const found = REASONS.find(
    (reason) => path.endsWith(reason.file) && reason.line.test(line) && reason.to.test(replacement),
  );
  return found?.why;
}
