// The section of results on faults: a matrix of fault by stage for each profile, the worst of each fault, and every exception.
import { STAGES } from '../../controller/stages.ts';
import { PROFILE_NAMES } from '../../sim/profiles.ts';
import { CASES, FIRST_CASES, JOBS, MOMENTS, NOMINAL_G } from './faults-scenario.ts';
import type { FaultFigures, FaultsFigures, Worst } from './faults-summary.ts';
import { table } from './table.ts';
import type { Summary } from './topic.ts';

/** Stage names as two letters, so that sixteen columns fit. */
const SHORT: { readonly [stage: string]: string } = {
  identify: 'id',
  fill: 'fi',
  'purge-air': 'pu',
  settle: 'se',
  recover: 're',
  rest: 'ru',
  'drain-oil': 'dr',
  repair: 'rp',
  evacuate: 'ev',
  hold: 'ho',
  'add-oil': 'oi',
  'leak-check': 'lc',
  charge: 'ch',
  verify: 've',
  'clear-hoses': 'cl',
  'recover-hoses': 'rh',
};

function matrix({ faults }: FaultsFigures): string {
  const rows = Object.entries(faults).map(([fault, { marks }]) => [fault, ...marks]);
  return table(['fault', ...STAGES.map((stage) => SHORT[stage]!)], rows);
}

const ledgerCell = ({ ledger, ledgerBeyond }: FaultFigures): string =>
  ledger === undefined
    ? '·'
    : `${ledger.of} ${ledger.errorG.toFixed(0)} (± ${ledger.saidG.toFixed(0)}), ${ledgerBeyond} jobs`;

const grams = (value: number): string => (value < 0.05 ? '·' : value.toFixed(1));

function worstTable(profiles: readonly (readonly [string, FaultsFigures])[]): string {
  const rows = profiles.flatMap(([name, { faults }]) =>
    Object.entries(faults)
      .filter(([, of]) => of.first !== undefined || of.ledger !== undefined || of.mostLostG > 1)
      .map(([fault, of]) => [
        `${name}: ${fault}`,
        String(of.jobs),
        of.first ?? '·',
        ledgerCell(of),
        grams(of.mostOverG),
        grams(of.mostLostG),
        grams(of.mostAirG),
      ]),
  );
  const head = [
    'fault',
    'jobs',
    'told first (jobs)',
    'ledger beyond, g',
    'most over, g',
    'lost, g',
    'air in, g',
  ];
  return table(head, rows);
}

const list = (worst: readonly Worst[]): string =>
  worst.length === 0
    ? 'None.'
    : worst
        .map(
          ({ fault, stage, share, seed, what }) =>
            `- ${fault} in ${stage} at ${share}, seed ${seed}: ${what}.`,
        )
        .join('\n');

export function faultsSection({ command, fromSeed, jobs, profiles }: Summary<FaultsFigures>): string {
  const both = PROFILE_NAMES.map((name) => [name, profiles[name]] as const);
  const each = (of: (figures: FaultsFigures) => string): string =>
    both.map(([name, figures]) => `${name}:\n\n${of(figures)}`).join('\n\n');
  return `## Faults

\`${command}\`: cases ${fromSeed} to ${fromSeed + jobs - 1} on each profile. Every fault of \`coldbench faults\` strikes in every stage and stays on
to the end of the job (${JOBS.join(', ')}; R-134a, ${NOMINAL_G} g, every stage that the machine has, a tank nearly at its limit before the
recovery), at ${MOMENTS[0]} of the time that the stage takes without it in the cases up to ${FIRST_CASES}, at ${MOMENTS.slice(1).join(' and ')} in those up to ${CASES}; outputs are struck at the first
moment alone.

Safe is, on the truth: nothing vented, purged beyond a session's limit, exhausted or spilled that the same job without the
fault does not, tank below its limit, at most 25 g of air into it, the vehicle at most 15 g (hobby 30 g) over its nominal
charge, no output commanded at the end and nothing flowing out a minute later. A way out that the fault itself opens is not
counted against this and stands under "lost". Explained is: where stages, results or outcome differ from the job without the
fault, a notice of its own speaks of a fitting cause or remedy. The ledger is off when it errs by more than 5 g and more
than it says (k = 2).

The worst of each stage: \`·\` as without the fault, \`c\` completed otherwise and told, \`s\` stopped and told, \`?\` no fitting word, \`!\` not safe.

${each(matrix)}

What was told first, and the worst of each fault:

${worstTable(both)}

What no sensor of this machine sees, and the bound that holds all the same:

- A vacuum, oil, dye or drain valve that stands open after the hold lets out what passes the manifold: the tank's loss is
  counted as the vehicle's gain, so the stated charge is too high, and the vehicle holds less and never more than stated.
- A charge valve that is welded while the engine clears the hoses pours until the scale has shown it, within a second and a half:
  up to 14 g come into the vehicle, and what the hoses hold stays in them.
- A hose valve that does not shut opens no way by itself: every path has a second valve.
- A drain valve that does not open looks like a separator without oil: what it has caught stays there.
- A zero of the scale that begins to run after the last rest of four minutes is off by no more than its rate and the time; the
  filling of a tank has no such rest.
- A compressor that wears out while the suction lies above the span of its sensor, or after the first run: what its condenser
  keeps of that is counted too high, by no more than half of what the trickle would have been (21 g).
- A tank that loses vapour while it is being filled, or by the purge valve after the last weighing at rest, is missing in
  what is booked then; it is told at the next rest.

Not safe:

${each(({ unsafe }) => list(unsafe))}

No fitting word:

${each(({ unexplained }) => list(unexplained))}

Ledger off:

${each(({ beyond }) => list(beyond))}
`;
}
