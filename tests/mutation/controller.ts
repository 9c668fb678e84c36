// Draws mutants of the whole controller and runs its own tests on them: `node tests/mutation/controller.ts`.
// Stryker lists all of them first and then changes only what was drawn: with all built in, the controller is six times as slow.
// The quick tests come first, and whole jobs meet only what those have left.
import { spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { isDrawn, type Located } from './sample.ts';

type Mutant = Located & { readonly status?: string };
type Report = { readonly files: { readonly [path: string]: { readonly mutants: readonly Mutant[] } } };

const CONFIG = 'reports/stryker-controller.json';

/** @param part which mutants are run, in per cent of all. */
function stryker(name: string, part: string | undefined, over: object): Report {
  const report = `reports/mutation-${name}.json`;
  const base = JSON.parse(readFileSync('stryker.config.json', 'utf8')) as object;
  const config = {
    ...base,
    reporters: ['json', 'progress-append-only'],
    jsonReporter: { fileName: report },
    plugins: ['@stryker-mutator/vitest-runner', './tests/mutation/sample.ts'],
    checkers: ['sample'],
    // Half of them check, and have done so at once.
    concurrency: 4,
    ignoreStatic: true,
    tempDirName: '.stryker-tmp/controller',
    timeoutMS: 60_000,
    timeoutFactor: 2,
    dryRunTimeoutMinutes: 20,
    ...over,
  };
  mkdirSync('reports', { recursive: true });
  writeFileSync(CONFIG, JSON.stringify(config));
  const env = { ...process.env, ...(part === undefined ? {} : { MUTATION_PART: part }) };
  const { status } = spawnSync('stryker', ['run', CONFIG], { stdio: 'inherit', env });
  if (status !== 0) throw new Error(`Stryker ended with ${status}`);
  return JSON.parse(readFileSync(report, 'utf8')) as Report;
}

const all = stryker('list', '0-0', {
  mutate: ['controller/**/*.ts', '!controller/interlocks/**'],
  vitest: { configFile: 'tests/mutation/list.vitest.ts', related: false },
});

/** What Stryker has to change, as places in files. */
const rangesOf = (
  { files }: Report,
  isAsked: (path: string, mutant: Mutant) => boolean,
): readonly string[] => {
  const ranges = Object.entries(files).flatMap(([path, { mutants }]) =>
    mutants
      .filter((mutant) => isAsked(path, mutant))
      .map(({ location: { start, end } }) =>
        [path, `${start.line}:${start.column - 1}-${end.line}:${end.column - 1}`].join(':'),
      ),
  );
  return [...new Set(ranges)];
};

const isLeft = (status: string | undefined): boolean => status === 'Survived' || status === 'NoCoverage';

const keyOf = ({ mutatorName, replacement, location }: Located): string =>
  JSON.stringify([mutatorName, replacement, location]);

/** What the first tests have left has the word of the second; to be slow there, among whole jobs, is not to be found. */
function merged(first: Report, second: Report): Report {
  const files = Object.entries(first.files).map(([path, file]) => {
    const later = new Map(second.files[path]?.mutants.map((mutant) => [keyOf(mutant), mutant]));
    const mutants = file.mutants.map((mutant) => {
      const again = isLeft(mutant.status) ? later.get(keyOf(mutant)) : undefined;
      return again?.status === 'Killed' ? again : mutant;
    });
    return [path, { ...file, mutants }] as const;
  });
  return { ...first, files: Object.fromEntries(files) };
}

const quick = stryker('controller-quick', undefined, {
  mutate: rangesOf(all, isDrawn),
  vitest: { configFile: 'tests/mutation/controller.vitest.ts', related: false },
});

const left = rangesOf(quick, (_, { status }) => isLeft(status));
const jobs =
  left.length === 0
    ? quick
    : stryker('controller-jobs', undefined, {
        mutate: left,
        vitest: { configFile: 'tests/mutation/jobs.vitest.ts', related: false },
      });

writeFileSync('reports/mutation-controller.json', JSON.stringify(merged(quick, jobs)));
