// What a replay has found, as text and as a document.
import { MEASURED, type Reading, SWITCHES } from '../../controller/signals.ts';
import { entry } from '../run/printed-entry.ts';
import { clock } from '../units.ts';
import type { PlanToday } from './plan-today.ts';
import { damageText, type Recording } from './read-recording.ts';
import { onText } from './recorder.ts';
import type { RecordedScan } from './recording.ts';
import type { Difference, Pair, Replayed } from './replay.ts';

const NONE = '–';
const joined = (parts: readonly string[]): string => (parts.length === 0 ? NONE : parts.join(', '));

const when = (ms: number): string => `${clock(ms)} (${ms / 1000} s)`;

const onWords = ({ permitted }: RecordedScan): string =>
  joined(
    Object.entries(onText(permitted)).map(([output, ms]) =>
      ms === true ? output : `${output} for ${ms} ms`,
    ),
  );

/** What is set side by side, recorded and now. */
const SIDES: readonly (readonly [label: string, of: (scan: RecordedScan) => string])[] = [
  ['stage', ({ stage }) => stage],
  ['waiting for', ({ waitingFor }) => waitingFor],
  ['on', onWords],
  ['held back', ({ held }) => joined(Object.entries(held).map(([output, row]) => `${output} by ${row}`))],
  ['trip', ({ trip }) => trip ?? NONE],
  ['notices', ({ notices }) => joined(notices.map(({ code }) => code))],
  [
    'ledger',
    ({ ledgerEntries }) =>
      joined(ledgerEntries.map(({ movement, massKg }) => `${movement} ${(massKg * 1000).toFixed(2)} g`)),
  ],
  [
    'by hand',
    ({ handEntries }) =>
      joined(handEntries.map(({ deed, output, result }) => `${deed} ${output ?? ''} ${result}`)),
  ],
];

function side(label: string, recorded: string, now: string): string[] {
  if (recorded === now) return recorded === NONE ? [] : entry(`  ${label}`, recorded);
  return [...entry(`  ${label}`, `recorded: ${recorded}`), ...entry('', `now:      ${now}`)];
}

function readingWords(name: string, reading: Reading<number | boolean>, nowMs: number): string {
  if (!reading.ok) return `${name} ${reading.reason}`;
  const age = reading.atMs === nowMs ? '' : ` (${nowMs - reading.atMs} ms old)`;
  return `${name} ${reading.value}${age}`;
}

const readingsOf = ({ readings, nowMs }: RecordedScan): string =>
  [...MEASURED, ...SWITCHES].map((name) => readingWords(name, readings[name], nowMs)).join(', ');

function around({ recorded, now }: Pair): string[] {
  const line = (word: string, { permitted }: RecordedScan): string =>
    `${word} ${joined(Object.keys(onText(permitted)))}`;
  const label = `    ${recorded.nowMs / 1000} s`;
  const same = onWords(recorded) === onWords(now) && recorded.stage === now.stage;
  if (same) return entry(label, line(`${recorded.stage}:`, recorded));
  return [
    ...entry(label, line(`recorded ${recorded.stage}:`, recorded)),
    ...entry('', line(`now ${now.stage}:`, now)),
  ];
}

function pairLines({ recorded, now }: Pair): string[] {
  return [
    ...SIDES.flatMap(([label, of]) => side(label, of(recorded), of(now))),
    ...(recorded.events.length === 0
      ? []
      : entry('  operator', recorded.events.map((event) => JSON.stringify(event)).join(', '))),
    ...entry('  readings', readingsOf(recorded)),
  ];
}

function differenceLines(difference: Difference): string[] {
  const { scan, recorded } = difference;
  return [
    ...entry('Difference', `first at scan ${scan}, ${when(recorded.nowMs)}, in ${difference.in.join(', ')}`),
    ...pairLines(difference),
    ...(difference.before.length === 0 ? [] : ['  before:']),
    ...difference.before.flatMap(around),
    ...(difference.after.length === 0 ? [] : ['  after:']),
    ...difference.after.flatMap(around),
    ...entry(
      '',
      'From here on the recording no longer answers the logic of today: its readings follow the commands that were given then. Nothing more is compared.',
    ),
  ];
}

const MOST_NAMED = 5;

function planLines({ otherwise }: PlanToday, replanned: boolean): string[] {
  if (otherwise.length === 0) return [];
  const more = otherwise.length > MOST_NAMED ? `; and ${otherwise.length - MOST_NAMED} more` : '';
  const used = replanned ? 'Replayed with the plan of today.' : 'Replayed with the plan as it was.';
  return entry(
    'Plan',
    `would be another one today: ${otherwise.slice(0, MOST_NAMED).join('; ')}${more}. ${used}`,
  );
}

/** What was replayed. */
export type Replay = {
  readonly path: string;
  readonly recording: Recording;
  readonly today: PlanToday;
  /** With today's plan and not the recorded one. */
  readonly replanned: boolean;
  readonly replayed: Replayed;
};

/** The page that a person reads. */
export function printedReplay({ path, recording, today, replanned, replayed }: Replay): string {
  const { opening, version } = recording;
  const { scans, words, lastedMs, difference, estimates, damage, cut } = replayed;
  const same = 'every command the same, and every stage, trip, notice and ledger entry';
  return [
    ...entry('Replay', `${path}: ${opening.name}, ${opening.rig}, written by coldbench ${version}`),
    ...entry(
      'Scans',
      `${scans} over ${clock(lastedMs)}, with ${words} words of commands${difference === undefined ? `: ${same}` : ''}`,
    ),
    ...planLines(today, replanned),
    ...(cut === undefined ? [] : entry('End', `the recording is not whole: ${cut}`)),
    ...(damage?.at === undefined ? [] : [...entry('Damaged', damageText(damage)), ...pairLines(damage.at)]),
    ...(difference === undefined ? [] : differenceLines(difference)),
    ...(estimates === undefined
      ? []
      : entry(
          'Estimates',
          `first not the same at scan ${estimates.scan}, ${when(estimates.recorded.nowMs)}: ${estimates.name} recorded ${estimates.recorded.figures[estimates.name]}, now ${estimates.now.figures[estimates.name]}`,
        )),
    '',
  ].join('\n');
}

const scanDocument = (scan: RecordedScan) => ({
  stage: scan.stage,
  waitingFor: scan.waitingFor,
  on: onText(scan.permitted),
  held: scan.held,
  trip: scan.trip,
  notices: scan.notices,
  ledger: scan.ledgerEntries,
  byHand: scan.handEntries,
  estimates: scan.figures,
});

const pairDocument = ({ scan, recorded, now }: Pair) => ({
  scan,
  atMs: recorded.nowMs,
  events: recorded.events,
  readings: recorded.readings,
  recorded: scanDocument(recorded),
  now: scanDocument(now),
});

/** The same for programs. */
export function replayDocument({ path, recording, today, replanned, replayed }: Replay) {
  const { difference, estimates, damage, cut, ...counts } = replayed;
  return {
    file: path,
    name: recording.opening.name,
    rig: recording.opening.rig,
    version: recording.version,
    ...counts,
    same: difference === undefined,
    planToday: today.otherwise,
    replanned,
    ...(cut === undefined ? {} : { cut }),
    ...(damage === undefined
      ? {}
      : {
          damage: {
            ...damage.first,
            lines: damage.lines,
            ...(damage.at === undefined ? {} : { context: pairDocument(damage.at) }),
          },
        }),
    ...(difference === undefined
      ? {}
      : {
          difference: {
            in: difference.in,
            ...pairDocument(difference),
            before: difference.before.map(pairDocument),
            after: difference.after.map(pairDocument),
          },
        }),
    ...(estimates === undefined ? {} : { estimates: { name: estimates.name, ...pairDocument(estimates) } }),
  };
}
