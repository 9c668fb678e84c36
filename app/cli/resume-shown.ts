// What `coldbench resume` shows of a job that was left open, which of its choices was made, and what came of it.
import { NEXT_TEXTS } from '../../controller/after-cut.ts';
import type { Calendar } from '../records/calendar.ts';
import type { LeftOpen } from '../records/left-open.ts';
import { type Choice, stageOf } from '../records/recall.ts';
import type { Looked } from '../records/resume.ts';
import type { Store } from '../records/store.ts';
import { type JobFacts, jobDocument } from '../run/document.ts';
import { grams } from '../run/document-parts.ts';
import { printedJob } from '../run/printed.ts';
import { entry } from '../run/printed-entry.ts';
import { clock, type Units } from '../units.ts';
import { RunBroken, type Terminal } from './command.ts';
import { EXIT } from './exit.ts';

function sinceText({ found, weighed }: Looked, { left, isAfar, units }: Work): string {
  const { origin } = left.record;
  if (isAfar && origin.kind === 'rig')
    return `the tank is not weighed from here; at its rig, --port ${origin.port} --file '${origin.file}' weighs it and can go on`;
  if (weighed === undefined) return 'the scale does not come to rest: free the platform and look again';
  if (found === undefined) return 'the scale was not to be trusted at its last words, and cannot be compared';
  const changed = `since its last words the scale has ${found.massKg < 0 ? 'lost' : 'gained'} ${units.charge(Math.abs(found.massKg))}`;
  return found.isExplained
    ? changed
    : `${changed}, which nothing that was open can have brought: free the platform, see that it is the same tank, and look again`;
}

function foundText(looked: Looked, work: Work): string {
  const { units } = work;
  const { tankGainKg, uncertaintyKg = 0, vehicle } = looked.afterCut;
  const whole =
    tankGainKg === undefined
      ? ''
      : `; since it was first weighed for this the tank has ${tankGainKg < 0 ? 'given' : 'gained'} ${units.charge(Math.abs(tankGainKg))} ± ${units.charge(uncertaintyKg)}`;
  const held =
    vehicle === undefined
      ? ''
      : `; in the vehicle are between ${units.charge(vehicle.leastKg)} and ${units.charge(vehicle.mostKg)}`;
  return sinceText(looked, work) + whole + held;
}

function shown(work: Work, looked: Looked): string {
  const { record, lastWords, lastIntent, state } = work.left;
  const { line } = record;
  return [
    ...entry('Left open', `job ${line.id}, '${line.name}', on ${line.machine}, begun ${line.openedAt}`),
    ...entry('Under way', `${stageOf(state) ?? 'nothing'}, ${line.service}, ${line.refrigerant}`),
    ...entry(
      'Last words',
      `${lastWords.kind} at ${clock(lastWords.atMs)} of the job, written ${lastWords.at}`,
    ),
    ...(lastIntent.length === 0 ? [] : entry('Last opened', lastIntent.join(', '))),
    ...entry('Found', foundText(looked, work)),
    ...entry('Must come next', NEXT_TEXTS[looked.afterCut.next]),
    ...(looked.afterCut.engineMayRun
      ? entry('', 'The engine may be running: stop it, and see that it stands, first.')
      : []),
    ...looked.offered.flatMap(({ choice, text }) => entry(`--choose ${choice}`, text)),
    '',
  ].join('\n');
}

const lookedDocument = (left: LeftOpen, looked: Looked) => ({
  job: left.record.line,
  stage: stageOf(left.state),
  lastWords: left.lastWords,
  lastOpened: left.lastIntent,
  ...(looked.found === undefined
    ? {}
    : { foundG: grams(looked.found.massKg), foundIsExplained: looked.found.isExplained }),
  afterCut: looked.afterCut,
  choices: looked.offered,
});

export type Work = {
  readonly store: Store;
  readonly left: LeftOpen;
  readonly choice: Choice | undefined;
  /** A job on a rig, looked at without it. */
  readonly isAfar: boolean;
  /** What is to be written or sent while it goes on. */
  readonly watch: ReadonlyMap<string, string>;
  readonly json: boolean;
  readonly terminal: Terminal;
  readonly units: Units;
  readonly calendar: Calendar;
};

export function report(work: Work, facts: JobFacts): number {
  const { left, json, terminal, units } = work;
  const { record } = left;
  if (json) terminal.out(`${JSON.stringify(jobDocument(facts), undefined, 2)}\n`);
  else
    terminal.out(
      printedJob(
        { name: record.line.name, ticket: record.ticket, machine: record.line.machine },
        facts,
        facts.result?.stages.at(-1)?.endedAtMs ?? left.state.memory.lastScanMs,
        record.equipment,
        units,
      ),
    );
  if (work.choice === 'close') return EXIT.completed;
  return facts.outcome === 'completed' ? EXIT.completed : EXIT.stopped;
}

/** Shows what was found; answers the choice where one was made that is offered. */
export function obeyed(work: Work, looked: Looked): Choice | undefined {
  const { left, json, terminal, choice } = work;
  if (!json) terminal.out(shown(work, looked));
  else if (choice === undefined)
    terminal.out(`${JSON.stringify(lookedDocument(left, looked), undefined, 2)}\n`);
  if (choice === undefined) return undefined;
  if (!looked.offered.some((offer) => offer.choice === choice))
    throw new RunBroken(
      `${choice} is not offered for this job; offered: ${looked.offered.map((offer) => offer.choice).join(', ')}`,
    );
  return choice;
}
