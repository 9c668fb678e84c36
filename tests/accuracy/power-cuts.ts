// Power cuts: the mains fail at every second of a whole job, and come back; what is then said is held to the truth.
import { type CutRow, KINDS, type Kind, overG } from './power-cuts-job.ts';
import { table } from './table.ts';
import type { Topic } from './topic.ts';
import { spread } from './workers.ts';

const module = new URL('./power-cuts-worker.ts', import.meta.url);

type Cut = NonNullable<CutRow['cut']>;
type Group = {
  readonly cuts: number;
  /** Largest error of what is said that the tank has gained, and the least and most that is said of its doubt; k = 2. */
  readonly worstG?: number;
  readonly uncertaintyG?: readonly [number, number];
  /** Cuts whose error is larger than what is said. */
  readonly beyond: number;
  /** Cuts after which the vehicle holds less or more than is said. */
  readonly outside: number;
  readonly mostOverG: number;
  readonly ventedG: number;
  readonly exhaustedInTheDarkG: number;
};
type Stages = { readonly [stage: string]: Group };
type CutsSummary = {
  readonly command: string;
  readonly fromS: number;
  readonly toS: number;
  readonly kinds: { readonly [K in Kind]: Stages };
};

const most = (values: readonly number[]): number => values.reduce((high, value) => Math.max(high, value), 0);
const rounded = (value: number): number => Number(value.toFixed(3));

function groupOf(cuts: readonly Cut[]): Group {
  const told = cuts.flatMap(({ errorG, uncertaintyG }) =>
    errorG === undefined || uncertaintyG === undefined ? [] : [{ offG: Math.abs(errorG), uncertaintyG }],
  );
  const doubts = told.map(({ uncertaintyG }) => uncertaintyG);
  return {
    cuts: cuts.length,
    ...(told.length === 0
      ? {}
      : {
          worstG: rounded(most(told.map(({ offG }) => offG))),
          uncertaintyG: [rounded(Math.min(...doubts)), rounded(most(doubts))] as const,
        }),
    beyond: told.filter(({ offG, uncertaintyG }) => offG > uncertaintyG).length,
    outside: cuts.filter(
      ({ vehicle, vehicleG }) => vehicle && (vehicleG < vehicle.leastG || vehicleG > vehicle.mostG),
    ).length,
    mostOverG: rounded(most(cuts.map(overG))),
    ventedG: rounded(most(cuts.map(({ ventedG }) => ventedG))),
    exhaustedInTheDarkG: rounded(most(cuts.map(({ exhaustedInTheDarkG }) => exhaustedInTheDarkG))),
  };
}

function stagesOf(rows: readonly CutRow[]): Stages {
  const cuts = rows.flatMap(({ cut }) => cut ?? []);
  return Object.fromEntries(
    [...Map.groupBy(cuts, ({ stage }) => stage)].map(([stage, of]) => [stage, groupOf(of)]),
  );
}

const tenth = (value: number): string => value.toFixed(1);

function kindTable(kind: Kind, stages: Stages): string {
  const rows = Object.entries(stages).map(([stage, of]) => [
    stage,
    String(of.cuts),
    of.worstG === undefined ? 'not weighed' : tenth(of.worstG),
    of.uncertaintyG === undefined ? '' : of.uncertaintyG.map(tenth).join(' to '),
    String(of.beyond),
    String(of.outside),
    tenth(of.mostOverG),
    tenth(of.ventedG + of.exhaustedInTheDarkG),
  ]);
  const head = [
    `cut in (${kind})`,
    'cuts',
    'worst error, g',
    'said ±, g',
    'beyond',
    'vehicle outside',
    'most over, g',
    'vented, g',
  ];
  return table(head, rows);
}

function section({ command, fromS, toS, kinds }: CutsSummary): string {
  return `## Power cuts

\`${command}\`: the mains fail at every second from ${fromS} to ${toS} of a whole job (450 g out of a vehicle, 600 g in; good),
stay away for a minute and come back. A job that is over by then counts for nothing, and before the charge both kinds of job
are one. The controller that starts again weighs the tank with every valve shut and says what the tank has gained since its
weighing at the start of the recovery or, later, of the charge. Error is what it says less the truth; beyond are cuts with an
error above what is said (k = 2), vehicle outside those after which the vehicle holds less or more than is said once a charge
has begun. Vented is what a path of the machine lets out after the cut, the pump's exhaust from five seconds on.

${KINDS.map((kind) => kindTable(kind, kinds[kind])).join('\n\n')}

What the vehicle holds is not known while it is being recovered, and only between two bounds while hoses and condenser hold
some of what has left the tank: then they are to be drawn back first, and the net charge comes from the weighing after that.
Most over is what the vehicle holds above its nominal charge: where hoses are drawn back, too much is given on purpose and
taken back with them; a cut in between leaves it there until the hoses are drawn back.
`;
}

export const powerCuts: Topic = {
  name: 'power-cuts',
  measure: async (asked) => {
    const { jobs, fromSeed } = asked;
    const toS = fromSeed + jobs - 1;
    const [drawn, sucked] = KINDS;
    const rowsOf = (kind: Kind, from: number) =>
      spread<CutRow>(
        { module, about: { kind }, label: kind },
        { ...asked, fromSeed: from, jobs: toS - from + 1 },
      );
    const rows = await rowsOf(drawn, fromSeed);
    // The engine makes no difference before the charge.
    const chargeS = rows.find(({ cut }) => cut?.stage === 'charge')?.seed ?? toS;
    const command = `npm run accuracy -- power-cuts --jobs ${jobs} --seed ${fromSeed}`;
    const kinds = { [drawn]: stagesOf(rows), [sucked]: stagesOf(await rowsOf(sucked, chargeS)) };
    return { command, fromS: fromSeed, toS, kinds } satisfies CutsSummary;
  },
  section: (summary) => section(summary as CutsSummary),
  plots: () => [],
};
