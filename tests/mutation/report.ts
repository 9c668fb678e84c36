// What is kept of Stryker's reports: for each file how many mutants there were, and those that no test minded.
import { readFileSync, writeFileSync } from 'node:fs';

type Mutant = {
  readonly mutatorName: string;
  readonly replacement?: string;
  readonly status: string;
  readonly location: { readonly start: { readonly line: number } };
};
type Report = {
  readonly files: {
    readonly [path: string]: { readonly source: string; readonly mutants: readonly Mutant[] };
  };
};

export type Left = { readonly line: number; readonly code: string; readonly to: string };
export type Tally = { readonly path: string; readonly killed: number; readonly left: readonly Left[] };

/** The interlocks are changed in every way; of the rest of the controller a part was drawn, in per cent. */
export type Results = {
  /** What the figures are not, where they are not of one whole run. */
  readonly note?: string;
  readonly interlocks: readonly Tally[];
  readonly controller: { readonly part: string; readonly files: readonly Tally[] };
};

const RESULTS = new URL('results.json', import.meta.url);

const KILLED: readonly string[] = ['Killed', 'Timeout'];
const ALIVE: readonly string[] = ['Survived', 'NoCoverage'];

export const readReport = (path: string): Report => JSON.parse(readFileSync(path, 'utf8')) as Report;

/** A line as it stands, and what became of the part that was changed. */
const leftOf = (source: string, { location, replacement, mutatorName }: Mutant): Left => ({
  line: location.start.line,
  code: source.split('\n')[location.start.line - 1]!.trim(),
  to: replacement ?? mutatorName,
});

export const tally = (report: Report): readonly Tally[] =>
  Object.entries(report.files)
    .map(([path, { source, mutants }]) => ({
      path,
      killed: mutants.filter(({ status }) => KILLED.includes(status)).length,
      left: mutants
        .filter(({ status }) => ALIVE.includes(status))
        .map((mutant) => leftOf(source, mutant))
        .toSorted((a, b) => a.line - b.line),
    }))
    .filter(({ killed, left }) => killed + left.length > 0)
    .toSorted((a, b) => (a.path < b.path ? -1 : 1));

export const readResults = (): Results => JSON.parse(readFileSync(RESULTS, 'utf8')) as Results;

export const writeResults = (results: Results): void =>
  writeFileSync(RESULTS, `${JSON.stringify(results, undefined, 1)}\n`);
