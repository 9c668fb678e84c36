// Writes docs/mutation.md from Stryker's reports: `npm run mutation` and `npm run mutation:controller` run the one after the other.
import { writeFileSync } from 'node:fs';
import { code, section, table } from '../hazards/markdown.ts';
import { reasonFor } from './reasons.ts';
import {
  type Left,
  type Results,
  readReport,
  readResults,
  type Tally,
  tally,
  writeResults,
} from './report.ts';

const PAGE = new URL('../../docs/mutation.md', import.meta.url);

const total = (tallies: readonly Tally[], of: (one: Tally) => number): number =>
  tallies.reduce((sum, one) => sum + of(one), 0);

const percent = (killed: number, of: number): string =>
  of === 0 ? '–' : `${((100 * killed) / of).toFixed(1)} %`;

const reasonOf = (path: string, { code: line, to }: Left): string | undefined => reasonFor(path, line, to);

const equivalent = ({ path, left }: Tally): number =>
  left.filter((one) => reasonOf(path, one) !== undefined).length;

function scores(tallies: readonly Tally[]): string {
  const row = (name: string, ofAll: readonly Tally[]): readonly string[] => {
    const killed = total(ofAll, (one) => one.killed);
    const left = total(ofAll, (one) => one.left.length);
    const valid = killed + left;
    return [
      name,
      String(valid),
      String(killed),
      String(left),
      percent(killed, valid),
      percent(killed, valid - total(ofAll, equivalent)),
    ];
  };
  const rows = tallies.map((one) => row(code(one.path.replace(/^controller\/(interlocks\/)?/, '')), [one]));
  const head = ['file', 'mutants', 'killed', 'left', 'score', 'of those that change anything'];
  return table([head, ...rows, row('all', tallies)]);
}

const short = (text: string): string => code(text.replaceAll('`', "'").replace(/\s+/g, ' ').slice(0, 90));

function leftOver(tallies: readonly Tally[], otherwise: string): string {
  const rows = tallies.flatMap(({ path, left }) =>
    left.map((one) => [
      `${code(path.split('/').at(-1)!)} ${one.line}`,
      short(one.code),
      short(one.to),
      reasonOf(path, one) ?? otherwise,
    ]),
  );
  return rows.length === 0 ? 'None.' : table([['where', 'line', 'changed to', 'why it is left'], ...rows]);
}

/** Of a share of so many draws, at 95 % (Wilson, J. Am. Stat. Assoc. 22, 1927). */
function interval(killed: number, of: number): string {
  const z = 1.96;
  const share = killed / of;
  const middle = (share + z ** 2 / (2 * of)) / (1 + z ** 2 / of);
  const half = (z / (1 + z ** 2 / of)) * Math.sqrt((share * (1 - share)) / of + z ** 2 / (4 * of ** 2));
  return `${(100 * (middle - half)).toFixed(1)} % to ${(100 * (middle + half)).toFixed(1)} %`;
}

const INTRO = `# Mutants

Stryker changes the controller in one small way after another and runs tests: a change that no test minds is a rule that
nobody has proven. None of it is part of the tests; both commands write this page.`;

const INTERLOCKS = `${code('npm run mutation')} changes the interlocks in every way Stryker knows: all files of
${code('controller/interlocks/')} but ${code('band-sources.ts')}, declarations that a test of their own holds to the code. Run are
the tests of the interlocks and of their pages alone, without those that sample what others enumerate.`;

const controllerText = ({ part, files }: Results['controller']): string => {
  if (files.length === 0) return 'Not run yet.';
  const killed = total(files, (one) => one.killed);
  const valid = killed + total(files, (one) => one.left.length);
  return `${code(`MUTATION_PART=${part} npm run mutation:controller`)} draws mutants of all other files of the controller with a fixed seed,
each on its own, and runs the controller's own tests without the longest (${code('tests/mutation/controller.vitest.ts')}), and for
what those leave the quicker whole jobs of the simulated bench (${code('tests/mutation/jobs.vitest.ts')}). Texts and lists that are only evaluated when the program is loaded are not among
them. What only a longer test would find counts as left.

Of ${valid} that were drawn ${killed} were found: **${percent(killed, valid)}**, at 95 % confidence between ${interval(killed, valid)}.`;
};

const drawn = (files: readonly Tally[]): readonly string[] =>
  files.length === 0 ? [] : [scores(files), leftOver(files, 'no quick test minds')];

/** Parts of one sample that were run one after the other. */
const joined = (tallies: readonly Tally[]): readonly Tally[] =>
  [...Map.groupBy(tallies, ({ path }) => path)]
    .map(([path, parts]) => ({
      path,
      killed: total(parts, (one) => one.killed),
      left: parts.flatMap(({ left }) => left).toSorted((a, b) => a.line - b.line),
    }))
    .toSorted((a, b) => (a.path < b.path ? -1 : 1));

function update(part: string, reports: readonly string[]): Results {
  const results = readResults();
  const tallies = joined(reports.flatMap((path) => tally(readReport(path))));
  if (part === 'interlocks') return { interlocks: tallies, controller: results.controller };
  const { MUTATION_PART = '0-4' } = process.env;
  return { ...results, controller: { part: MUTATION_PART, files: tallies } };
}

const [part = 'interlocks', ...reports] = process.argv.slice(2);
const results = update(part, reports);
writeResults(results);

const sections = [
  INTRO,
  section(
    'Interlocks',
    INTERLOCKS,
    ...(results.note === undefined ? [] : [results.note]),
    scores(results.interlocks),
  ),
  section('What is left of the interlocks', leftOver(results.interlocks, '**not proven**')),
  section('The whole controller', controllerText(results.controller), ...drawn(results.controller.files)),
];
writeFileSync(PAGE, `${sections.join('\n\n')}\n`);
