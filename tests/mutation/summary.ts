// Writes docs/mutation.md from Stryker's report: `npm run mutation` runs the one after the other.
import { readFileSync, writeFileSync } from 'node:fs';
import { code, section, table } from '../hazards/markdown.ts';
import { reasonFor } from './reasons.ts';

type Mutant = {
  readonly mutatorName: string;
  readonly replacement?: string;
  readonly status: string;
  readonly location: { readonly start: { readonly line: number; readonly column: number } };
};
type Report = {
  readonly files: {
    readonly [path: string]: { readonly source: string; readonly mutants: readonly Mutant[] };
  };
};

const REPORT = new URL('../../reports/mutation.json', import.meta.url);
const PAGE = new URL('../../docs/mutation.md', import.meta.url);

const KILLED: readonly string[] = ['Killed', 'Timeout'];
const ALIVE: readonly string[] = ['Survived', 'NoCoverage'];

const report = JSON.parse(readFileSync(REPORT, 'utf8')) as Report;
const files = Object.entries(report.files)
  .filter(([path]) => !path.endsWith('band-sources.ts'))
  .toSorted(([a], [b]) => (a < b ? -1 : 1));

const count = (mutants: readonly Mutant[], statuses: readonly string[]): number =>
  mutants.filter(({ status }) => statuses.includes(status)).length;

const percent = (killed: number, of: number): string =>
  of === 0 ? '–' : `${((100 * killed) / of).toFixed(1)} %`;

type Alive = { readonly path: string; readonly line: string; readonly mutant: Mutant };

const alive: readonly Alive[] = files.flatMap(([path, { source, mutants }]) =>
  mutants
    .filter(({ status }) => ALIVE.includes(status))
    .map((mutant) => ({ path, line: source.split('\n')[mutant.location.start.line - 1]!.trim(), mutant })),
);

const reasonOf = ({ path, line, mutant }: Alive): string | undefined =>
  reasonFor(path, line, mutant.replacement ?? '');

function scores(): string {
  const rows = files.map(([path, { mutants }]) => {
    const killed = count(mutants, KILLED);
    const left = alive.filter((one) => one.path === path);
    const equivalent = left.filter((one) => reasonOf(one) !== undefined).length;
    const valid = killed + left.length;
    return [
      code(path.replace('controller/interlocks/', '')),
      String(valid),
      String(killed),
      String(left.length),
      percent(killed, valid),
      percent(killed, valid - equivalent),
    ];
  });
  return table([['file', 'mutants', 'killed', 'left', 'score', 'of those that change anything'], ...rows]);
}

const short = (text: string): string => code(text.replaceAll('`', "'").replace(/\s+/g, ' ').slice(0, 90));

/** Files with more of them than this are not far enough for a list to be of use. */
const FEW = 15;
const isListed = ({ path }: Alive): boolean => alive.filter((one) => one.path === path).length <= FEW;

const left = (): string =>
  alive.length === 0
    ? 'None.'
    : table([
        ['where', 'line', 'changed to', 'why it is left'],
        ...alive
          .filter(isListed)
          .map((one) => [
            `${code(one.path.split('/').at(-1)!)} ${one.mutant.location.start.line}`,
            short(one.line),
            short(one.mutant.replacement ?? one.mutant.mutatorName),
            reasonOf(one) ?? '**not proven**',
          ]),
      ]);

const INTRO = `# Mutants of the interlocks

Stryker changes the interlocks in one small way after another and runs their tests: a change that no test minds is a rule
that nobody has proven. Written by ${code('npm run mutation')}; it takes about six minutes on two cores and is no part of the
tests. Changed are all files of ${code('controller/interlocks/')} but ${code('band-sources.ts')}, declarations that a test of their own
holds to the code; run are the tests of the interlocks alone, without those that
sample what others enumerate. Texts and lists that are only evaluated when the program is loaded are not changed. Files with
more than ${FEW} mutants left are not listed one by one: their tests have yet to be sharpened, and much of what they do is proven by
whole jobs, which are not run here.`;

writeFileSync(
  PAGE,
  `${[INTRO, section('Scores', scores()), section('What is left', left())].join('\n\n')}\n`,
);
