// What is kept of Stryker's reports: for each file how many mutants there were, and those that no test minded.
import { readFileSync, writeFileSync } from 'node:fs';

/** Lines and columns from 1. */
export type Place = { readonly line: number; readonly column: number };
export type Located = {
  readonly mutatorName: string;
  readonly replacement?: string;
  readonly location: { readonly start: Place; readonly end: Place };
};
export type Mutant = Located & { readonly status: string };
export type Report = {
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

export const isLeft = ({ status }: Mutant): boolean => ALIVE.includes(status);

/** The same in every run on the same code, wherever that lies. */
export function nameOf(
  path: string,
  { mutatorName, replacement, location: { start, end } }: Located,
): string {
  const place = [start.line, start.column, end.line, end.column].join(' ');
  return [path.slice(path.lastIndexOf('controller/')), place, mutatorName, replacement].join('\n');
}

/** The first report, with what it left and the second found. */
export function withFound(first: Report, second: Report): Report {
  const found = new Map(
    Object.entries(second.files).flatMap(([path, { mutants }]) =>
      mutants
        .filter(({ status }) => KILLED.includes(status))
        .map((mutant) => [nameOf(path, mutant), mutant.status] as const),
    ),
  );
  const after =
    (path: string) =>
    (mutant: Mutant): Mutant =>
      isLeft(mutant) ? { ...mutant, status: found.get(nameOf(path, mutant)) ?? mutant.status } : mutant;
  return {
    ...first,
    files: Object.fromEntries(
      Object.entries(first.files).map(([path, file]) => [
        path,
        { ...file, mutants: file.mutants.map(after(path)) },
      ]),
    ),
  };
}

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
        .filter(isLeft)
        .map((mutant) => leftOf(source, mutant))
        .toSorted((a, b) => a.line - b.line),
    }))
    .filter(({ killed, left }) => killed + left.length > 0)
    .toSorted((a, b) => (a.path < b.path ? -1 : 1));

export const readResults = (): Results => JSON.parse(readFileSync(RESULTS, 'utf8')) as Results;

export const writeResults = (results: Results): void =>
  writeFileSync(RESULTS, `${JSON.stringify(results, undefined, 1)}\n`);
