// Hands-on time: how often a whole job waits for a person, over seeded jobs, and for what.

import { percentile } from '../../app/bench/statistics.ts';
import { PROFILE_NAMES } from '../../sim/profiles.ts';
import type { HandsOnRow } from './hands-on-job.ts';
import { table } from './table.ts';
import { onBothProfiles, type Summary, type Topic } from './topic.ts';
import { spread } from './workers.ts';

const module = new URL('./hands-on-worker.ts', import.meta.url);

type Group = {
  readonly jobs: number;
  readonly p50: number;
  readonly most: number;
  readonly wanted: number;
  readonly beyond: number;
  /** Questions and calls together, in the job with most of them. */
  readonly mostHands: number;
  readonly withoutEvidence: number;
  /** The prompts of the job that asked most. */
  readonly longest: readonly string[];
};

type HandsOnSummary = Summary<{ readonly [group: string]: Group }>;

/** What the project asks of itself: six, and eight with flammable refrigerant or a vehicle that is warmed. */
const wantedOf = ({ flammable, warmed }: HandsOnRow): number => (flammable || warmed ? 8 : 6);

const groupOf = ({ flammable, engine, warmed }: HandsOnRow): string =>
  `${flammable ? 'R-1234yf' : 'R-134a'}, ${warmed ? 'warmed by its engine' : engine ? 'engine after the charge' : 'engine not used'}`;

function groupSummary(rows: readonly HandsOnRow[]): Group {
  const counts = rows.map(({ prompts }) => prompts.length);
  const [longest] = [...rows].sort((a, b) => b.prompts.length - a.prompts.length);
  return {
    jobs: rows.length,
    p50: percentile(counts, 50),
    most: percentile(counts, 100),
    wanted: Math.max(...rows.map(wantedOf)),
    mostHands: Math.max(...rows.map(({ prompts, calls }) => prompts.length + calls)),
    beyond: rows.filter((row) => row.prompts.length > wantedOf(row)).length,
    withoutEvidence: rows.reduce((sum, row) => sum + row.withoutEvidence, 0),
    longest: longest?.prompts ?? [],
  };
}

const summaryOf = (rows: readonly HandsOnRow[]): { [group: string]: Group } =>
  Object.fromEntries(
    [...Map.groupBy(rows, groupOf)].sort().map(([group, of]) => [group, groupSummary(of)] as const),
  );

function handsOnSection({ profiles, command, fromSeed, jobs }: HandsOnSummary): string {
  const groups = PROFILE_NAMES.flatMap((name) =>
    Object.entries(profiles[name]).map(([group, of]) => [`${name}: ${group}`, of] as const),
  );
  const rows = groups.map(([group, of]) => [
    group,
    String(of.jobs),
    String(of.p50),
    String(of.most),
    `≤ ${of.wanted}`,
    String(of.beyond),
    String(of.withoutEvidence),
    String(of.mostHands),
  ]);
  const longest = Object.entries(profiles.good).map(
    ([group, of]) => `- ${group}: ${of.longest.map((id) => `\`${id}\``).join(', ')}.`,
  );
  const head = [
    'prompts of a job',
    'jobs',
    'p50',
    'most',
    'wanted',
    'jobs beyond',
    'without evidence',
    'hands, most',
  ];
  return `## Hands-on time

\`${command}\`: the jobs of the grams, seeds ${fromSeed} to ${fromSeed + jobs - 1}; every second vehicle whose engine can run is warmed by it
first. Counted is every prompt for which the job waits, again when it is asked again. The last column counts the hands
as well that are called without a question of their own: the hoses are taken off after the job has ended, and the engine
that warms a vehicle is stopped within the question that had it started.

${table(head, rows)}

The job of each kind that asked most (good):

${longest.join('\n')}

A job whose engine tests the charge and sucks the hoses dry asks twice more than one without; warming asks once more, and
a search for leaks once.
`;
}

export const handsOn: Topic = {
  name: 'hands-on',
  measure: (asked) =>
    onBothProfiles('hands-on', asked, async (profile) =>
      summaryOf(await spread<HandsOnRow>({ module, about: { profile }, label: profile }, asked)),
    ),
  section: (summary) => handsOnSection(summary as HandsOnSummary),
  plots: () => [],
};
