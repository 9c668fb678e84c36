// The page of the large set: docs/properties.md, from what its last run has kept.

import { HARMS, type Harm } from '../../app/bench/harm.ts';
import { EXCEPTIONS } from './exceptions.ts';
import { JOB_NAMES } from './starts.ts';
import type { Summary } from './summary.ts';

export const RESULTS = new URL('./results.json', import.meta.url);
export const PAGE = new URL('../../docs/properties.md', import.meta.url);

const row = (cells: readonly string[]): string => `| ${cells.join(' | ')} |`;
const table = (head: readonly string[], rows: readonly (readonly string[])[]): string =>
  [row(head), row(head.map(() => '---')), ...rows.map(row)].join('\n');

const names = Object.keys(HARMS) as readonly Harm[];

/** As people read it: grams and bar. */
function figure(harm: Harm, value: number): string {
  const { unit } = HARMS[harm];
  if (unit === 'g') return `${Number((1000 * value).toPrecision(3))} g`;
  if (unit === 'bar') return `${Number((value / 1e5).toPrecision(3))} bar`;
  return String(value);
}

function harmTable({ profiles: { good, hobby } }: Summary): string {
  const rows = names.map((harm) => [
    HARMS[harm].says,
    HARMS[harm].limit,
    `${good.harms[harm].found} / ${hobby.harms[harm].found}`,
    `${good.harms[harm].harm} / ${hobby.harms[harm].harm}`,
  ]);
  return table(['harm', 'none up to', 'runs with it, good / hobby', 'of them not covered below'], rows);
}

/** Each exception with its bounds, and the worst that came of it where nothing else could be its cause. */
function exceptionTable({ profiles: { good, hobby } }: Summary): string {
  const rows = EXCEPTIONS.flatMap(({ name, harms, why, still }) =>
    (Object.entries(harms) as [Harm, number][]).map(([harm, most], index) => {
      const worst = [good, hobby].flatMap((set) => set.exceptions[name]?.worst[harm] ?? []);
      const runs = (good.exceptions[name]?.runs ?? 0) + (hobby.exceptions[name]?.runs ?? 0);
      return [
        index === 0 ? `${name} (${runs} runs)` : '',
        HARMS[harm].says,
        HARMS[harm].unit === '' ? '' : figure(harm, most),
        worst.length === 0 || HARMS[harm].unit === '' ? '' : figure(harm, Math.max(...worst)),
        index === 0 ? `${why} ${still}` : '',
      ];
    }),
  );
  return table(
    ['what', 'harm that may come of it', 'bound', 'worst seen', 'why, and what still holds'],
    rows,
  );
}

export const page = (summary: Summary): string => {
  const { good, hobby } = summary.profiles;
  const hours = Math.round(good.simulatedHours + hobby.simulatedHours);
  return `# Properties

Random operators, random faults and random garbage of the sensors, watched on the simulator's truth. This page is written by
\`${summary.command} --keep\`; a smaller set from a fixed seed runs with the tests (\`tests/properties/\`).

## What is run

${good.runs + hobby.runs} runs, ${hours} simulated hours, half of them on each profile. Each starts from a moment saved in the middle of a job,
in any step of any stage (kinds of job: ${JOB_NAMES.join(', ')}),
or with a controller that has just started on the machine as it stands and is worked by hand. Within three minutes, at random times:

- **The operator** answers late, twice, wrongly or not at all, pauses, resumes, resets, works couplers, hoses and ignition
  when nobody asked for it, and by hand wishes ways open that make sense and others that do not.
- **Up to three faults** of \`coldbench faults\`, sizes over their whole range, come and go.
- **Up to three sensors** give what is no number, infinite, huge, negative, missing, stale or stuck.
- **The end** is the operator's abort, the emergency stop, the gas alarm, the mains or the line.

In ${good.unexcepted + hobby.unexcepted} of the runs nothing was drawn that the last table names.

## What must not happen

The harms are written from the hazards and look at masses, pressures and valves as they really are, not at what the
controller says. A run that starts above a limit may stay there and not go further.

${harmTable(summary)}

## What no command can prevent

A valve that stands open for its own reasons is no command. What may come of it is bounded all the same: by what the
controller shuts around it when it sees it, or by what passes. Bounds hold for one run; the worst is taken from runs in which
nothing else named here could have done it.

${exceptionTable(summary)}

## How a run is repeated

\`npm run properties -- --runs 2 --seed S\` draws the run of seed S on each profile; a run that does harm is printed with
everything that was drawn. \`tests/properties/exceptions.ts\` has the bounds, \`app/bench/harm.ts\` the limits, and
\`tests/properties/harm.test.ts\` shows for every harm that it is caught.
`;
};
