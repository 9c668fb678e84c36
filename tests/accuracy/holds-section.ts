// The holds as a section of the page of results: confusion tables, limits, and where the remaining error comes from.
import type { ProfileName } from '../../sim/profiles.ts';
import { DRAWN } from './holds-scenario.ts';
import { type HoldsProfile, type HoldsSummary, SAID, TRUTHS } from './holds-summary.ts';
import { range, table, whole } from './table.ts';

type Share = HoldsProfile['falseLeaks'];

const percent = ({ of, hold }: Share): string =>
  of === 0 ? 'none met' : `${((100 * hold) / of).toFixed(1)} % (${hold} of ${of})`;

function confusionTable({ confusion }: HoldsProfile): string {
  const rows = TRUTHS.filter((truth) => confusion[truth] !== undefined).map((truth) => [
    truth,
    ...SAID.map((said) => String(confusion[truth]?.[said] ?? '')),
  ]);
  return table(['truth \\ said', ...SAID], rows);
}

function goalsTable({ profiles }: HoldsSummary, names: readonly ProfileName[]): string {
  const of = (read: (profile: HoldsProfile) => string): string[] => names.map((name) => read(profiles[name]));
  return table(
    ['', ...names, 'wanted'],
    [
      ['called a leak where there is none', ...of(({ falseLeaks }) => percent(falseLeaks)), '≤ 1 %'],
      [
        'leaks above 3 times the stated limit called',
        ...of(({ foundAbove3 }) => percent(foundAbove3)),
        '≥ 99 %',
      ],
      ['leaks above the stated limit called', ...of(({ foundAbove1 }) => percent(foundAbove1)), ''],
      ['leaks not called that are within the limit', ...of(({ covered }) => percent(covered)), ''],
      ['inconclusive', ...of(({ inconclusive }) => percent(inconclusive)), '≤ 10 % (good)'],
    ],
  );
}

const figures = ({ of, p50, p99, most }: HoldsProfile['dryLimits']): string[] => [
  String(of),
  ...[p50, p99, most].map((value) => value.toFixed(1)),
];

function limitsTable({ profiles }: HoldsSummary, names: readonly ProfileName[]): string {
  const rows = names.flatMap((name) => {
    const { dryLimits, tightLimits, outgassingLimits } = profiles[name];
    return [
      [
        `${name}: opened and dry, ten minutes of watching`,
        ...figures(dryLimits),
        name === 'good' ? '≤ 10' : '',
      ],
      [`${name}: all that were called tight`, ...figures(tightLimits), ''],
      [`${name}: all that were called outgassing`, ...figures(outgassingLimits), ''],
    ];
  });
  return table(['stated limit, kg a year', 'holds', 'p50', 'p99', 'most', 'most wanted'], rows);
}

function classesTable({ profiles }: HoldsSummary, names: readonly ProfileName[]): string {
  const classes = profiles.good.classes.map(({ fromKgPerYear, toKgPerYear }, index) => [
    `${fromKgPerYear} to ${toKgPerYear}`,
    ...names.map((name) => percent(profiles[name].classes[index]!.found)),
  ]);
  return table(['leak, kg a year', ...names], classes);
}

const drawn = (): string =>
  `Drawn for each seed: ${range(DRAWN.volumeL, 'L')}, ${range(DRAWN.oilG, 'g')} of PAG or POE, R-134a or R-1234yf, orifice tube or ` +
  `expansion valve, ${range(DRAWN.ambientC, '°C')}, ${range(DRAWN.altitudeM, 'm')} above the sea, ${range(DRAWN.relativeHumidity, 'relative humidity')}. ` +
  `${whole(DRAWN.origins.recovered)} were recovered by another machine to ${range([DRAWN.recoveredPa[0] / 1000, DRAWN.recoveredPa[1] / 1000], 'kPa')}, ` +
  `their oil at rest under that; ${whole(DRAWN.origins.opened)} stood open and are full of humid air, their oil moist; ${whole(DRAWN.origins.whole)} come with ` +
  `${range(DRAWN.chargeG, 'g')} and are recovered first, so that their oil holds refrigerant deep down.`;

export function holdsSection(summary: HoldsSummary, names: readonly ProfileName[]): string {
  const { profiles, fromSeed, jobs, command } = summary;
  const { hard } = DRAWN.populations;
  const confusions = names.map((name) => {
    const { noHold, wrong } = profiles[name];
    const missing = noHold === 0 ? '' : ` ${noHold} jobs never came to a hold: liquid was left in the cold.`;
    const seeds = wrong.length === 0 ? '' : ` Wrong: seeds ${wrong.join(', ')}.`;
    return `${name}:${missing}${seeds}\n\n${confusionTable(profiles[name])}`;
  });
  return `## Verdicts of the hold

\`${command}\`: evacuation and holds up to the decision whether to charge, seeds ${fromSeed} to ${fromSeed + jobs - 1}, each on a machine of
either profile. ${drawn()} There are ${range(DRAWN.waterG, 'g')} of free water in ${whole(hard.wet.opened)} of the opened and ${whole(hard.wet.recovered)} of the
others, and leaks of ${range(DRAWN.leakKgPerYear, 'kg a year')} in ${whole(hard.leaking)}, both evenly over their logarithm: harder than what
comes to a workshop.

${goalsTable(summary, names)}

${limitsTable(summary, names)}

What was said last, in a job of up to four holds. Free water is what was there at the start; where the verdict is tight the
pump, or the desiccant, has taken it.

${confusions.join('\n\n')}

Leaks that were called, by size:

${classesTable(summary, names)}

Where the remaining error comes from:

- A leak is called when its rise is straight, or keeps its slope through another evacuation. One that is small beside what
  the oil gives off is told as outgassing, and the stated limit is as large as all of the rise: the hold says that a leak
  of that size could hide, and does not claim to have seen a smaller one.
- The limit is stated for a vehicle of 3.5 L; in one of 4 L the same rise is a leak a tenth larger.
- Free water that still boils or freezes while a leak brings air may hold the rise down: the film takes up vapour as the
  pressure climbs. What was not called although it lies above the limit is of this kind, or a leak of humid air whose
  vapour a dry desiccant drinks.
- The hobby machine has no thermal sensor. Its absolute sensor may be off by a kilopascal, so that it sees water and ice
  by their rise alone, not by the pressure at which they stand; and it tells a straight rise from a tiring one only above
  some 1 Pa/s.
`;
}
