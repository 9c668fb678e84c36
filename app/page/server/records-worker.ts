// The records, read and completed on a thread of their own: whoever looks something up never holds a scan up.
import { STANDARD_ATMOSPHERE_PA } from '../../../sim/fluids/air.ts';
import { InputError } from '../../cli/command.ts';
import { isoOf, latestMs } from '../../records/calendar.ts';
import { listJobs, readJob } from '../../records/jobs.ts';
import { entriesOfJob } from '../../records/ledger.ts';
import { reportPage, traceOf } from '../../records/report.ts';
import { Store } from '../../records/store.ts';
import { enterUpkeep, scaleVerdict, upkeepOf } from '../../records/upkeep.ts';
import { unitsFor } from '../../units.ts';
import type { MachineUpkeep, RecordsShown } from '../shown-records.ts';
import type { RecordsAnswer, RecordsQuestion, RecordsTask, UpkeepDone } from './records-desk.ts';

const MOST_JOBS = 100;
/** Open for as long as the thread is there. */
let store: Store | undefined;

const machinesIn = (store: Store): readonly MachineUpkeep[] =>
  store.all('SELECT name FROM machines ORDER BY name').map(({ name }) => {
    const machine = String(name);
    return { machine, upkeep: upkeepOf(store, machine, latestMs(store, Date.now())) };
  });

function lookUp(store: Store, words: string): RecordsShown {
  const jobs = listJobs(store, { words: words.split(/\s+/).filter((word) => word !== ''), most: MOST_JOBS });
  return { type: 'records', words, jobs, machines: machinesIn(store) };
}

function report(store: Store, job: number, system: 'si' | 'us'): string | undefined {
  const record = readJob(store, job);
  if (record === undefined) return undefined;
  const units = unitsFor(system, STANDARD_ATMOSPHERE_PA);
  return reportPage(record, entriesOfJob(store, job), traceOf(store, job), units);
}

function done(store: Store, upkeep: UpkeepDone): string {
  const { machine, item, failed, weightKg, readKg, stepG, note } = upkeep;
  if (!machinesIn(store).some((known) => known.machine === machine))
    throw new InputError('there is no such machine in the records');
  const entry = { machine, at: isoOf(Date.now()), item, note };
  if (item !== 'scale-weights') {
    const verdict = failed ? 'failed' : 'done';
    enterUpkeep(store, { ...entry, verdict, figures: {} });
    return verdict;
  }
  if (weightKg === undefined || readKg === undefined || stepG === undefined)
    throw new InputError('give the weight, what the scale showed of it, and the step');
  const verdict = scaleVerdict(weightKg, readKg, stepG);
  enterUpkeep(store, { ...entry, verdict, figures: { weightKg, readKg, stepG } });
  return verdict;
}

function answerTo(store: Store, question: RecordsQuestion): unknown {
  switch (question.kind) {
    case 'look-up':
      return lookUp(store, question.words);
    case 'report':
      return report(store, question.job, question.units);
    case 'done':
      return done(store, question.upkeep);
  }
}

/** Answers one question; what is wrong with it, or with the file, is an answer too. */
export default function answered({ file, question }: RecordsTask): RecordsAnswer {
  try {
    store = store?.path === file ? store : new Store(file);
    return { ok: true, value: answerTo(store, question) };
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return { ok: false, because: error.message };
  }
}
