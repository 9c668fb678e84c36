// The jobs that random runs start from: saved in every stage and step, at work and at rest, on both profiles.
import type { Session } from '../../app/run/prepare.ts';
import { OUTPUTS } from '../../controller/signals.ts';
import type { ProfileName } from '../../sim/profiles.ts';
import { type Moment, SteppedJob, sessionOf } from './job.ts';

const VEHICLE = { chargeG: 350, volumeL: 2, oilG: 100, accumulatorUaWPerK: 8 };

/** Each meets what the others do not: a draw-back, a leak check, oil and dye, air in the tank, a repair, a nearly full tank. */
const JOBS = {
  'drawn back': (equipment: ProfileName) => ({
    equipment,
    ticket: { refrigerant: 'R-134a', nominalChargeG: 450 },
    vehicle: VEHICLE,
    tank: { contentKg: 8 },
  }),
  'sucked dry': (equipment: ProfileName) => ({
    equipment,
    weather: { ambientC: 30 },
    ticket: { refrigerant: 'R-134a', nominalChargeG: 450, engine: 'can-run', warmUp: true },
    vehicle: { ...VEHICLE, expansionDevice: 'expansion-valve' },
    tank: { contentKg: 6 },
  }),
  'A2L drawn back': (equipment: ProfileName) => ({
    equipment,
    weather: { ambientC: 25 },
    ticket: { refrigerant: 'R-1234yf', nominalChargeG: 450, oil: { addMl: 10 }, dyeMl: 6 },
    vehicle: VEHICLE,
    tank: { contentKg: 8 },
  }),
  'A2L sucked dry': (equipment: ProfileName) => ({
    equipment,
    ticket: { refrigerant: 'R-1234yf', nominalChargeG: 400, engine: 'can-run' },
    vehicle: { ...VEHICLE, leakGPerYear: 2 },
    tank: { contentKg: 5 },
  }),
  'purged and mended': (equipment: ProfileName) => ({
    equipment,
    ticket: { refrigerant: 'R-134a', nominalChargeG: 500, repair: true },
    vehicle: { ...VEHICLE, chargeG: 200 },
    tank: { contentKg: 10, airG: 20, restedH: 12 },
    repair: { hours: 0.2 },
  }),
  'nearly full': (equipment: ProfileName) => ({
    equipment,
    weather: { ambientC: 15 },
    ticket: { refrigerant: 'R-134a', nominalChargeG: 900, service: 'recover' },
    vehicle: { ...VEHICLE, chargeG: 900 },
    tank: { contentKg: 15.2 },
  }),
  'filled from a cylinder': (equipment: ProfileName) => ({
    equipment,
    ticket: { refrigerant: 'R-134a', service: 'fill-tank' },
    cylinder: { contentKg: 10 },
    tank: { contentKg: 16.7 },
  }),
} as const;
export type JobName = keyof typeof JOBS;
export const JOB_NAMES = Object.keys(JOBS) as readonly JobName[];

/** So long after something has begun. */
const INTO_IT_SCANS = 5;
const EVERY_SCANS = 1_800;
const LONGEST_SCANS = 200_000;

export type Starts = { readonly session: Session; readonly moments: readonly Moment[] };

/** Saved whenever the step or the outputs at work are new, and every three minutes. */
function savedOf(file: unknown): readonly Moment[] {
  const job = SteppedJob.open(sessionOf(file));
  const moments: Moment[] = [job.save()];
  const known = new Set<string>();
  let last = '';
  let sinceScans = 0;
  for (let scans = 1; !job.loop.ended; scans++) {
    if (scans > LONGEST_SCANS) throw new Error('the job does not end');
    const { commands } = job.step();
    const { stage } = job.loop.state;
    const key = `${stage?.stage} ${stage?.step} ${OUTPUTS.filter((output) => commands[output].on)}`;
    sinceScans = key === last ? sinceScans + 1 : 0;
    last = key;
    const isNew = sinceScans === INTO_IT_SCANS && !known.has(key);
    if (!isNew && scans % EVERY_SCANS !== 0) continue;
    known.add(key);
    moments.push(job.save());
  }
  return moments;
}

const known = new Map<string, Starts>();

/** Built once a process; the session's bench is overwritten by whoever goes on from a moment. */
export function startsOf(profile: ProfileName, name: JobName): Starts {
  const key = `${profile} ${name}`;
  const starts = known.get(key);
  if (starts !== undefined) return starts;
  const file = { seed: 4, ...JOBS[name](profile) };
  const made = { session: sessionOf(file), moments: savedOf(file) };
  known.set(key, made);
  return made;
}
