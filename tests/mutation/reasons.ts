// Mutants that change nothing anybody could see, and why. Found by file, line of code, and what it was changed to.

type Reason = {
  readonly file: string;
  readonly line: RegExp;
  readonly to: RegExp;
  readonly why: string;
};

const REASONS: readonly Reason[] = [
  {
    file: 'permit.ts',
    line: /refusals.length === 0 \? wanted/,
    to: /^true$/,
    why: 'never: a word of which something was taken away is not passed on as it came',
  },
];

export function reasonFor(path: string, line: string, replacement: string): string | undefined {
  const found = REASONS.find(
    (reason) => path.endsWith(reason.file) && reason.line.test(line) && reason.to.test(replacement),
  );
  return found?.why;
}
