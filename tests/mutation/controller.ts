// Draws mutants of the whole controller and runs its own tests on them, then whole jobs on what those leave:
// `node tests/mutation/controller.ts`, or with `jobs` for the second half alone, on the report of a first one.
// Stryker lists all of them first and then changes only what was drawn: with all built in, the controller is six times as slow.
import { spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { isLeft, type Mutant, type Report, readReport, withFound } from './report.ts';
import { isDrawn } from './sample.ts';

const CONFIG = 'reports/stryker-controller.json';

const reportOf = (name: string): string => `reports/mutation-${name}.json`;

/** @param env which mutants are run: `MUTATION_PART`, in per cent of all, or `MUTATION_LEFT`, a report. */
function stryker(name: string, env: Readonly<Record<string, string>>, over: object): Report {
  const report = reportOf(name);
  const config = {
    ...(JSON.parse(readFileSync('stryker.config.json', 'utf8')) as object),
    reporters: ['json', 'progress-append-only'],
    jsonReporter: { fileName: report },
    plugins: ['@stryker-mutator/vitest-runner', './tests/mutation/sample.ts'],
    checkers: ['sample'],
    ignoreStatic: true,
    tempDirName: '.stryker-tmp/controller',
    timeoutMS: 60_000,
    timeoutFactor: 2,
    dryRunTimeoutMinutes: 20,
    ...over,
  };
  mkdirSync('reports', { recursive: true });
  writeFileSync(CONFIG, JSON.stringify(config));
  const { status } = spawnSync('stryker', ['run', CONFIG], {
    stdio: 'inherit',
    env: { ...process.env, ...env },
  });
  if (status !== 0) throw new Error(`Stryker ended with ${status}`);
  return readReport(report);
}

/** Where the mutants are that `which` picks, as Stryker wants to be told. */
const rangesOf = ({ files }: Report, which: (path: string, mutant: Mutant) => boolean): readonly string[] => [
  ...new Set(
    Object.entries(files).flatMap(([path, { mutants }]) =>
      mutants
        .filter((mutant) => which(path, mutant))
        .map(({ location: { start, end } }) =>
          [path, `${start.line}:${start.column - 1}-${end.line}:${end.column - 1}`].join(':'),
        ),
    ),
  ),
];

const vitest = (name: string) => ({ configFile: `tests/mutation/${name}.vitest.ts`, related: false });

function ownTests(): Report {
  const all = stryker(
    'list',
    { MUTATION_PART: '0-0' },
    { mutate: ['controller/**/*.ts', '!controller/interlocks/**'], vitest: vitest('list') },
  );
  return stryker('controller', {}, { mutate: rangesOf(all, isDrawn), vitest: vitest('controller') });
}

const [half] = process.argv.slice(2);
const first = half === 'jobs' ? readReport(reportOf('controller')) : ownTests();
const second = stryker(
  'jobs',
  { MUTATION_LEFT: reportOf('controller') },
  { mutate: rangesOf(first, (_, mutant) => isLeft(mutant)), vitest: vitest('jobs') },
);
writeFileSync(reportOf('controller'), JSON.stringify(withFound(first, second)));
