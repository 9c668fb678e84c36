// What `coldbench resume` does once its arguments are read: shows the job that was left open, and obeys a choice.
import { STANDARD_ATMOSPHERE_PA } from '../../sim/fluids/air.ts';
import { openKept } from '../records/keep.ts';
import { leftOff, readLeftOpen } from '../records/left-open.ts';
import { CHOICES, type Choice } from '../records/recall.ts';
import { benchOf, closeLeft, goOn, lookAt, type ResumeParts } from '../records/resume.ts';
import { fluidData } from '../run/prepare.ts';
import { type UnitSystem, unitsFor } from '../units.ts';
import { BenchWatch, wallClockMs } from './bench-watch.ts';
import { InputError, RunBroken, type Terminal } from './command.ts';
import { EXIT } from './exit.ts';
import { suggestion } from './nearest.ts';
import { type AtRig, lookFromAfar, resumeOnRig } from './resume-rig.ts';
import { obeyed, report, type Work } from './resume-shown.ts';

export type ResumeArguments = {
  readonly choose: string | undefined;
  readonly file: string | undefined;
  readonly job: number | undefined;
  /** Of a job on a rig. */
  readonly at: AtRig | undefined;
  /** What is to be written or sent while it goes on. */
  readonly watch: ReadonlyMap<string, string>;
  readonly json: boolean;
  readonly units: UnitSystem;
};

/** @throws InputError for what is no choice at all. */
function choiceFrom(text: string | undefined): Choice | undefined {
  if (text === undefined) return undefined;
  const choice = CHOICES.find((name) => name === text);
  if (choice === undefined) throw new InputError(`--choose ${text}: ${suggestion(text, CHOICES)}`);
  return choice;
}

async function resumeOnBench(work: Work): Promise<number> {
  const { store, left, watch, json, terminal, units, calendar } = work;
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
  if (choice === 'close') return report(work, closeLeft(parts));
  const bench = new BenchWatch(terminal, units, json);
  try {
    await bench.open(watch, undefined);
    const { observers, pacing } = bench;
    const called = { name: left.record.line.name, rig: 'simulated bench', left: leftOff(left) };
    const { facts, closed } = await goOn(parts, session, {
      observers,
      pacing,
      started: (loop) => bench.begin(loop, called),
    });
    bench.view?.end();
    if (problem !== undefined || !closed)
      throw new RunBroken(
        `job ${left.record.line.id} is left open: ${problem?.message ?? 'it has not ended'}`,
      );
    return report(work, facts);
  } finally {
    await bench.close();
  }
}

export async function resumeJob(given: ResumeArguments, terminal: Terminal): Promise<number> {
  const choice = choiceFrom(given.choose);
  const store = openKept(given.file);
  try {
    const left = readLeftOpen(store, given.job);
    if (left === undefined) {
      if (given.job !== undefined) throw new InputError(`job ${given.job} is not open; nothing to resume`);
      terminal.out(given.json ? '{}\n' : 'No job is open; there is nothing to resume.\n');
      return EXIT.completed;
    }
    const ambientPa = left.record.equipment.barometerPa ?? STANDARD_ATMOSPHERE_PA;
    const units = unitsFor(given.units, ambientPa);
    const onRig = left.record.origin.kind === 'rig';
    const isAfar = onRig && given.at === undefined;
    const { watch, json } = given;
    const work = { store, left, choice, isAfar, watch, json, terminal, units, calendar: Date.now };
    if (onRig) return given.at === undefined ? lookFromAfar(work) : await resumeOnRig(work, given.at);
    if (given.at !== undefined)
      throw new InputError(`job ${left.record.line.id} ran on the simulated bench; leave --port out`);
    return await resumeOnBench(work);
  } finally {
    store.close();
  }
}
