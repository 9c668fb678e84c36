// Draws mutants of the whole controller and runs its own tests on them: `node tests/mutation/controller.ts`.
// Stryker lists all of them first and then changes only what was drawn: with all built in, the controller is six times as slow.
import { spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { isDrawn, type Located } from './sample.ts';

type Report = { readonly files: { readonly [path: string]: { readonly mutants: readonly Located[] } } };

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

const ranges = Object.entries(all.files).flatMap(([path, { mutants }]) =>
  mutants
    .filter((mutant) => isDrawn(path, mutant))
    .map(({ location: { start, end } }) =>
      [path, `${start.line}:${start.column - 1}-${end.line}:${end.column - 1}`].join(':'),
    ),
);

stryker('controller', undefined, {
  mutate: [...new Set(ranges)],
  vitest: { configFile: 'tests/mutation/controller.vitest.ts', related: false },
});
