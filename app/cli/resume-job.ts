// What `coldbench resume` does once its arguments are read: shows the job that was left open, and obeys a choice.
import { NEXT_TEXTS } from '../../controller/after-cut.ts';
import { STANDARD_ATMOSPHERE_PA } from '../../sim/fluids/air.ts';
import type { Calendar } from '../records/calendar.ts';
import { openStore } from '../records/keep.ts';
import { type LeftOpen, readLeftOpen } from '../records/left-open.ts';
import { CHOICES, type Choice, stageOf } from '../records/recall.ts';
import {
  benchOf,
  closeLeft,
  goOn,
  journalFor,
  type Looked,
  lookAt,
  lookedAt,
  type ResumeParts,
} from '../records/resume.ts';
import type { Store } from '../records/store.ts';
import { type JobFacts, jobDocument } from '../run/document.ts';
import { grams } from '../run/document-parts.ts';
import { fluidData } from '../run/prepare.ts';
import { printedJob } from '../run/printed.ts';
import { entry } from '../run/printed-entry.ts';
import { clock, type UnitSystem, type Units, unitsFor } from '../units.ts';
import { InputError, RunBroken, type Terminal } from './command.ts';
import { EXIT } from './exit.ts';
import { LiveView } from './live.ts';
import { suggestion } from './nearest.ts';

export type ResumeArguments = {
  readonly choose: string | undefined;
  readonly file: string | undefined;
  readonly job: number | undefined;
  readonly json: boolean;
  readonly units: UnitSystem;
};

const wallClockMs = (): number => performance.now();

/** @throws InputError for what is no choice at all. */
function choiceFrom(text: string | undefined): Choice | undefined {
  if (text === undefined) return undefined;
  const choice = CHOICES.find((name) => name === text);
  if (choice === undefined) throw new InputError(`--choose ${text}: ${suggestion(text, CHOICES)}`);
  return choice;
}

function foundText({ foundKg, afterCut }: Looked, units: Units): string {
  const { tankGainKg, uncertaintyKg = 0, vehicle } = afterCut;
  const since =
    foundKg === undefined
      ? 'the scale cannot be compared with its last words'
      : `since its last words the scale has ${foundKg < 0 ? 'lost' : 'gained'} ${units.charge(Math.abs(foundKg))}`;
  const whole =
    tankGainKg === undefined
      ? ''
      : `; since it was first weighed for this the tank has ${tankGainKg < 0 ? 'given' : 'gained'} ${units.charge(Math.abs(tankGainKg))} ± ${units.charge(uncertaintyKg)}`;
  const held =
    vehicle === undefined
      ? ''
      : `; in the vehicle are between ${units.charge(vehicle.leastKg)} and ${units.charge(vehicle.mostKg)}`;
  return since + whole + held;
}

function shown(left: LeftOpen, looked: Looked, units: Units): string {
  const { record, lastWords, lastIntent, state } = left;
  const { line } = record;
  return [
    ...entry('Left open', `job ${line.id}, '${line.name}', on ${line.machine}, begun ${line.openedAt}`),
    ...entry('Under way', `${stageOf(state) ?? 'nothing'}, ${line.service}, ${line.refrigerant}`),
    ...entry(
      'Last words',
      `${lastWords.kind} at ${clock(lastWords.atMs)} of the job, written ${lastWords.at}`,
    ),
    ...(lastIntent.length === 0 ? [] : entry('Last opened', lastIntent.join(', '))),
    ...entry('Found', foundText(looked, units)),
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
  ...(looked.foundKg === undefined ? {} : { foundG: grams(looked.foundKg) }),
  afterCut: looked.afterCut,
  choices: looked.offered,
});

type Work = {
  readonly store: Store;
  readonly left: LeftOpen;
  readonly choice: Choice | undefined;
  readonly given: ResumeArguments;
  readonly terminal: Terminal;
  readonly units: Units;
  readonly calendar: Calendar;
};

function report(work: Work, facts: JobFacts): number {
  const { left, given, terminal, units } = work;
  const { record } = left;
  if (given.json) terminal.out(`${JSON.stringify(jobDocument(facts), undefined, 2)}\n`);
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
function obeyed(work: Work, looked: Looked): Choice | undefined {
  const { left, given, terminal, units, choice } = work;
  if (!given.json) terminal.out(shown(left, looked, units));
  else if (choice === undefined)
    terminal.out(`${JSON.stringify(lookedDocument(left, looked), undefined, 2)}\n`);
  if (choice === undefined) return undefined;
  if (!looked.offered.some((offer) => offer.choice === choice))
    throw new RunBroken(
      `${choice} is not offered for this job; offered: ${looked.offered.map((offer) => offer.choice).join(', ')}`,
    );
  return choice;
}

async function resumeOnBench(work: Work): Promise<number> {
  const { store, left, given, terminal, units, calendar } = work;
  const session = benchOf(left, fluidData, wallClockMs);
  const looked = lookAt(left, session);
  const choice = obeyed(work, looked);
  if (choice === undefined) return EXIT.completed;
  let problem: Error | undefined;
  const parts: ResumeParts = {
    store,
    calendar,
    left,
    looked,
    failed: (found, loop) => {
      problem = found;
      loop?.die();
    },
  };
  if (choice === 'close')
    return report(
      work,
      closeLeft(
        parts,
        journalFor(parts, left.state, undefined, () => undefined),
      ),
    );
  const view = given.json ? undefined : new LiveView(terminal, units, wallClockMs);
  const pacing = {
    wallClockMs,
    breathe: async () => {
      view?.redraw();
    },
  };
  const { facts, closed } = await goOn(
    parts,
    session,
    view === undefined ? [] : [(seen) => view.look(seen)],
    pacing,
  );
  view?.end();
  if (problem !== undefined || !closed)
    throw new RunBroken(`job ${left.record.line.id} is left open: ${problem?.message ?? 'it has not ended'}`);
  return report(work, facts);
}

/** On a rig nothing is commanded from here: what the scale has found, the next job's first weighing books. */
function closeOnRig(work: Work): number {
  const { store, left, calendar } = work;
  const seen = lookedAt(left, undefined);
  const looked = { ...seen, offered: seen.offered.filter(({ choice }) => choice === 'close') };
  if (obeyed(work, looked) === undefined) return EXIT.completed;
  const failed = (problem: Error): never => {
    throw problem;
  };
  const parts: ResumeParts = { store, calendar, left, looked, failed };
  return report(
    work,
    closeLeft(
      parts,
      journalFor(parts, left.state, undefined, () => undefined),
    ),
  );
}

export async function resumeJob(given: ResumeArguments, terminal: Terminal): Promise<number> {
  const choice = choiceFrom(given.choose);
  const store = openStore(given.file);
  try {
    const left = readLeftOpen(store, given.job);
    if (left === undefined) {
      if (given.job !== undefined) throw new InputError(`job ${given.job} is not open; nothing to resume`);
      terminal.out(given.json ? '{}\n' : 'No job is open; there is nothing to resume.\n');
      return EXIT.completed;
    }
    const ambientPa = left.record.equipment.barometerPa ?? STANDARD_ATMOSPHERE_PA;
    const units = unitsFor(given.units, ambientPa);
    const work = { store, left, choice, given, terminal, units, calendar: Date.now };
    return left.record.origin.kind === 'rig' ? closeOnRig(work) : await resumeOnBench(work);
  } finally {
    store.close();
  }
}
