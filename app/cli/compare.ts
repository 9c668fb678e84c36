// `coldbench compare`: two campaigns, or this logic and another one's on the same jobs; fails on a regression.
import { rowsIn } from '../bench/campaign-file.ts';
import { type Bounds, type Campaigned, compareCampaigns } from '../bench/compare.ts';
import { MEASURES, type Measure, RATES, type Rate } from '../bench/figures.ts';
import { withOtherLogic } from '../bench/other-logic.ts';
import { boundText, printedComparison } from '../bench/printed-comparison.ts';
import { splitArguments } from './arguments.ts';
import { wholeFrom } from './bench-arguments.ts';
import { type CliCommand, InputError, type Terminal } from './command.ts';
import { EXIT } from './exit.ts';
import { suggestion } from './nearest.ts';

const FIGURES = [
  ...MEASURES.map((measure) => ({ figure: { measure }, ...measure })),
  ...RATES.map((rate) => ({ figure: { rate }, ...rate })),
];
const IDS = FIGURES.map(({ id }) => id);
const WIDTH = Math.max(...IDS.map(({ length }) => length));

const figureList = FIGURES.map(
  (one) => `  ${one.id.padEnd(WIDTH)}  ${boundText(one).padEnd(9)}  ${one.says}`,
).join('\n');

const HELP = `Usage: coldbench compare A B [--bound FIGURE=LIMIT,…] [--confidence PERCENT] [--json]
       coldbench compare A --logic FOLDER [--out B] [--workers K] [and the same options]

Compares two files of coldbench campaign: A before, B after. Where plan and seed are the same, the same jobs are compared
by pairs, which shows small differences; else means and shares are. Figures are sizes and shares of which less is better.
A measure has regressed when its mean is worse by more than its bound; a share when it has grown, and by more than its
bound; both beyond chance. docs/campaigns.md has the methods.

  --logic FOLDER   let the checkout in this folder run the jobs of A again, and take that for B
  --out B          with --logic: keep its file
  --workers K      with --logic: its threads
  --bound F=L,…    other bounds: charge-error=2g, recovery-time=10%, harmed=0.5points, or tripped=none: shown, not judged
  --confidence P   per cent (default 99): of no false alarm in any figure, and of each interval
  --json           print one JSON document instead of the table

Figures and their bounds:
${figureList}

Exit status: 0 no regression, 1 a regression, 2 bad input.
`;

const OPTIONS = {
  logic: { type: 'string' },
  out: { type: 'string' },
  workers: { type: 'string' },
  bound: { type: 'string' },
  confidence: { type: 'string' },
  json: { type: 'boolean' },
} as const;

const MOST_WORKERS = 256;
const DEFAULT_PERCENT = '99';

type Bound = Measure['bound'] | Rate['bound'];

/** One bound as `boundText` writes it; the unit may be left out. */
function boundFrom(word: string): readonly [id: string, bound: Bound | undefined] {
  const [, id = '', limit = ''] = /^([^=]*)=?(.*)$/.exec(word) ?? [];
  const figure = FIGURES.find((one) => one.id === id);
  if (figure === undefined)
    throw new InputError(`--bound: there is no figure '${id}'; ${suggestion(id, IDS)}`);
  if (limit === 'none') return [id, undefined];
  const [, number, unit = ''] = /^(\d+(?:\.\d+)?)\s*(\D*)$/.exec(limit) ?? [];
  const value = Number(number);
  const own = 'unit' in figure ? figure.unit : 'points';
  if (number !== undefined && (unit === own || unit === ''))
    return [id, 'unit' in figure ? { by: value } : { byPoints: value }];
  if (number !== undefined && unit === '%' && 'unit' in figure) return [id, { byPercent: value }];
  const percent = 'unit' in figure && own !== '%' ? ', 5%' : '';
  throw new InputError(`--bound ${id}: '${limit}' is no limit; write 1${own}${percent} or none`);
}

function boundsFrom(text: string | undefined): Bounds {
  return new Map(text === undefined ? [] : text.split(',').map((word) => boundFrom(word.trim())));
}

function confidenceFrom(text: string): number {
  const percent = Number(text);
  if (!/^\d+(\.\d+)?$/.test(text) || percent < 50 || percent > 99.9)
    throw new InputError(`--confidence must be 50 to 99.9 per cent, not '${text}'`);
  return percent / 100;
}

async function campaignsOf(
  files: readonly string[],
  values: ReadonlyMap<string, string>,
): Promise<readonly [before: Campaigned, after: Campaigned]> {
  const [a, b] = files;
  const folder = values.get('logic');
  if (a === undefined)
    throw new InputError('give two files of coldbench campaign, or one and --logic FOLDER');
  const workers = wholeFrom(values, 'workers', MOST_WORKERS);
  if (folder === undefined) {
    const stray = ['out', 'workers'].find((name) => values.has(name));
    if (stray !== undefined) throw new InputError(`--${stray} goes with --logic; leave it out`);
    if (b === undefined) throw new InputError(`give a second file to compare ${a} with, or --logic FOLDER`);
    return [rowsIn(a), rowsIn(b)];
  }
  if (b !== undefined) throw new InputError(`--logic makes the second file; leave ${b} out`);
  const before = rowsIn(a);
  return [before, await withOtherLogic(before.header, { folder, workers, out: values.get('out') }, rowsIn)];
}

export const compare: CliCommand = {
  name: 'compare',
  summary: 'two campaigns against each other; fails on a regression',
  help: HELP,
  async run(args: readonly string[], terminal: Terminal): Promise<number> {
    const { values, positionals } = splitArguments(args, OPTIONS, 2);
    const bounds = boundsFrom(values.get('bound'));
    const confidence = confidenceFrom(values.get('confidence') ?? DEFAULT_PERCENT);
    const [before, after] = await campaignsOf(positionals, values);
    const comparison = compareCampaigns(before, after, bounds, confidence);
    if (values.has('json')) terminal.out(`${JSON.stringify(comparison, undefined, 2)}\n`);
    else terminal.out(printedComparison(comparison));
    return comparison.figures.some(({ regressed }) => regressed) ? EXIT.stopped : EXIT.completed;
  },
};
