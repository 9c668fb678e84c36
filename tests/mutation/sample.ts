// A random sample of mutants with a fixed seed: Stryker asks about each before it runs the tests.
import { createHash } from 'node:crypto';

/** Lines and columns from 1, as in Stryker's reports. */
type Place = { readonly line: number; readonly column: number };
export type Located = {
  readonly mutatorName: string;
  readonly replacement?: string;
  readonly location: { readonly start: Place; readonly end: Place };
};

const SEED = 'coldbench-1';

/** Which part of all mutants, in per cent: 4-6 is another sample of the same size as 0-2, and joins it. */
const { MUTATION_PART = '0-4' } = process.env;
const [FROM, TO] = MUTATION_PART.split('-').map((part) => Number(part) / 100);

/** Each has its own draw, so that a change of one file leaves the sample of the others as it was. */
export function isDrawn(
  path: string,
  { mutatorName, replacement, location: { start, end } }: Located,
): boolean {
  const place = [start.line, start.column, end.line, end.column].join(' ');
  const name = [SEED, path.slice(path.lastIndexOf('controller/')), place, mutatorName, replacement].join(
    '\n',
  );
  const drawn = createHash('sha256').update(name).digest().readUInt32BE(0) / 2 ** 32;
  return drawn >= FROM! && drawn < TO!;
}

/** Lines and columns from 0, as Stryker has them inside. */
type Inner = Located & { readonly id: string; readonly fileName: string };

const fromOne = ({ line, column }: Place): Place => ({ line: line + 1, column: column + 1 });

/** A checker, in Stryker's words: what does not pass counts as not valid, and is in no score. */
class Sample {
  async init(): Promise<void> {}

  async group(mutants: readonly Inner[]): Promise<string[][]> {
    return [mutants.map(({ id }) => id)];
  }

  async check(mutants: readonly Inner[]): Promise<{ [id: string]: { status: string; reason?: string } }> {
    const answer = (mutant: Inner) => {
      const { start, end } = mutant.location;
      const located = { ...mutant, location: { start: fromOne(start), end: fromOne(end) } };
      return isDrawn(mutant.fileName, located)
        ? { status: 'passed' }
        : { status: 'compileError', reason: 'not drawn' };
    };
    return Object.fromEntries(mutants.map((mutant) => [mutant.id, answer(mutant)]));
  }
}

export const strykerPlugins = [{ kind: 'Checker', name: 'sample', injectableClass: Sample }];
